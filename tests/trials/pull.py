"""Latency of a page of the log at 1,000,000 entries, beside the same at 10,000.

Both logs are filled by the function that a push ends in, beside a running server; nothing is
derived from the entries, for a page reads the log alone. Pages are asked for over HTTP at places
spread over the whole log, the two books in turn.
"""

from __future__ import annotations

import json
import time
from collections.abc import Iterator
from contextlib import ExitStack
from itertools import islice
from random import Random

from skinpin.storage.engine import open_engine, writing
from skinpin.storage.log import Arrival, append, lock_book
from skinpin_sync.canonical import sha256_hex
from skinpin_sync.entry import from_line

from tests.trials.generator import BEGAN_MS, Writer, defects
from tests.trials.own_server import Enrolled, own_server
from tests.trials.record import Measured, middle

SMALL, LARGE = 10_000, 1_000_000
BATCH = 1_000
PAGE = 500
ASKED = 200


def measure() -> Iterator[Measured]:
    """Fill both books, then ask each for the same number of pages in turn."""
    with ExitStack() as stack:
        small, large = (stack.enter_context(own_server()) for _ in range(2))
        books = [(small, fill(small, SMALL)), (large, fill(large, LARGE))]
        for tablet, _ in books:
            tablet.hang_up()
        chance = Random(23)
        took_ms: list[list[float]] = [[], []]
        for _ in range(ASKED):
            for times, (tablet, ids) in zip(took_ms, books, strict=True):
                times.append(page_ms(tablet, ids, chance))
    peer = f"the same book at {SMALL:,} entries"
    figures = [middle(times) for times in took_ms]
    yield Measured("pull", figures[1], "ms, a page of 500", peer, figures[0], "<= 1.3 x")


def fill(tablet: Enrolled, count: int) -> list[tuple[int, str]]:
    """Append the entries of a generated book; return (seq, id) at the end of each batch."""
    by = Writer(device=tablet.tablet, by=tablet.person)
    written = defects(count, 5, by, tablet.airframe)
    engine = open_engine(f"sqlite:///{tablet.folder / 'book.sqlite'}")
    places = []
    while lines := [one.line for one in islice(written, BATCH)]:
        with writing(engine) as connection:
            seq = lock_book(connection).seq
            arrivals = [
                Arrival(seq + at, from_line(line), line, sha256_hex(line))
                for at, line in enumerate(lines, start=1)
            ]
            append(connection, arrivals, {}, BEGAN_MS)
        places.append((arrivals[-1].seq, arrivals[-1].entry.id))
    engine.dispose()
    return places


def page_ms(tablet: Enrolled, places: list[tuple[int, str]], chance: Random) -> float:
    """Return how long one page took; a page that is not full is no measurement."""
    seq, at = chance.choice(places[:-1])
    began = time.perf_counter()
    body = tablet.page(tablet.epoch, seq, at, PAGE)
    took_ms = (time.perf_counter() - began) * 1000
    head = json.loads(body.split(b"\n", 1)[0])
    if head["count"] < PAGE:
        raise RuntimeError(f"The page after {seq} has {head['count']} lines instead of {PAGE}.")
    return took_ms
