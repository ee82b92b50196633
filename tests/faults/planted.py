"""Faults planted in the server of the schedules, to see whether schedules find them.

Each stands for a mistake somebody could make in the product; the product itself is not touched.
They come in `EVERY` so many calls: a fault that always shows would be found by any test.
"""

import copy
import itertools
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from typing import Any
from unittest.mock import patch

from skinpin.services import backup, photographs, pull, push, restore
from skinpin.services.workshop import Workshop
from skinpin.storage import log, photograph_parts, standings
from skinpin.storage import photographs as photograph_folder
from skinpin.web import exchange_routes
from skinpin_sync.clock import is_ahead
from skinpin_sync.exchange import Result

EVERY = 7


def sometimes(plain: Callable[..., Any], planted: Callable[..., Any]) -> Callable[..., Any]:
    """Return a function that does every seventh time what was planted."""
    count = itertools.count(1)

    def either(*given: Any, **named: Any) -> Any:
        return (planted if next(count) % EVERY == 0 else plain)(*given, **named)

    return either


class Undone(Exception):
    """Rolls a transaction back."""


def push_unkept(workshop: Workshop, book: str, body: bytes) -> dict[str, Any]:
    """Answer a push before it is committed, and lose it."""

    @contextmanager
    def losing() -> Iterator[Any]:
        with suppress(Undone), Workshop.writing(workshop) as connection:
            yield connection
            raise Undone

    shadow: Any = copy.copy(workshop)
    shadow.writing = losing
    return push.push(shadow, book, body)


def page_with_a_hole(*given: Any) -> log.Page:
    """Leave out the last entry of a page behind which there are more."""
    head, lines = log.page(*given)
    if head["to"] < head["seq"] and lines:
        return log.Page({**head, "count": head["count"] - 1}, lines[:-1])
    return log.Page(head, lines)


def judge_with_a_clock(reads: Any, held: Any, judge: Any = push.judge) -> list[Result]:
    """Refuse what is stamped too far ahead."""
    now_ms = NOW[0]()
    return [
        Result(one.id, "refused", "ahead", "It is stamped in the future.")
        if one.id and is_ahead(one.id, now_ms)
        else one
        for one in judge(reads, held)
    ]


NOW: list[Callable[[], int]] = [lambda: 0]


def keep_unhashed(self: Any, plain: Any = photograph_folder.Arriving.keep, **named: Any) -> None:
    """Keep a photograph whatever its bytes are."""
    self._hash_parts()
    self._hash_parts = lambda: None
    asked = self._sha256

    class Says:
        def hexdigest(self) -> str:
            return str(asked)

    self._hash = Says()
    plain(self, **named)


def lacking_but_the_last(self: Any, plain: Any = photograph_parts.Gathering.missing) -> list[int]:
    """Take a photograph for whole once one part is here."""
    return [] if self.here else list(plain(self))


def join_unhashed(self: Any, sha256: str, gathering: Any) -> None:
    """Give parts their photograph's name, whatever they are."""
    self._layer.rename(self._path(sha256), self._folder.path(sha256))
    self._clear(sha256)


def add_without_awaited(before: Any, entries: Any, counts: Any, plain: Any = standings.add) -> Any:
    """Forget that an entry that comes late was named before."""
    return plain(before and before._replace(awaited=()), entries, counts)


def rows_but_the_last(
    connection: Any, table: Any, plain: Any = backup.rows_of
) -> Iterator[dict[str, Any]]:
    """Leave the last entry out of a backup."""
    rows = list(plain(connection, table))
    return iter(rows[:-1] if table.name == "entry" else rows)


def row_is_forgotten(*given: Any) -> bool:
    """Acknowledge a photograph whose row was not written."""
    return False


def any_cursor(epoch: str, id_at_after: str | None, query: Any) -> str:
    """Believe every cursor of the epoch, whatever stands there now."""
    return "older_epoch" if query.epoch != epoch and (query.epoch or query.seq) else "page"


def no_epoch(*given: Any) -> None:
    """Keep the epoch that the backup had."""


def in_place_of(owner: Any, name: str, planted: Any) -> Any:
    """Plant something that shows every seventh time."""
    return patch.object(owner, name, sometimes(getattr(owner, name), planted))


PLANTS: dict[str, Callable[[], list[Any]]] = {
    "acknowledged before it is committed": lambda: [
        in_place_of(exchange_routes, "push", push_unkept)
    ],
    "an entry lost where a page ends": lambda: [patch.object(pull, "page", page_with_a_hole)],
    "a photograph’s row forgotten": lambda: [
        in_place_of(photographs, "keep_file", row_is_forgotten)
    ],
    "the epoch of a restored backup kept": lambda: [patch.object(restore, "set_epoch", no_epoch)],
    "a cursor believed": lambda: [patch.object(log, "cursor_verdict", any_cursor)],
    "a photograph kept unhashed": lambda: [
        patch.object(photograph_folder.Arriving, "keep", keep_unhashed)
    ],
    "a photograph joined before its last part": lambda: [
        patch.object(photograph_parts.Gathering, "missing", lacking_but_the_last),
        patch.object(photograph_parts.PhotographParts, "_join", join_unhashed),
    ],
    "an entry refused for its time": lambda: [patch.object(push, "judge", judge_with_a_clock)],
    "what a late entry was named by forgotten": lambda: [
        patch.object(standings, "add", add_without_awaited),
        patch("skinpin.storage.derive.records_awaiting", lambda *given: set()),
    ],
    "a backup without its last entry": lambda: [patch.object(backup, "rows_of", rows_but_the_last)],
}


def plant(name: str, now_ms: Callable[[], int]) -> ExitStack:
    """Plant a fault; closing what is returned takes it out again."""
    planted = ExitStack()
    NOW[0] = now_ms
    for one in PLANTS[name]():
        planted.enter_context(one)
    return planted
