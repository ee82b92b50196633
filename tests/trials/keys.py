"""From a key to the paint that answers it, 5,000 records, a page made four times slower."""

from __future__ import annotations

from collections.abc import Iterator

from tests.trials.browser import browser_part
from tests.trials.full_book import full_book, slowed
from tests.trials.record import Measured, percentile


def measure() -> Iterator[Measured]:
    """Press keys at a person's pace; all of them together, then each sort by itself.

    By the event timing of the browser, of each press the event that took longest, in steps of
    8 ms; what it does not tell of took less than 16 ms and counts as 16.
    """
    with full_book() as given:
        told = browser_part("keys", **given)
    sorts = told["took_ms"]
    yield row(
        f"every key, page {slowed([told['slow']]):.1f} times slower",
        [ms for took_ms in sorts.values() for ms in took_ms],
    )
    for name, took_ms in sorts.items():
        yield row(name, took_ms)


def row(name: str, took_ms: list[float]) -> Measured:
    """Return the 95th percentile of a sort of key, with the least and the greatest press."""
    unit = f"ms, 95th percentile, {name}"
    return Measured(
        *("keys", percentile(took_ms, 0.95), unit, None, None, "< 100"),
        low=min(took_ms),
        high=max(took_ms),
        runs=len(took_ms),
    )
