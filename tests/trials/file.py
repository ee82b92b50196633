"""A photograph handed to the page until it is stored for good, beside a raw strict write."""

from __future__ import annotations

import json
import os
import subprocess
from collections.abc import Iterator
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from PIL import Image

from tests.trials.record import Measured, percentile

ROOT = Path(__file__).resolve().parent.parent.parent
WIDE_PX, HIGH_PX = 4032, 3024
PEER = "one strict IndexedDB write of the same bytes and their SHA-256, same page and browser"


def measure() -> Iterator[Measured]:
    """Drive Chromium; the two sides take turns with the same files."""
    with TemporaryDirectory() as folder:
        photograph, result = Path(folder, "photograph.jpg"), Path(folder, "result.json")
        draw(photograph)
        words = [str(ROOT / "node_modules/.bin/vitest"), "run", "--mode", "trials"]
        variables = {"TRIAL_PHOTOGRAPH": str(photograph), "TRIAL_RESULT": str(result)}
        done = subprocess.run(
            [*words, "--config", "vitest.browser.config.ts"],
            cwd=ROOT,
            env={**os.environ, **variables},
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
        )
        if done.returncode != 0:
            raise RuntimeError(f"The browser's part failed:\n{done.stdout}{done.stderr}")
        told = json.loads(result.read_text())
    own, raw = (percentile(told[side], 0.95) for side in ("own", "raw"))
    yield Measured("file", own, "ms, 95th percentile", PEER, raw, "<= 1.5 x")


def draw(photograph: Path) -> None:
    """Draw a picture of 12 megapixels that fills some 3 MB, as a camera's does."""
    chance = Random(41)
    small = Image.frombytes("RGB", (1008, 756), chance.randbytes(1008 * 756 * 3))
    small.resize((WIDE_PX, HIGH_PX), Image.Resampling.BICUBIC).save(photograph, quality=62)
