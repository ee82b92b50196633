"""The first pull of a tablet: 50,000 entries taken in by Chromium, its time and its memory.

`PULL_ENTRIES` asks for another number. The entries are generated defects, pushed beforehand.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from itertools import islice

from tests.trials.browser import browser_part
from tests.trials.generator import Writer, defects
from tests.trials.own_server import own_server
from tests.trials.record import Measured

ENTRIES = int(os.environ.get("PULL_ENTRIES", "50000"))
A_BATCH = 500


def measure() -> Iterator[Measured]:
    """Fill a book, enrol an empty tablet, wait until its store holds every entry."""
    with own_server() as tablet:
        by = Writer(device=tablet.tablet, by=tablet.person)
        written = islice(defects(ENTRIES, 5, by, tablet.airframe), ENTRIES)
        while lines := [one.line for one in islice(written, A_BATCH)]:
            tablet.push(b"".join(line + b"\n" for line in lines))
        tablet.hang_up()
        told = browser_part(
            "first_pull",
            TRIAL_ADDRESS=f"http://127.0.0.1:{tablet.port}",
            TRIAL_CODE=str(tablet.ask("POST", "/api/enrolment-codes", {})["code"]),
            TRIAL_ENTRIES=str(ENTRIES),
        )
    what = f"first pull of {told['entries']:,} entries in Chromium"
    yield Measured("first-pull", told["took_s"], f"s, {what}", None, None, "< 300")
    unit = f"MB of JavaScript's heap at most, {what}"
    yield Measured("first-pull", told["heap_mb"], unit, None, None, "< 512")
    stored = f"MB in the browser's store, {what}"
    yield Measured("first-pull", told["stored_mb"], stored, None, None, "< 1000")
