"""The sense: a sentence behind its question as a direction, and a direction for each answer; alike is what means it."""

import gzip
from collections.abc import Mapping, Sequence
from pathlib import Path

import numpy as np
import torch
from numpy.typing import NDArray
from tokenizers import Tokenizer
from torch import Tensor, nn
from torch.nn.functional import gelu, normalize, scaled_dot_product_attention, softmax

LONGEST = 96
WIDE, HEADS = 384, 12
_OURS = {
    "embeddings.word_embeddings": "word", "embeddings.position_embeddings": "place", "embeddings.token_type_embeddings": "part",
    "embeddings.LayerNorm": "first", "encoder.layer": "layers", "attention.self.": "", "attention.output.dense": "joined",
    "attention.output.LayerNorm": "after", "intermediate.dense": "wider", "output.dense": "back", "output.LayerNorm": "last",
}  # fmt: skip


class Layer(nn.Module):
    """One layer of BERT (Devlin et al., 2018)."""

    def __init__(self) -> None:
        super().__init__()
        self.query, self.key, self.value, self.joined = (nn.Linear(WIDE, WIDE) for _ in range(4))
        self.wider, self.back = nn.Linear(WIDE, 4 * WIDE), nn.Linear(4 * WIDE, WIDE)
        self.after, self.last = nn.LayerNorm(WIDE, eps=1e-12), nn.LayerNorm(WIDE, eps=1e-12)
        self.lost = nn.Dropout(0.1)

    def forward(self, found: Tensor, barred: Tensor) -> Tensor:
        n, t, _ = found.shape
        query, key, value = (one(found).view(n, t, HEADS, -1).transpose(1, 2) for one in (self.query, self.key, self.value))
        if self.training:
            seen = scaled_dot_product_attention(query, key, value, attn_mask=barred, dropout_p=0.1)
        else:  # as it is written out for the product
            seen = softmax(query @ key.transpose(2, 3) / (WIDE // HEADS) ** 0.5 + barred, dim=-1) @ value
        found = self.after(found + self.lost(self.joined(seen.transpose(1, 2).reshape(n, t, WIDE))))
        return self.last(found + self.lost(self.back(gelu(self.wider(found)))))


class Sense(nn.Module):
    """BERT's layers, the mean of what they say of the second part, and a matrix of its own behind them."""

    def __init__(self, layers: int, words: int) -> None:
        super().__init__()
        self.word, self.place, self.part = nn.Embedding(words, WIDE), nn.Embedding(512, WIDE), nn.Embedding(2, WIDE)
        self.first, self.lost = nn.LayerNorm(WIDE, eps=1e-12), nn.Dropout(0.1)
        self.layers = nn.ModuleList(Layer() for _ in range(layers))
        self.turn = nn.Linear(WIDE, WIDE)
        nn.init.eye_(self.turn.weight)
        nn.init.zeros_(self.turn.bias)

    def forward(self, pieces: Tensor, there: Tensor, part: Tensor) -> Tensor:
        """(n, t) whole numbers each: pieces of words, 1 where one is, 1 in the second part. (n, 384), each of length 1."""
        places = torch.arange(pieces.shape[1], device=pieces.device)
        found = self.lost(self.first(self.word(pieces) + self.place(places) + self.part(part)))
        barred = (1.0 - there[:, None, None, :].to(found.dtype)) * -10000.0
        for layer in self.layers:
            found = layer(found, barred)
        told = part.unsqueeze(-1).to(found.dtype)
        return normalize(self.turn((found * told).sum(1) / told.sum(1).clamp(min=1)), dim=-1)


class Answers(nn.Module):
    """A direction for each answer: one for its words, the same at every step, and what its step makes of it."""

    def __init__(self, words: Sequence[int], directions: Tensor) -> None:
        """
        Args:
            words: of each answer, which row of `directions` its words have.
            directions: (n, 384), to begin with.
        """
        super().__init__()
        self.words = list(words)
        self.shared = nn.Parameter(directions.clone())
        self.own = nn.Parameter(torch.zeros(len(words), WIDE))
        self.scale, self.usual = nn.Parameter(torch.tensor(14.0)), nn.Parameter(torch.tensor(-8.0))

    def directions(self) -> Tensor:
        """(answers, 384), each of length 1."""
        return normalize(self.shared[self.words] + self.own, dim=-1)

    def forward(self, sentences: Tensor) -> Tensor:
        """Log odds that each sentence means each answer."""
        return self.scale * sentences @ self.directions().T + self.usual


def begun(weights: Mapping[str, NDArray[np.float32]]) -> Sense:
    """With the published encoder's weights.

    Raises:
        KeyError: if they are not those of the layers of this network.
    """
    layers = 1 + max(int(name.split(".")[2]) for name in weights if name.startswith("encoder."))
    net = Sense(layers, len(weights["embeddings.word_embeddings.weight"]))
    ours = {}
    for name, value in weights.items():
        for theirs, own in _OURS.items():
            name = name.replace(theirs, own)
        ours[name] = torch.tensor(np.array(value))
    left = net.load_state_dict(ours, strict=False)
    if set(left.missing_keys) - {"turn.weight", "turn.bias"} or left.unexpected_keys:
        raise KeyError(f"not the layers of this network: {left}")
    return net


def reader(path: str) -> Tokenizer:
    """Cuts pairs into pieces of words."""
    cut = Tokenizer.from_buffer(gzip.decompress(Path(path).read_bytes()))
    cut.enable_truncation(LONGEST, strategy="only_second")
    cut.no_padding()
    return cut


def cut_up(cut: Tokenizer, pairs: Sequence[tuple[str, str]]) -> list[tuple[list[int], list[int]]]:
    """Of each pair its pieces, and 1 for those of the second part."""
    return [(one.ids, one.type_ids) for one in cut.encode_batch(list(pairs))]


def batch(rows: Sequence[tuple[list[int], list[int]]], device: str) -> tuple[Tensor, Tensor, Tensor]:
    """Pieces, 1 where one is, 1 in the second part: (n, t) each, t a multiple of eight."""
    t = -(-max(len(ids) for ids, _ in rows) // 8) * 8
    columns = [[ids for ids, _ in rows], [[1] * len(ids) for ids, _ in rows], [part for _, part in rows]]
    ids, there, part = (torch.tensor([row + [0] * (t - len(row)) for row in of], device=device) for of in columns)
    return ids, there, part
