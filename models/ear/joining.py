"""Utterances joined on an accelerator in one pass: `mixing.Mixer` without a table for each piece in memory. Needs triton."""

from typing import Any

import torch
import triton
import triton.language as tl

_BLOCK = 1024


@triton.jit
def _join(sound, start, size, place, rate, loud, out, samples, PIECES: tl.constexpr, BLOCK: tl.constexpr):  # type: ignore
    row = tl.program_id(0)
    t = tl.program_id(1) * BLOCK + tl.arange(0, BLOCK)
    total = tl.zeros((BLOCK,), tl.float32)
    for k in range(PIECES):
        one = row * PIECES + k
        many = tl.load(size + one)
        if many > 0:
            at = (t.to(tl.float64) - tl.load(place + one)) * tl.load(rate + one)
            inside = (t < samples) & (at >= 0) & (at < many - 1)
            whole = tl.floor(tl.maximum(at, 0.0))
            share = (at - whole).to(tl.float32)
            index = tl.load(start + one).to(tl.int64) + whole.to(tl.int64)
            a = tl.load(sound + index, mask=inside, other=0).to(tl.float32)
            b = tl.load(sound + index + 1, mask=inside, other=0).to(tl.float32)
            total += tl.where(inside, (a * (1 - share) + b * share) / 32768 * tl.load(loud + one), 0.0)
    tl.store(out + row.to(tl.int64) * samples + t, total, mask=t < samples)


def joined(sound: torch.Tensor, plan: dict[str, Any], loud: torch.Tensor) -> torch.Tensor:
    """The pieces at their places and speeds: shape (n, samples).

    Args:
        sound: all speech, int16, on the accelerator.
        plan: from `mixing.Planner.batch`.
        loud: factor of each piece, shape (n, pieces).
    """
    given = [torch.from_numpy(plan[key]).to(sound.device) for key in ("start", "size", "place", "rate")]
    many, pieces = loud.shape
    samples = plan["samples"]
    out = torch.empty(many, samples, device=sound.device)
    _join[(many, triton.cdiv(samples, _BLOCK))](sound, *given, loud, out, samples, PIECES=pieces, BLOCK=_BLOCK)
    return out
