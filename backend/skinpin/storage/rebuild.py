"""Makes every derived table anew from the log."""

import logging
from collections.abc import Iterator
from typing import Any

from sqlalchemy import Connection, delete, select, update

from skinpin.storage.derive import derive_again
from skinpin.storage.files_named import NamedFiles
from skinpin.storage.log import Arrival, find_book, set_rules
from skinpin.storage.rules import RULES
from skinpin.storage.shelf import stored_entry
from skinpin.storage.tables import (
    awaited,
    defect,
    entry,
    link,
    missing_file,
    named,
    record,
    withdrawn_act,
)

log = logging.getLogger("skinpin")
DERIVED = (named, withdrawn_act, awaited, record, link, defect, missing_file)
BATCH = 1000


def rebuild(connection: Connection, files: NamedFiles) -> None:
    """Empty the derived tables and fill them in the order of arrival."""
    for table in DERIVED:
        connection.execute(delete(table))
    connection.execute(update(entry).where(entry.c.verdict != "").values(verdict="", code=""))
    for arrivals in _batches(connection):
        derive_again(connection, arrivals, files)
    set_rules(connection, RULES)


def rebuild_if_old(connection: Connection, files: NamedFiles) -> bool:
    """Rebuild a book whose derived tables were made by other rules; say whether it was."""
    row = find_book(connection)
    if row is None or row.rules == RULES:
        return False
    log.warning("The rules are new: the book is worked out again, %d entries.", row.seq)
    rebuild(connection, files)
    return True


def _batches(connection: Connection) -> Iterator[list[Arrival]]:
    after = 0
    while True:
        columns = select(entry.c.seq, entry.c.line, entry.c.sha256, entry.c.ahead)
        columns = columns.add_columns(entry.c.received_at_ms)
        asked = columns.where(entry.c.seq > after).order_by(entry.c.seq).limit(BATCH)
        rows = connection.execute(asked).all()
        if not rows:
            return
        yield [_arrival(row) for row in rows]
        after = rows[-1].seq


def _arrival(row: Any) -> Arrival:
    came_ms = row.received_at_ms if row.ahead else None
    return Arrival(row.seq, stored_entry(row.line), row.line.encode(), row.sha256, came_ms)
