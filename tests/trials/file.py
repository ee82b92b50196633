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
PEER_KEPT = "the same, read back and hashed again"


def measure() -> Iterator[Measured]:
    """Drive Chromium; the two sides take turns with the same files, round after round.

    `stored`: the number is on the screen, and bytes and entry are on the disk. `kept`: the screen
    also says that they read back as they were written.
    """
    with TemporaryDirectory() as folder:
        photograph = Path(folder, "photograph.jpg")
        draw(photograph)
        rounds = browser_part("file", TRIAL_PHOTOGRAPH=str(photograph))
    yield row("file", "stored", rounds, PEER, "raw_stored")
    yield row("file", "kept", rounds, PEER_KEPT, "raw_kept")


def row(
    trial: str, own: str, rounds: list[dict[str, list[float]]], peer: str, raw: str
) -> Measured:
    """Return one figure over all rounds; the spread is that of the rounds."""
    whole, beside = (
        percentile([ms for one in rounds for ms in one[side]], 0.95) for side in (own, raw)
    )
    by_round = [percentile(one[own], 0.95) for one in rounds]
    return Measured(
        *(trial, whole, f"ms until {own}, 95th percentile", peer, beside, "<= 1.5 x"),
        low=min(by_round),
        high=max(by_round),
        runs=len(rounds),
    )


def draw(photograph: Path) -> None:
    """Draw a picture of 12 megapixels that fills some 3 MB, as a camera's does."""
    chance = Random(41)
    small = Image.frombytes("RGB", (1008, 756), chance.randbytes(1008 * 756 * 3))
    small.resize((WIDE_PX, HIGH_PX), Image.Resampling.BICUBIC).save(photograph, quality=62)
