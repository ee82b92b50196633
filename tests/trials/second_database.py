"""The whole suite of the rooms behind the database, on PostgreSQL instead of SQLite."""

from __future__ import annotations

import time
import xml.etree.ElementTree as ElementTree
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.second_suite import ROOMS, run
from tests.trials.record import Measured


def measure() -> Iterator[Measured]:
    """Run everything that a bench stands under; pytest's own words tell what failed."""
    began = time.monotonic()
    with TemporaryDirectory() as folder:
        report = Path(folder, "report.xml")
        run(ROOMS, report)
        suite = next(ElementTree.parse(report).getroot().iter("testsuite"))
    count = {name: int(suite.get(name, 0)) for name in ("tests", "failures", "errors", "skipped")}
    failed = count["failures"] + count["errors"] + count["skipped"]
    what = f"tests that failed on PostgreSQL, {count['tests'] - failed} passed"
    took = f"{what}, {time.monotonic() - began:.0f} s"
    yield Measured("second-database", failed, took, None, None, "< 1")
