"""Entries going out: pages of the log after a cursor."""

import logging
from typing import Any, NamedTuple

from skinpin_sync.canonical import MAX_INTEGER, sha256_hex
from skinpin_sync.clock import ID_PATTERN
from skinpin_sync.exchange import Cursor, to_page

from skinpin.domain.errors import Refused
from skinpin.services.push import check_book, need_book
from skinpin.services.workshop import Workshop
from skinpin.storage.log import (
    epoch_drawn_ms,
    ids_upto,
    lock_book,
    no_page,
    page,
    set_epoch,
    verdict_on,
)

MAX_LIMIT = 1000
EPOCH_REST_MS = 3_600_000
log = logging.getLogger("skinpin")


def pull(
    workshop: Workshop,
    book: str,
    *,
    epoch: str,
    after: int,
    at: str,
    limit: int,
    device: str = "",
) -> bytes:
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
        found = no_page(_new_epoch(workshop, cursor, device))
    return to_page(found.head | {"server_time": workshop.now_ms()}, found.lines)


class Digest(NamedTuple):
    """What the log holds up to a seq: how many entries, and the SHA-256 of their sorted ids."""

    epoch: str
    entries: int
    sha256: str


def digest(workshop: Workshop, book: str, upto: int) -> Digest:
    """Return by what a client sees whether it and the log hold the same entries up to a seq.

    A log that was put back in silence, and filled again, may hold the very id at a cursor.
    """
    with workshop.reading() as connection:
        row = need_book(connection)
        check_book(row, book)
        ids = ids_upto(connection, min(max(upto, 0), MAX_INTEGER))
    return Digest(row.epoch, len(ids), sha256_hex("\n".join(ids).encode()))


def _new_epoch(workshop: Workshop, cursor: Cursor, device: str) -> Any:
    """Draw a new epoch, unless another client's fetch has done so meanwhile.

    A log put back from a file looks whole, so the device's word is all there is: it must be an id,
    and is taken once in an hour, for every device sends all it holds again after it.
    """
    if not ID_PATTERN.fullmatch(cursor.at):
        raise Refused(
            "wrong_shape",
            f"'at' is '{cursor.at[:40]}', which is no id of the entry at {cursor.seq}.",
            "Give the id that came with the page, or begin again with 'after' 0.",
        )
    with workshop.writing() as connection:
        row, now_ms = lock_book(connection), workshop.now_ms()
        if verdict_on(connection, row, cursor) == "new_epoch":
            _check_rest(epoch_drawn_ms(connection), now_ms)
            set_epoch(connection, workshop.new_id(), now_ms)
            log.warning(
                "Device %s fetched %s at %d of epoch %s, which is not in the log: a new epoch.",
                *(device, cursor.at, cursor.seq, row.epoch),
            )
    with workshop.reading() as connection:
        return need_book(connection)


def _check_rest(drawn_ms: int | None, now_ms: int) -> None:
    # The clock of a demo goes back at midnight: what lies ahead is long past.
    if drawn_ms is not None and 0 <= now_ms - drawn_ms < EPOCH_REST_MS:
        minutes = -(-(EPOCH_REST_MS - now_ms + drawn_ms) // 60_000)
        raise Refused(
            "wait",
            "The server's log does not hold the entry this device fetched last.",
            f"An epoch was drawn for that less than an hour ago; try again in {minutes} minutes.",
        )
