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
from net import Answers, Sense, batch, begun, cut_up, reader
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


def learnt(net: Sense, answers: Answers, cut: Tokenizer, given: dict, known: Known, said: argparse.Namespace) -> None:
    """Trains both for the seconds given: the rate rises over their first twentieth and falls to nothing at their end."""
    chance = random.Random(said.seed)
    told = [tuple(row) for row in given["told"]]
    free = [row[2] for row in told if _may_be_another(*row[:2]) and len(row[2].split()) > 3 and not _YES.search(row[1])]
    said_so = list(dict.fromkeys((prompt, one) for _, _, w, prompt in told for one in (w, w.replace(",", ""))))
    pieces = dict(zip(said_so, cut_up(cut, said_so), strict=True))
    table = ("word", "place", "part")
    embedded = [p for n, p in net.named_parameters() if n.startswith(table)]
    others = [p for n, p in net.named_parameters() if not n.startswith(table)]
    rates = [said.fastest / 2, said.fastest, said.fastest * 20]
    sets = [{"params": p, "lr": r} for p, r in zip((embedded, others, list(answers.parameters())), rates, strict=True)]
    steer = torch.optim.AdamW(sets, weight_decay=0.01)
    began, shown, at, order, lost = time.monotonic(), 0.0, 0, [], []
    while (gone := (time.monotonic() - began) / said.seconds) < 1:
        for one, rate in zip(steer.param_groups, rates, strict=True):
            one["lr"] = rate * min(gone * 20 + 0.01, (1 - gone) / 0.95)
        if len(order) < AT_ONCE:
            order = order + chance.sample(told, len(told))
        rows, order = order[:AT_ONCE], order[AT_ONCE:]
        rows = [(s, "-", chance.choice(free), p) if _may_be_another(s, m) and chance.random() < STRANGERS else (s, m, w, p)
                for s, m, w, p in rows]  # fmt: skip
        rows = [(s, m, w.replace(",", "") if chance.random() < 0.4 else w, p) for s, m, w, p in rows]
        cuts = [pieces.get((p, w)) or cut_up(cut, [(p, w)])[0] for _, _, w, p in rows]
        # filled in here and sent at once: an element at a time each waits for the accelerator, and took 0.2 s a step
        here, right = np.zeros((2, len(rows), len(known.words)), np.float32)
        for n, (step, meaning, *_) in enumerate(rows):
            here[n, known.of[step]] = 1
            right[n, known.told(step, meaning)] = 1
        odds = answers(net(*batch(cuts, said.device)))
        meant = torch.from_numpy(right * 0.98 + 0.01).to(said.device)
        losses = binary_cross_entropy_with_logits(odds, meant, reduction="none") * torch.from_numpy(here).to(said.device)
        loss = losses.sum() / len(rows)
        steer.zero_grad()
        loss.backward()
        torch.nn.utils.clip_grad_norm_([*net.parameters(), *answers.parameters()], 1.0)
        steer.step()
        lost.append(loss.detach())
        at += 1
        if time.monotonic() - began >= shown:
            shown += 10
            mean = float(torch.stack(lost).mean())
            print(f"{at} steps, {at * AT_ONCE / len(told):.1f} passes, {gone:.0%}, loss {mean:.3f}", flush=True)
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
