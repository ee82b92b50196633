"""Two thousand schedules of faults: five tablets, a bad network, a server that goes back.

`FAULT_FROM` names the first seed, 1 if it is left out; CI plays others (tests/faults).
"""

from __future__ import annotations

import json
import os
import subprocess
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.trials.record import Measured

ROOT = Path(__file__).resolve().parent.parent.parent
SCHEDULES = 2000


def measure() -> Iterator[Measured]:
    """Play the schedules; one that loses anything ends the trial with its seed."""
    begin = os.environ.get("FAULT_FROM", "1")
    with TemporaryDirectory() as folder:
        result = Path(folder, "result.json")
        asked = {"FAULT_SCHEDULES": str(SCHEDULES), "FAULT_FROM": begin}
        words = [str(ROOT / "node_modules/.bin/vitest"), "run", "--config", "vite.config.ts"]
        done = subprocess.run(
            [*words, "tests/faults/schedules.test.ts"],
            cwd=ROOT,
            env={**os.environ, **asked, "FAULT_RESULT": str(result)},
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
        )
        if done.returncode != 0:
            raise RuntimeError(f"A schedule failed:\n{done.stdout}{done.stderr}")
        told = json.loads(result.read_text())
    what = f"schedules that lost nothing, from seed {begin}, {told['faults']} faults of the network"
    yield Measured("faults", SCHEDULES, f"{what}, {told['took_s']} s", None, None, ">= 2000")
