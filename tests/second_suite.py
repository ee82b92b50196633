"""Tests of the rooms behind the database, run on PostgreSQL instead of SQLite.

`python -m tests.second_suite REPORT` runs what CI has time for and writes a report as pytest does.
"""

import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

from tests.postgres.clusters import cluster

ROOT = Path(__file__).resolve().parent.parent
JOINING = (
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
"""Storage, sync and joining; any order of arrival is tried by `tests/postgres`."""
ROOMS = ("tests/storage", "tests/services", "tests/web")
OF_SQLITE = (
    "tests/storage/test_engine.py",
    "tests/storage/test_checkpoints.py",
    "tests/storage/test_kill.py",
    "tests/storage/test_power_of_keeping.py",
    "tests/web/test_exchange.py::test_a_database_that_is_full_stores_nothing_and_says_so",
)
"""What these test is the SQLite file itself."""


def run(tests: Sequence[str], report: Path) -> int:
    """Run tests over a cluster of their own, write the report, return pytest's exit code."""
    words = [sys.executable, "-m", "pytest", "-n", "2", "--dist", "loadfile", "--durations=5"]
    words += ["-p", "no:cacheprovider", f"--junitxml={report}", *tests]
    words += [f"--{'deselect' if '::' in one else 'ignore'}={one}" for one in OF_SQLITE]
    with cluster() as address:
        where = {**os.environ, "SECOND_DATABASE": address}
        return subprocess.run(words, cwd=ROOT, env=where, stdin=subprocess.DEVNULL).returncode


if __name__ == "__main__":
    raise SystemExit(run(JOINING, Path(sys.argv[1])))
