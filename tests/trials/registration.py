"""Photographs laid on each other: how far off, how many offered, and none offered wrongly.

Pairs are made up: plates with scratches and spots, riveted or not, seen again by a known homography
with corners moved by up to 10, 20 and 35 % of half a side, gain 0.7 and noise of 6 grey levels.
"""

from __future__ import annotations

from collections.abc import Iterator
from statistics import median
from time import perf_counter

from skinpin.imaging.register import Shown, register
from skinpin.services.registration import Registration, judge_found

from tests.imaging.plates import SIZE, jpeg, median_off, plate, seen_again
from tests.trials.record import Measured

SEEDS = range(6)
SHIFTS = (0.1, 0.2, 0.35)
PLATES = {"riveted": {}, "without rivets": {"pitch": 0}, "few marks": {"marks": 40, "grain": 0.3}}


def measure() -> Iterator[Measured]:
    """Lay made-up pairs and judge what is offered."""
    took: list[float] = []
    for shift in SHIFTS:
        off = []
        for more in PLATES.values():
            for seed in SEEDS:
                grey = plate(seed, **more)
                again, true = seen_again(grey, 200 + seed, shift=shift)
                begun = perf_counter()
                told = _laid(jpeg(grey), jpeg(again))
                took.append(perf_counter() - begun)
                if told.offered and told.to_other:
                    off.append(median_off(true, told.to_other))
        pairs = len(PLATES) * len(SEEDS)
        words = f"corners moved by up to {shift:.0%}"
        yield Measured(
            "registration", median(off), f"px off, median of those offered, {words}", None, None,
            "< 0.5", min(off), max(off), len(off),
        )  # fmt: skip
        yield Measured(
            "registration", len(off) / pairs, f"of {pairs} pairs offered, {words}", None, None,
            ">= 0.6", runs=pairs,
        )  # fmt: skip
        worst = max(off)
        yield Measured("registration", worst, f"px off at worst, {words}", None, None, "< 3")
    wrong = [_laid(*pair).offered for pair in _unrelated()]
    words = f"offered of {len(wrong)} unrelated or unmarked pairs"
    yield Measured("registration", sum(wrong), f"pairs, {words}", None, None, "< 1")
    unit = "s for one pair, its process included"
    yield Measured("registration", median(took), unit, None, None, "< 10", min(took), max(took))


def _laid(this: bytes, other: bytes) -> Registration:
    return judge_found(register(Shown(this), Shown(other)), [SIZE, SIZE])


def _unrelated() -> Iterator[tuple[bytes, bytes]]:
    for seed in SEEDS:
        yield jpeg(plate(seed, pitch=0)), jpeg(plate(50 + seed, pitch=(0, 120, 90)[seed % 3]))
        yield jpeg(plate(seed)), jpeg(seen_again(plate(70 + seed), seed)[0])
        bare = plate(seed, marks=0, grain=0)
        yield jpeg(bare), jpeg(seen_again(bare, seed)[0])
