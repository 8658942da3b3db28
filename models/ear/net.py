"""The ear's network in torch: a small speech encoder with two heads, one for letters and one for words."""

import numpy as np
import torch
import torch.nn.functional as F
from torch import nn
from torch.nn.attention import SDPBackend, sdpa_kernel

WIDTH, LAYERS, HEADS, HEAD, TURNED = 288, 6, 8, 36, 32
LETTERS = "_ abcdefghijklmnopqrstuvwxyz'"
"""What the first head tells apart; `_` is the blank of connectionist temporal classification."""


def turned(x: torch.Tensor, cos: torch.Tensor, sin: torch.Tensor) -> torch.Tensor:
    """Queries or keys with their place in time turned in."""
    moved, kept = x[..., :TURNED], x[..., TURNED:]
    a, b = moved[..., ::2], moved[..., 1::2]
    return torch.cat([torch.stack([a * cos - b * sin, b * cos + a * sin], -1).flatten(-2), kept], -1)


def plain(q: torch.Tensor, k: torch.Tensor, v: torch.Tensor) -> torch.Tensor:
    """Attention step by step, as it is exported."""
    return torch.softmax(q @ k.transpose(-1, -2) * (HEAD**-0.5), -1) @ v


def quick(q: torch.Tensor, k: torch.Tensor, v: torch.Tensor) -> torch.Tensor:
    """Attention without its table in memory; that of cuDNN is left out, it plans anew for each length."""
    padded = (F.pad(x, (0, 4)) for x in (q, k, v))
    with sdpa_kernel([SDPBackend.FLASH_ATTENTION, SDPBackend.EFFICIENT_ATTENTION, SDPBackend.MATH]):
        return F.scaled_dot_product_attention(*padded, scale=HEAD**-0.5)[..., :HEAD]


class Layer(nn.Module):
    """Attention over the whole answer, then each step by itself."""

    def __init__(self, drop: float) -> None:
        super().__init__()
        self.ln1, self.ln2 = nn.LayerNorm(WIDTH, bias=False), nn.LayerNorm(WIDTH, bias=False)
        self.q, self.k, self.v, self.o = (nn.Linear(WIDTH, WIDTH, bias=False) for _ in range(4))
        self.fc1, self.fc2 = nn.Linear(WIDTH, 4 * WIDTH), nn.Linear(4 * WIDTH, WIDTH)
        self.drop = nn.Dropout(drop)

    def forward(self, x: torch.Tensor, cos: torch.Tensor, sin: torch.Tensor) -> torch.Tensor:
        many, steps, _ = x.shape
        h = self.ln1(x)
        q, k, v = (f(h).view(many, steps, HEADS, HEAD).transpose(1, 2) for f in (self.q, self.k, self.v))
        q, k = turned(q, cos, sin), turned(k, cos, sin)
        a = (quick if self.training else plain)(q, k, v)
        x = x + self.drop(self.o(a.transpose(1, 2).reshape(many, steps, WIDTH)))
        return x + self.drop(self.fc2(self.drop(F.gelu(self.fc1(self.ln2(x))))))


class Encoder(nn.Module):
    """Sound at 16 kHz to a vector every 24 ms."""

    def __init__(self, drop: float = 0.0) -> None:
        super().__init__()
        self.conv1 = nn.Conv1d(1, WIDTH, 127, 64, bias=False)
        self.gn = nn.GroupNorm(1, WIDTH, 1e-5)
        self.conv2, self.conv3 = nn.Conv1d(WIDTH, 2 * WIDTH, 7, 3), nn.Conv1d(2 * WIDTH, WIDTH, 3, 2)
        self.layers = nn.ModuleList(Layer(drop) for _ in range(LAYERS))
        self.ln = nn.LayerNorm(WIDTH, bias=False)
        self.register_buffer("inv", 1.0 / 10000 ** (torch.arange(0, TURNED, 2).float() / TURNED), persistent=False)
        self.masked_steps = 0

    def forward(self, x: torch.Tensor) -> torch.Tensor:
        h = self._first(x) if self.training else self.gn(torch.tanh(self.conv1(x[:, None])))
        h = F.gelu(self.conv3(F.gelu(self.conv2(h)))).transpose(1, 2)
        if self.training and self.masked_steps:
            h = self._masked(h)
        angles = torch.arange(h.shape[1], device=h.device).float()[:, None] * self.inv[None]
        cos, sin = angles.cos().to(h.dtype), angles.sin().to(h.dtype)
        for layer in self.layers:
            h = layer(h, cos, sin)
        return self.ln(h)

    def _first(self, x: torch.Tensor) -> torch.Tensor:
        """The first convolution and its norm as one product: of one channel, they are slow on an accelerator as they stand."""
        h = torch.tanh(F.linear(x.unfold(-1, 127, 64), self.conv1.weight[:, 0])).float()
        h = F.layer_norm(h, h.shape[1:], eps=1e-5) * self.gn.weight + self.gn.bias
        return h.transpose(1, 2)

    def _masked(self, h: torch.Tensor) -> torch.Tensor:
        many, steps, _ = h.shape
        t = torch.arange(steps, device=h.device)[None]
        for _ in range(2):
            start = torch.randint(0, steps, (many, 1), device=h.device)
            count = torch.randint(0, self.masked_steps, (many, 1), device=h.device)
            h = h.masked_fill(((t >= start) & (t < start + count))[..., None], 0.0)
        return h


class Ear(nn.Module):
    """The encoder with its heads; log probabilities of letters and words at each step."""

    def __init__(self, words: int, drop: float = 0.0) -> None:
        super().__init__()
        self.enc = Encoder(drop)
        self.chars, self.words = nn.Linear(WIDTH, len(LETTERS)), nn.Linear(WIDTH, words)

    def forward(self, x: torch.Tensor) -> tuple[torch.Tensor, torch.Tensor]:
        h = self.enc(x)
        return self.chars(h).float().log_softmax(-1), self.words(h).float().log_softmax(-1)


def published(file: str) -> dict[str, torch.Tensor]:
    """The published encoder's weights, as `encoder.py` wrote them, under this network's names."""
    found = np.load(file)

    def real(name: str) -> torch.Tensor:
        return torch.tensor(np.asarray(found[name], np.float32))

    out = {
        "conv1.weight": real("raw:conv1.weight_add_tensor"), "conv2.weight": real("raw:conv2.weight_add_tensor"),
        "conv3.weight": real("raw:conv3.weight_add_tensor"),
        "conv2.bias": real("raw:conv2.bias"), "conv3.bias": real("raw:conv3.bias"),
        "gn.weight": real("raw:onnx::Mul_2080").view(-1), "gn.bias": real("raw:onnx::Add_2081").view(-1),
        "ln.weight": real("raw:layer_norm.weight"),
    }  # fmt: skip
    for i in range(LAYERS):
        for mine, theirs in zip("qkvo", ("q_proj", "k_proj", "v_proj", "o_proj"), strict=True):
            out[f"layers.{i}.{mine}.weight"] = real(f"layers.{i}.self_attn.{theirs}.weight")
        for name in ("fc1", "fc2"):
            out[f"layers.{i}.{name}.weight"] = real(f"layers.{i}.mlp.{name}.weight")
            out[f"layers.{i}.{name}.bias"] = real(f"raw:layers.{i}.mlp.{name}.bias")
        out[f"layers.{i}.ln1.weight"] = real(f"raw:layers.{i}.input_layernorm.weight")
        out[f"layers.{i}.ln2.weight"] = real(f"raw:layers.{i}.post_attention_layernorm.weight")
    missing = set(Encoder().state_dict()) ^ set(out)
    if missing:
        raise ValueError(f"not the encoder that was pinned: {sorted(missing)}")
    return out
