"""The whole suite of the rooms behind the database, on PostgreSQL instead of SQLite."""

from __future__ import annotations

import os
import subprocess
import sys
import time
import xml.etree.ElementTree as ElementTree
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.postgres.clusters import cluster
from tests.trials.record import Measured

ROOT = Path(__file__).resolve().parent.parent.parent
ROOMS = ("tests/storage", "tests/services", "tests/web", "tests/sync")
OF_SQLITE = (
    "tests/storage/test_engine.py",
    "tests/storage/test_checkpoints.py",
    "tests/storage/test_kill.py",
    "tests/storage/test_power_of_keeping.py",
)
"""What these test is the SQLite file itself."""
JOINING = (
    "tests/storage/test_derive.py",
    "tests/storage/test_relations.py",
    "tests/storage/test_many.py",
    "tests/services/test_push.py",
    "tests/services/test_pull.py",
    "tests/services/test_enrolment.py",
    "tests/services/test_devices.py",
    "tests/services/test_photographs.py",
    "tests/web/test_exchange.py",
    "tests/web/test_part_routes.py",
)
"""What CI runs on it: storage, sync and joining."""


def measure() -> Iterator[Measured]:
    """Run everything that a bench stands under; one that fails is shown."""
    began = time.monotonic()
    passed, failed, said = run(ROOMS, OF_SQLITE)
    print(said, file=sys.stderr) if failed else None
    what = f"tests that failed on PostgreSQL, {passed} passed, {time.monotonic() - began:.0f} s"
    yield Measured("second-database", failed, what, None, None, "< 1")


def run(rooms: tuple[str, ...], left_out: tuple[str, ...] = ()) -> tuple[int, int, str]:
    """Run tests over a cluster of their own; return how many passed and failed, and the words."""
    words = [sys.executable, "-m", "pytest", "-n", "2", "--dist", "loadfile"]
    words += ["-p", "no:cacheprovider", *rooms, *(f"--ignore={one}" for one in left_out)]
    with TemporaryDirectory() as folder, cluster() as address:
        report = Path(folder, "report.xml")
        done = subprocess.run(
            [*words, f"--junitxml={report}"],
            cwd=ROOT,
            env={**os.environ, "SECOND_DATABASE": address},
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
        )
        if not report.exists():
            return 0, 1, done.stdout + done.stderr
        suite = next(ElementTree.parse(report).getroot().iter("testsuite"))
    count = {name: int(suite.get(name, 0)) for name in ("tests", "failures", "errors", "skipped")}
    failed = count["failures"] + count["errors"] + count["skipped"]
    return count["tests"] - failed, failed, done.stdout + done.stderr
