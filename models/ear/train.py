"""Trains the ear.

    python models/ear/train.py SPEECH_FOLDER TEXTS.json BEGIN OUT_FOLDER (--steps N | --minutes M) [--seed 1] [--device cuda]

BEGIN is the published encoder's weights (`encoder.py`), or the folder of an ear that stands, to go on from. One accelerator,
0.1 s a step of 1,400 s of sound; on several of one machine by `torchrun --nproc-per-node K`, each with answers of its own.
Writes `ear.pt` (running mean of the weights) and `words.json`.
"""

import argparse
import json
import math
import os
import time
from pathlib import Path

import numpy as np
import torch
import torch.distributed as together
from earlier import weights
from mixing import JOINED, Mixer, Plans, hours, read, word_list
from net import Ear, published
from torch import nn


def packed(rows: list[list[int]]) -> tuple[torch.Tensor, torch.Tensor]:
    """Labels end to end and the length of each."""
    return torch.tensor([v for row in rows for v in row], dtype=torch.long), torch.tensor([len(row) for row in rows])


def exactly(logs: torch.Tensor, wanted: list[list[int]]) -> float:
    """Share of answers whose likeliest words are those that were said."""
    right = 0
    for row, labels in zip(logs.argmax(-1).cpu().numpy(), wanted, strict=True):
        found = [v for i, v in enumerate(row) if v and (i == 0 or v != row[i - 1])]
        right += found == labels
    return right / len(wanted)


class Training:
    """One run."""

    def __init__(self, said: argparse.Namespace) -> None:
        """Read the speech, make the noises, take the published encoder."""
        self.number, self.many = int(os.environ.get("RANK", "0")), int(os.environ.get("WORLD_SIZE", "1"))
        if self.many > 1:
            said.device = f"cuda:{self.number}"
            torch.cuda.set_device(self.number)
            together.init_process_group("nccl")
        torch.manual_seed(said.seed)
        np.random.seed(said.seed)
        torch.backends.cuda.matmul.allow_tf32 = torch.backends.cudnn.allow_tf32 = True
        self.said = said
        speech = read(said.speech, said.seed)
        words = word_list(said.texts)
        print(len(speech.start), "utterances,", round(hours(speech), 2), "h,", len(words), "words", flush=True)
        self.out = Path(said.out)
        self.out.mkdir(parents=True, exist_ok=True)
        (self.out / "words.json").write_text(json.dumps(words))
        own = said.seed + 1000 * self.number
        self.plans = Plans(speech, words, own, said.batch_s, joined=said.joined, fronts=said.fronts)
        self.model = Ear(len(words), said.drop).to(said.device)
        if Path(said.begin).is_dir():
            self.model.load_state_dict(weights(said.begin, words, said.seed))
        else:
            self.model.enc.load_state_dict(published(said.begin))
        torch.manual_seed(own)
        self.mixer = Mixer(speech, said.device, own, said.noises, said.snr_low, said.narrow)
        self.model.enc.masked_steps = 4
        heads = [p for name, p in self.model.named_parameters() if not name.startswith("enc.")]
        groups = [{"params": self.model.enc.parameters(), "lr": said.rate}, {"params": heads, "lr": said.rate * 4}]
        self.optimiser = torch.optim.AdamW(groups, weight_decay=0.01, betas=(0.9, 0.98))
        self.rates = [group["lr"] for group in self.optimiser.param_groups]
        self.mean = {name: value.detach().clone() for name, value in self.model.state_dict().items()}
        self.ctc = nn.CTCLoss(blank=0, zero_infinity=True, reduction="sum")

    def step(self, number: int) -> tuple[torch.Tensor, torch.Tensor, torch.Tensor, list[list[int]]]:
        """One batch: losses of letters and words an answer, the words' log probabilities, the words."""
        part = min(number / 300, 1) * (0.5 + 0.5 * math.cos(math.pi * number / self.said.steps)) + 0.005
        for group, rate in zip(self.optimiser.param_groups, self.rates, strict=True):
            group["lr"] = rate * part
        plan = self.plans.next()
        sound = self.mixer.sounds(plan)
        self.model.train()
        with torch.autocast(self.said.device, torch.bfloat16):
            letters, words = self.model(sound)
        many, steps, _ = letters.shape
        lengths = torch.full((many,), steps)
        losses = []
        for logs, wanted in ((letters, plan["letters"]), (words, plan["words"])):
            labels, counts = packed(wanted)
            losses.append(self.ctc(logs.transpose(0, 1), labels.to(self.said.device), lengths, counts) / many)
        self.optimiser.zero_grad(set_to_none=True)
        (losses[0] * 0.5 + losses[1]).backward()
        self.share()
        size = nn.utils.clip_grad_norm_(self.model.parameters(), 5.0)
        if torch.isfinite(size):
            self.optimiser.step()
        keep = min(0.999, (1 + number) / (10 + number))
        with torch.no_grad():
            for value, mean in zip(self.model.state_dict().values(), self.mean.values(), strict=True):
                mean.lerp_(value, 1 - keep)
        return losses[0], losses[1], words, plan["words"]

    def share(self) -> None:
        """Every accelerator gets the mean of all their slopes."""
        if self.many > 1:
            slopes = [p.grad for p in self.model.parameters() if p.grad is not None]
            flat = torch.cat([slope.reshape(-1) for slope in slopes])
            together.all_reduce(flat)
            at = 0
            for slope in slopes:
                slope.copy_(flat[at : at + slope.numel()].view_as(slope) / self.many)
                at += slope.numel()

    def by_minutes(self, number: int, began_s: float) -> None:
        """So many steps as the minutes leave, by the pace of 150; all accelerators take the first one's word."""
        if self.said.minutes and number in (300, 450):
            torch.cuda.synchronize()
            self.paced_s = [*getattr(self, "paced_s", []), time.time()]
        if self.said.minutes and number == 450:
            left_s = self.said.minutes * 60 - (time.time() - began_s)
            steps = torch.tensor([450 + int(left_s / (self.paced_s[1] - self.paced_s[0]) * 150)], device=self.said.device)
            if self.many > 1:
                together.broadcast(steps, 0)
            self.said.steps = int(steps.item())
            print("steps:", self.said.steps, flush=True)

    def run(self) -> None:
        """All steps, then write the weights."""
        began_s, seen, number = time.time(), 0, -1
        while (number := number + 1) < self.said.steps:
            self.by_minutes(number, began_s)
            letters, words, logs, wanted = self.step(number)
            seen += len(wanted)
            if self.number == 0 and (number in (0, 50) or number % 500 == 499):
                used = f"{time.time() - began_s:.0f} s, {len(wanted)} answers of {logs.shape[1] * 0.024:.1f} s"
                losses = f"letters {letters.item():.2f}, words {words.item():.2f}, exact {exactly(logs, wanted):.3f}"
                print(f"{number + 1}: {used}; {losses}", flush=True)
            if self.number == 0 and number % 1000 == 999:
                torch.save(self.mean, self.out / "ear.pt")
        if self.number == 0:
            torch.save(self.mean, self.out / "ear.pt")
        print("trained", self.said.steps, "steps,", seen * self.many, "answers,", round(time.time() - began_s), "s", flush=True)


def main() -> None:
    """Read the command line and train."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    for name in ("speech", "texts", "begin", "out"):
        parser.add_argument(name)
    parser.add_argument("--steps", type=int, default=100_000)
    parser.add_argument("--minutes", type=float)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--device", default="cuda")
    parser.add_argument("--rate", type=float, default=3e-4)
    parser.add_argument("--batch-s", type=float, default=1400.0)
    parser.add_argument("--drop", type=float, default=0.1)
    parser.add_argument("--noises", type=int, default=12)
    parser.add_argument("--snr-low", type=float, default=-3.0)
    parser.add_argument("--joined", type=float, default=JOINED, help="share of answers that are joined from single words")
    parser.add_argument("--fronts", action="store_true", help="words after the first may lack their front")
    parser.add_argument("--narrow", type=float, default=0.45, help="share that comes through a headset of 8 kHz")
    Training(parser.parse_args()).run()


if __name__ == "__main__":
    main()
