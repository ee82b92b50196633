"""A photograph handed to the page until it is stored for good, beside a raw strict write."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from PIL import Image

from tests.trials.browser import browser_part
from tests.trials.record import Measured, percentile

WIDE_PX, HIGH_PX = 4032, 3024
PEER = "one strict IndexedDB write of the same bytes and their SHA-256, same page and browser"


def measure() -> Iterator[Measured]:
    """Drive Chromium; the two sides take turns with the same files, round after round.

    Stored: the number is on the screen, and bytes and entry are on the disk. The second row goes on
    until the screen says that they read back as they were written.
    """
    with TemporaryDirectory() as folder:
        photograph = Path(folder, "photograph.jpg")
        draw(photograph)
        rounds = browser_part("file", TRIAL_PHOTOGRAPH=str(photograph))
    stored, raw, kept = (column(rounds, name) for name in ("stored", "raw_stored", "kept"))
    figure, beside = (
        percentile([ms for one in side for ms in one], 0.95) for side in (stored, raw)
    )
    unit = "ms, 95th percentile"
    yield Measured("file", figure, unit, PEER, beside, "<= 1.5 x", *spread(stored))
    figure = percentile([ms for one in kept for ms in one], 0.95)
    words = "ms until the screen says it read back, 95th percentile"
    yield Measured("file", figure, words, None, None, "< 1000", *spread(kept))


def column(rounds: list[dict[str, list[float]]], name: str) -> list[list[float]]:
    """Return one list of times for each round."""
    return [one[name] for one in rounds]


def spread(rounds: list[list[float]]) -> tuple[float, float, int]:
    """Return the least and the greatest 95th percentile of the rounds, and their number."""
    figures = [percentile(one, 0.95) for one in rounds]
    return min(figures), max(figures), len(figures)


def draw(photograph: Path) -> None:
    """Draw a picture of 12 megapixels that fills some 3 MB, as a camera's does."""
    chance = Random(41)
    small = Image.frombytes("RGB", (1008, 756), chance.randbytes(1008 * 756 * 3))
    small.resize((WIDE_PX, HIGH_PX), Image.Resampling.BICUBIC).save(photograph, quality=62)
