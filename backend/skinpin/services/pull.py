"""Entries going out: pages of the log after a cursor."""

from typing import Any

from skinpin_sync.canonical import MAX_INTEGER
from skinpin_sync.exchange import Cursor, to_page

from skinpin.domain.errors import Refused
from skinpin.services.push import check_book, need_book
from skinpin.services.workshop import Workshop
from skinpin.storage.log import lock_book, no_page, page, set_epoch, verdict_on

MAX_LIMIT = 1000


def pull(workshop: Workshop, book: str, *, epoch: str, after: int, at: str, limit: int) -> bytes:
    """Return the page after a cursor; a cursor that can't be of this log draws a new epoch."""
    cursor = Cursor(epoch, after, at)
    if not 1 <= limit <= MAX_LIMIT or not 0 <= cursor.seq <= MAX_INTEGER:
        raise Refused(
            "wrong_shape",
            f"'limit' is {limit} and 'after' {cursor.seq}.",
            f"Ask for 1 to {MAX_LIMIT} entries after 0 or more.",
        )
    with workshop.reading() as connection:
        row = need_book(connection)
        check_book(row, book)
        verdict = verdict_on(connection, row, cursor)
        found = page(connection, row, cursor, limit) if verdict == "page" else no_page(row)
    if verdict == "new_epoch":
        found = no_page(_new_epoch(workshop, cursor))
    return to_page(found.head | {"server_time": workshop.now_ms()}, found.lines)


def _new_epoch(workshop: Workshop, cursor: Cursor) -> Any:
    """Draw a new epoch, unless another client's fetch has done so meanwhile."""
    with workshop.writing() as connection:
        row = lock_book(connection)
        if verdict_on(connection, row, cursor) == "new_epoch":
            set_epoch(connection, workshop.new_id())
    with workshop.reading() as connection:
        return need_book(connection)
