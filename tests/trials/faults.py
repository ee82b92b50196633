"""Two thousand schedules of faults: five tablets, a bad network, a server that goes back.

Before them every fault of `tests/faults/planted` is planted, to see that schedules find it.
`FAULT_FROM` names the first seed, 1 if it is left out; CI plays others (tests/faults).
"""

from __future__ import annotations

import json
import os
import subprocess
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from tests.trials.record import Measured

ROOT = Path(__file__).resolve().parent.parent.parent
SCHEDULES = 2000


def measure() -> Iterator[Measured]:
    """Play the schedules; one that loses anything ends the trial with its seed."""
    begin = os.environ.get("FAULT_FROM", "1")
    found = play("planted", FAULT_PLANTED="all", FAULT_FROM=begin)
    slowest = max(found, key=lambda name: found[name])
    what = f"planted faults found, each within {found[slowest]} schedules ({slowest})"
    yield Measured("faults", len(found), what, None, None, ">= 8")
    told = play("schedules", FAULT_SCHEDULES=str(SCHEDULES), FAULT_FROM=begin)
    what = f"schedules that lost nothing, from seed {begin}, {told['faults']} faults of the network"
    yield Measured("faults", SCHEDULES, f"{what}, {told['took_s']} s", None, None, ">= 2000")


def play(name: str, **asked: str) -> dict[str, Any]:
    """Run one of CI's own tests by more than CI asks of it, and return what it found."""
    with TemporaryDirectory() as folder:
        result = Path(folder, "result.json")
        words = [str(ROOT / "node_modules/.bin/vitest"), "run", "--config", "vite.config.ts"]
        done = subprocess.run(
            [*words, f"tests/faults/{name}.test.ts"],
            cwd=ROOT,
            env={**os.environ, **asked, "FAULT_RESULT": str(result)},
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
        )
        if done.returncode != 0:
            raise RuntimeError(f"A schedule failed:\n{done.stdout}{done.stderr}")
        found: dict[str, Any] = json.loads(result.read_text())
    return found
