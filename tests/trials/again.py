"""A tablet's book of 5,000 records worked out again by other rules, in a real browser's store.

Each record is eight entries: found with its photograph, measured in four acts, ringed and raised.
The same page first takes the book in as it comes, in pages of 500 entries, which is the measure of
what deriving costs at all. The rows must come out the same.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.trials.browser import browser_part
from tests.trials.record import Measured, middle

RECORDS, RUNS = 5_000, 2
PEER = "the same entries as they come, in pages of 500"


def measure() -> Iterator[Measured]:
    """Time two runs; working out again may cost half as much again as the entries' coming did."""
    with TemporaryDirectory() as folder:
        given = Path(folder, "given.json")
        given.write_text(json.dumps({"records": RECORDS, "runs": RUNS}))
        took = browser_part("again", TRIAL_GIVEN=str(given))
    seconds = [one / 1000 for one in took["again_ms"]]
    yield Measured(
        *("again", middle(seconds), f"s, {RECORDS} records", PEER, took["came_ms"] / 1000),
        "<= 1.5 x",
        low=min(seconds),
        high=max(seconds),
        runs=RUNS,
    )
