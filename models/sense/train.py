"""Trains the sense on sentences that are told with their meaning.

    python3 models/sense/train.py ENCODER.onnx PIECES.json.gz TOLD.json OUT --seed N --seconds N

TOLD.json: `steps` (id: prompt, answers by meaning), `told` (step, meaning, sentence, prompt), `judged` (the same, not learnt).
Writes `OUT/net.pt`, `OUT/judged.npz` (log odds). Needs torch, transformers, tokenizers, onnx; made for one accelerator.
"""

import argparse
import json
import random
import re
import time
from pathlib import Path

import numpy as np
import torch
from net import LONGEST, Answers, Sense, batch, begun, cut_up, reader
from published import weights
from tokenizers import Tokenizer
from torch.nn.functional import binary_cross_entropy_with_logits

AT_ONCE = 96
"""Sentences a step."""
STRANGERS = 0.06
"""Of the sentences: answers to another question, which mean nothing here."""


class Known:
    """The answers of all steps in one row."""

    def __init__(self, steps: dict[str, dict]) -> None:
        said = [gloss for one in steps.values() for gloss in one["answers"].values()]
        self.texts = sorted(set(said))
        self.words = [self.texts.index(gloss) for gloss in said]
        self.at = {pair: n for n, pair in enumerate((step, meaning) for step, one in steps.items() for meaning in one["answers"])}
        self.of = {step: [self.at[step, meaning] for meaning in one["answers"]] for step, one in steps.items()}

    def told(self, step: str, meaning: str) -> list[int]:
        """Those that a meaning tells of."""
        return [self.at[step, one] for one in meaning.split("; ") if (step, one) in self.at]


_YES = re.compile("yes|true|heeded")


def _may_be_another(step: str, meaning: str) -> bool:
    """Whether a sentence of another question may stand in its place, which means nothing: a number that is marked is its own."""
    return meaning == "heeded" or ("=" in meaning and step != "among")


class Batches:
    """Batches out of what is told, filled in on the processor at once: cut up anew each step, the accelerator waited for them."""

    def __init__(self, cut: Tokenizer, given: dict, known: Known, seed: int) -> None:
        self.chance, self.cut = random.Random(seed), cut
        self.told = [tuple(row) for row in given["told"]]
        self.free = [w for s, m, w, _ in self.told if _may_be_another(s, m) and len(w.split()) > 3 and not _YES.search(m)]
        kinds = {pair: n for n, pair in enumerate(dict.fromkeys((s, m) for s, m, *_ in self.told))}
        nothing = {s: kinds.setdefault((s, "-"), len(kinds)) for s, *_ in self.told}
        self.here, self.right = np.zeros((2, len(kinds), len(known.words)), np.float32)
        for (step, meaning), n in kinds.items():
            self.here[n, known.of[step]] = 1
            self.right[n, known.told(step, meaning)] = 1
        self.kind = np.array([kinds[s, m] for s, m, *_ in self.told])
        self.none = np.array([nothing[s] for s, *_ in self.told])
        said = [[(p, w) for _, _, w, p in self.told], [(p, w.replace(",", "")) for _, _, w, p in self.told]]
        self.pieces = [self._laid_out(pairs) for pairs in said]
        self.order: list[int] = []

    def _laid_out(self, pairs: list[tuple[str, str]]) -> np.ndarray:
        """(n, 3, LONGEST) whole numbers: pieces of words, 1 where one is, 1 in the second part."""
        rows = np.zeros((len(pairs), 3, LONGEST), np.int64)
        for n, (ids, part) in enumerate(cut_up(self.cut, pairs)):
            rows[n, 0, : len(ids)], rows[n, 1, : len(ids)], rows[n, 2, : len(ids)] = ids, 1, part
        return rows

    def next(self) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Pieces as `net.batch` has them (3, n, t), which answers are asked there, and which of them are meant."""
        if len(self.order) < AT_ONCE:
            self.order += self.chance.sample(range(len(self.told)), len(self.told))
        at, self.order = np.array(self.order[:AT_ONCE]), self.order[AT_ONCE:]
        bare = np.array([self.chance.random() < 0.4 for _ in at])
        rows = np.where(bare[:, None, None], self.pieces[1][at], self.pieces[0][at])
        kind = self.kind[at]
        for n, row in enumerate(at):
            if _may_be_another(*self.told[row][:2]) and self.chance.random() < STRANGERS:
                rows[n] = self._laid_out([(self.told[row][3], self.chance.choice(self.free))])[0]
                kind[n] = self.none[row]
        longest = -(-int(rows[:, 1].sum(1).max()) // 8) * 8
        return rows[:, :, :longest].transpose(1, 0, 2), self.here[kind], self.right[kind]


def learnt(net: Sense, answers: Answers, cut: Tokenizer, given: dict, known: Known, said: argparse.Namespace) -> None:
    """Trains both for the seconds given: the rate rises over their first twentieth and falls to nothing at their end."""
    batches = Batches(cut, given, known, said.seed)
    table = ("word", "place", "part")
    embedded = [p for n, p in net.named_parameters() if n.startswith(table)]
    others = [p for n, p in net.named_parameters() if not n.startswith(table)]
    rates = [said.fastest / 2, said.fastest, said.fastest * 20]
    sets = [{"params": p, "lr": r} for p, r in zip((embedded, others, list(answers.parameters())), rates, strict=True)]
    steer = torch.optim.AdamW(sets, weight_decay=0.01, fused=said.device == "cuda")
    began, shown, at, lost = time.monotonic(), 0.0, 0, []
    while (gone := (time.monotonic() - began) / said.seconds) < 1:
        for one, rate in zip(steer.param_groups, rates, strict=True):
            one["lr"] = rate * min(gone * 20 + 0.01, (1 - gone) / 0.95)
        pieces, here, right = batches.next()
        odds = answers(net(*torch.from_numpy(pieces.copy()).to(said.device)))
        meant = torch.from_numpy(right * 0.98 + 0.01).to(said.device)
        losses = binary_cross_entropy_with_logits(odds, meant, reduction="none") * torch.from_numpy(here).to(said.device)
        loss = losses.sum() / AT_ONCE
        steer.zero_grad()
        loss.backward()
        torch.nn.utils.clip_grad_norm_([*net.parameters(), *answers.parameters()], 1.0)
        steer.step()
        lost.append(loss.detach())
        at += 1
        if time.monotonic() - began >= shown:
            shown += 20
            mean = float(torch.stack(lost).mean())
            print(f"{at} steps, {at * AT_ONCE / len(batches.told):.1f} passes, {gone:.0%}, loss {mean:.3f}", flush=True)
            if not mean < 1e3:
                raise FloatingPointError("the loss is no number")
            lost = []


@torch.no_grad()
def judged(net: Sense, answers: Answers, cut: Tokenizer, given: dict, device: str) -> np.ndarray:
    """Log odds of every answer for each sentence to judge by; of another step's they mean nothing."""
    net.eval()
    rows = cut_up(cut, [(prompt, words) for _, _, words, prompt in given["judged"]])
    return torch.cat([answers(net(*batch(rows[n : n + 256], device))).cpu() for n in range(0, len(rows), 256)]).numpy()


@torch.no_grad()
def begun_answers(net: Sense, cut: Tokenizer, known: Known) -> Answers:
    """Each begins as what the encoder makes of its words."""
    net.eval()
    directions = net(*batch(cut_up(cut, [("", text) for text in known.texts]), "cpu"))
    return Answers(known.words, directions)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("encoder", type=Path)
    parser.add_argument("pieces")
    parser.add_argument("told", type=Path)
    parser.add_argument("out", type=Path)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=170)
    parser.add_argument("--fastest", type=float, default=1e-4)
    parser.add_argument("--device", default="cuda")
    said = parser.parse_args()
    torch.manual_seed(said.seed)
    torch.set_float32_matmul_precision("high")  # by half floats the loss was no number once
    given = json.loads(said.told.read_text(encoding="utf-8"))
    known, cut = Known(given["steps"]), reader(said.pieces)
    net = begun(weights(said.encoder))
    answers = begun_answers(net, cut, known).to(said.device)
    net = net.to(said.device).train()
    learnt(net, answers, cut, given, known, said)
    said.out.mkdir(parents=True, exist_ok=True)
    torch.save({"net": net.state_dict(), "answers": answers.state_dict()}, said.out / "net.pt")
    np.savez_compressed(said.out / "judged.npz", odds=judged(net, answers, cut, given, said.device).astype(np.float16))


if __name__ == "__main__":
    main()
