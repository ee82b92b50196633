"""A cold start offline until the sheet at the airframe is ready, 5,000 records, slow processor."""

from __future__ import annotations

from collections.abc import Iterator

from tests.trials.browser import browser_part
from tests.trials.full_book import full_book, slowed
from tests.trials.record import Measured, middle


def measure() -> Iterator[Measured]:
    """Start a tablet again and again, its server ended, the page's processor four times slower.

    Ready: position bar and SHUTTER are painted, and a press of SHUTTER made at that moment has
    been turned to; that it gives a number and asks for the camera is waited for in every run.
    """
    with full_book() as given:
        runs = browser_part("start", **given)
    ready = [one["painted_ms"] + one["waited_ms"] for one in runs]
    unit = f"ms from navigation to ready, page {slowed(runs):.1f} times slower"
    yield Measured(
        *("start", middle(ready), unit, None, None, "< 1500"),
        low=min(ready),
        high=max(ready),
        runs=len(ready),
    )
