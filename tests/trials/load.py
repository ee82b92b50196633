"""JavaScript of the first load, and of the whole app as it is fetched ahead for use offline."""

from __future__ import annotations

from collections.abc import Iterator

from tests.trials.browser import browser_part
from tests.trials.record import Measured


def measure() -> Iterator[Measured]:
    """Load the app into an enrolled browser that has nothing of it, until the airframe is ready.

    By the log of the network, each script packed by gzip; kB are 1,000 bytes. The whole app has no
    goal of its own: its limit is there so that growth is noticed.
    """
    told = browser_part("load")
    first, every = (told[f"{name}_bytes"] / 1000 for name in ("first", "every"))
    unit = f"kB gzipped, until ready at the airframe, files: {told['first_files']}"
    yield Measured("load", first, unit, None, None, "<= 120")
    unit = f"kB gzipped, the whole app fetched ahead, files: {told['every_files']}"
    yield Measured("load", every, unit, None, None, "<= 400")
