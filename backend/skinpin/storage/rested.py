"""The lines of the log that a document rests on, and when the last entry came."""

from collections.abc import Collection

from sqlalchemy import Connection, select

from skinpin.storage.many import among
from skinpin.storage.tables import entry


def lines_of_records(connection: Connection, records: Collection[str], upto: int) -> list[str]:
    """Return the lines of all entries of records, in the order of the entries' ids."""
    if not records:
        return []
    asked = select(entry.c.id, entry.c.line).where(
        among(connection, entry.c.record, records), entry.c.seq <= upto
    )
    return [line for _, line in sorted((id, line) for id, line in connection.execute(asked))]


def came_at_ms(connection: Connection, seq: int) -> int | None:
    """Return when an entry came, in ms of UTC; nothing of one that is not here."""
    asked = select(entry.c.received_at_ms).where(entry.c.seq == seq)
    found = connection.execute(asked).scalar()
    return None if found is None else int(found)
