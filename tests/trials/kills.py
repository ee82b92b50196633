"""The real server killed 200 times and the real browser 20 times, in the middle of their work."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

from tests.trials.record import Measured

ROOT = Path(__file__).resolve().parent.parent.parent
SERVER_KILLS, BROWSER_KILLS = 200, 20


def measure() -> Iterator[Measured]:
    """Run CI's own tests with more kills; one that loses anything ends the trial."""
    pytest = [sys.executable, "-m", "pytest", "-p", "no:cacheprovider"]
    took_s = run([*pytest, "tests/faults/test_killed_server.py"], FAULT_KILLS=SERVER_KILLS)
    what = f"kills of the server that lost nothing, {took_s:.0f} s"
    yield Measured("kills", SERVER_KILLS, what, None, None, ">= 200")
    vitest = [str(ROOT / "node_modules/.bin/vitest"), "run"]
    journey = ["--config", "vitest.browser.config.ts", "random_script", "-t", "was killed"]
    took_s = run([*vitest, *journey], SCRIPT_KILLS=BROWSER_KILLS)
    what = f"kills of the browser that lost nothing, {took_s:.0f} s"
    yield Measured("kills", BROWSER_KILLS, what, None, None, ">= 20")


def run(words: Sequence[str], **asked: int) -> float:
    """Run tests by more than CI asks of them; return how long it took."""
    began = time.monotonic()
    variables = {name: str(value) for name, value in asked.items()}
    done = subprocess.run(
        list(words),
        cwd=ROOT,
        env=os.environ | variables,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
    )
    if done.returncode != 0:
        raise RuntimeError(f"It failed:\n{done.stdout}{done.stderr}")
    return time.monotonic() - began
