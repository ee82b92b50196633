"""A server whose book holds 5,000 raised defects, and what a tablet needs to take them in."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager

from tests.trials.generator import Writer, raised
from tests.trials.own_server import PASSCODE, Enrolled, own_server

RECORDS = 5_000
A_BATCH = 250


@contextmanager
def full_book() -> Iterator[dict[str, str]]:
    """Start a server and fill its book; return the variables for the browser's part.

    The browser's part enrols its own tablet, and may end the server by its process.
    """
    with own_server() as tablet:
        fill(tablet)
        tablet.hang_up()
        yield {
            "TRIAL_ADDRESS": f"http://127.0.0.1:{tablet.port}",
            "TRIAL_CODE": str(tablet.ask("POST", "/api/enrolment-codes", {})["code"]),
            "TRIAL_PASSCODE": PASSCODE,
            "TRIAL_PROCESS": str(tablet.process),
            "TRIAL_RECORDS": str(RECORDS),
        }


def fill(tablet: Enrolled) -> None:
    """Push the defects as the tablet writes them, graded by the standard of the book."""
    people = json.loads(tablet.fetch("/api/people"))
    by = Writer(device=tablet.tablet, by=tablet.person)
    pin = standard_of(tablet)
    acts = list(raised(RECORDS, 7, by, tablet.airframe, people[0]["role_entry"], pin))
    for at in range(0, len(acts), A_BATCH):
        lines = [line + b"\n" for two in acts[at : at + A_BATCH] for line in two]
        tablet.push(b"".join(lines))
    rows = tablet.defects()
    states = {row["state"] for row in rows}
    if len(rows) != RECORDS or states != {"Raised"}:
        raise RuntimeError(f"{len(rows)} rows in the states {states} are no book of {RECORDS}.")


def slowed(runs: list[dict[str, float]]) -> float:
    """Return how many times slower the page was made; a machine too busy to do so spoils a run."""
    slow, plain = (sum(one[name] for one in runs) for name in ("slow_ms", "plain_ms"))
    if slow < 1.5 * plain:
        raise RuntimeError(
            f"The page was only {slow / plain:.1f} times slower. Run it again alone."
        )
    return slow / plain


def standard_of(tablet: Enrolled) -> dict[str, str]:
    """Return what a defect names the standard of the book by."""
    page = tablet.page(tablet.epoch, 0, "", 100)
    entries = [json.loads(line) for line in page.splitlines()]
    sets = [entry["set"] for entry in entries if entry.get("kind") == "standard"]
    return {name: sets[0][name] for name in ("name", "issue", "sha256")}
