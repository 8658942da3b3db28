"""Rooms, machines and mouths for the training, made of random numbers: no recording."""

import math
import random

import torch
import torch.nn.functional as F

RATE = 16_000
SECONDS = 16
LENGTH = SECONDS * RATE


class Noises:
    """A pool of made noises on one device."""

    def __init__(self, device: str, seed: int) -> None:
        """Ready to make.

        Args:
            device: where.
            seed: of what is drawn on the processor; torch's own seed decides the rest.
        """
        self.device = device
        self.random = random.Random(seed)
        self.time = torch.arange(LENGTH, device=device) / RATE

    def chance(self, count: int) -> torch.Tensor:
        """Numbers from 0 to 1, shape (count, 1)."""
        return torch.rand(count, 1, device=self.device)

    def spectrum(self, count: int) -> torch.Tensor:
        """Steady noise, its spectrum a random curve that mostly falls; shape (count, LENGTH) like all below."""
        hertz = torch.fft.rfftfreq(LENGTH, 1 / RATE).to(self.device)
        octave = torch.log2(hertz.clamp(min=30))
        points = torch.linspace(math.log2(30), 13, 12, device=self.device)
        curve, slope = torch.randn(count, 12, device=self.device) * 5, self.chance(count) * -9 + 1.5
        at = ((octave - points[0]) / (points[1] - points[0])).clamp(0, 10.999)
        left = at.long()
        share = at - left
        db = curve[:, left] * (1 - share) + curve[:, (left + 1).clamp(max=11)] * share + slope * (octave - math.log2(30))
        x = torch.fft.irfft(torch.fft.rfft(torch.randn(count, LENGTH, device=self.device)) * 10 ** (db / 20), LENGTH)
        return x / x.std(-1, keepdim=True)

    def swelling(self, count: int) -> torch.Tensor:
        """A slow or quick change of loudness."""
        rate = 0.2 * 60 ** self.chance(count)
        return 1 + self.chance(count) * 0.6 * torch.sin(2 * math.pi * rate * self.time + 6 * self.chance(count))

    def hum(self, count: int) -> torch.Tensor:
        """Mains or a motor with its harmonics."""
        mains = torch.where(self.chance(count) < 0.3, 50.0, 60.0)
        base = torch.where(self.chance(count) < 0.5, mains, 20 * 20 ** self.chance(count))
        drift = 1 + 0.01 * torch.sin(2 * math.pi * 0.2 * self.chance(count) * self.time)
        phase = torch.cumsum(base * drift / RATE, -1) * 2 * math.pi
        x = torch.zeros(count, LENGTH, device=self.device)
        for k in range(1, 13):
            x += torch.sin(k * phase + 6 * self.chance(count)) * self.chance(count) / k ** (1.5 * self.chance(count))
        return x / x.std(-1, keepdim=True)

    def pulses(self, count: int) -> torch.Tensor:
        """A compressor's strokes, 8 to 64 a second."""
        x = torch.zeros(count, LENGTH, device=self.device)
        for row in range(count):
            step = max(int(RATE / (8 * 8 ** self.random.random())), 1)
            at = torch.arange(0, LENGTH, step, device=self.device)
            at = (at + (torch.randn(len(at), device=self.device) * step * 0.02).long()).clamp(0, LENGTH - 1)
            x[row, at] = 1 + 0.3 * torch.randn(len(at), device=self.device)
        size = 2048
        t = torch.arange(size, device=self.device) / RATE
        tones = sum(torch.sin(2 * math.pi * (100 * 30 ** self.chance(count)) * t) for _ in range(3))
        fading = torch.exp(-t[None] / (0.002 * 8 ** self.chance(count)))
        ring = fading * (torch.randn(count, size, device=self.device) * 0.6 + tones)
        y = torch.fft.irfft(torch.fft.rfft(x, LENGTH + size) * torch.fft.rfft(ring, LENGTH + size), LENGTH + size)[:, :LENGTH]
        return y / y.std(-1, keepdim=True)

    def bands(self, count: int) -> torch.Tensor:
        """What water, wheels and engines do: each band of the spectrum comes and goes by itself, slowly or in flutters."""
        hertz = torch.fft.rfftfreq(LENGTH, 1 / RATE).to(self.device)
        x = torch.zeros(count, LENGTH, device=self.device)
        edges = 60 * (8000 / 60) ** torch.linspace(0, 1, 8, device=self.device)
        noise = torch.fft.rfft(torch.randn(count, LENGTH, device=self.device))
        weight = 10 ** (torch.randn(count, 7, device=self.device) * 8 / 20)
        for k in range(7):
            inside = ((hertz >= edges[k]) & (hertz < edges[k + 1])).float() / (edges[k + 1] - edges[k]) ** 0.5
            band = torch.fft.irfft(noise * inside, LENGTH)
            points = torch.randn(count, 1, SECONDS * 40, device=self.device)
            width = self.random.choice((1, 3, 9, 31))
            points = F.avg_pool1d(points, width, 1, width // 2) * width**0.5
            rise = F.interpolate(points, size=LENGTH, mode="linear")[:, 0]
            x += band / band.std(-1, keepdim=True) * weight[:, k : k + 1] * 10 ** (rise * 5 * self.chance(count) / 20)
        return x / x.std(-1, keepdim=True)

    def clanks(self, count: int) -> torch.Tensor:
        """Contactors, doors, tools."""
        x, draw = torch.zeros(count, LENGTH, device=self.device), self.random.uniform
        for row in range(count):
            at = int(draw(0, 1.5) * RATE)
            while at < LENGTH - RATE:
                size = int(draw(0.04, 0.5) * RATE)
                t = torch.arange(size, device=self.device) / RATE
                sound = torch.randn(size, device=self.device) * torch.exp(-t / draw(0.003, 0.05))
                for _ in range(5):
                    sound += torch.sin(2 * math.pi * draw(200, 5000) * t + draw(0, 6)) * torch.exp(-t / draw(0.01, 0.2))
                x[row, at : at + size] += sound * draw(0.3, 3)
                at += int(draw(0.3, 4) * RATE)
        return x

    def pool(self, rounds: int, babble: torch.Tensor) -> torch.Tensor:
        """Mixtures of all of them, shape (48 * rounds, LENGTH), half precision.

        Args:
            rounds: of 48 noises.
            babble: voices that talk of other things, shape (n, LENGTH).
        """
        made = []
        for _ in range(rounds):
            count = 48

            def some(share: float, count: int = count) -> torch.Tensor:
                return (self.chance(count) < share).float() * self.chance(count)

            steady = self.spectrum(count) * self.swelling(count)
            moving = (self.chance(count) < 0.4).float()
            x = steady * (1 - moving) + moving * self.bands(count)
            x += some(0.6) * self.hum(count) + some(0.45) * self.pulses(count) * 1.2
            x += some(0.3) * self.clanks(count) * 0.8
            x += some(0.12) * babble[torch.randint(0, len(babble), (count,), device=self.device)]
            made.append((x / x.std(-1, keepdim=True)).half())
        return torch.cat(made)


def mouths(seed: int, count: int = 240) -> list[torch.Tensor]:
    """Breaths, and clicks of lips and cables, int16: sounds within an answer that are no word."""
    draw = random.Random(seed)
    make = torch.Generator().manual_seed(seed)
    out = []
    for i in range(count):
        click = i % 3 == 0
        size = int(draw.uniform(0.01, 0.05) * RATE) if click else int(draw.uniform(0.12, 0.55) * RATE)
        hertz = torch.fft.rfftfreq(size, 1 / RATE)
        low, high = draw.uniform(200, 900), draw.uniform(1500, 6000)
        shape = 1 / torch.sqrt(1 + (low / hertz.clamp(min=1)) ** 4) / torch.sqrt(1 + (hertz / high) ** 4)
        x = torch.fft.irfft(torch.fft.rfft(torch.randn(size, generator=make)) * shape, size)
        x *= torch.exp(-torch.arange(size) / (size / 5)) if click else torch.hann_window(size)
        x = x / x.abs().max() * draw.uniform(0.02, 0.25 if click else 0.12)
        out.append((x * 32767).short())
    return out
