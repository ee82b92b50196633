"""Standing values of records, as read back from the table."""

from collections.abc import Collection
from typing import Any, NamedTuple

import orjson
from skinpin_sync.standing import Fault, Standing
from sqlalchemy import Connection, select

from skinpin.storage.many import rows_among
from skinpin.storage.tables import record


class StandingRecord(NamedTuple):
    """A record and what stands of it."""

    record: str
    kind: str
    standing: Standing


def read_standing(text: str) -> Standing:
    """Return standing values kept as JSON."""
    kept = orjson.loads(text)
    faults = tuple(Fault(*fault) for fault in kept["faults"])
    return Standing(kept["values"], tuple(kept["awaited"]), faults)


def write_standing(now: Standing) -> str:
    """Return standing values as JSON, the same text for the same values."""
    return orjson.dumps(
        {
            "values": now.values,
            "awaited": now.awaited,
            "faults": [tuple(fault) for fault in now.faults],
        },
        option=orjson.OPT_SORT_KEYS,
    ).decode()


def records_of_kind(connection: Connection, kind: str) -> list[StandingRecord]:
    """Return all records of a kind, in the order of their ids."""
    asked = select(record).where(record.c.kind == kind).order_by(record.c.record)
    return [_standing_record(row) for row in connection.execute(asked)]


_RECORDS = select(record)


def find_records(connection: Connection, ids: Collection[str]) -> dict[str, StandingRecord]:
    """Return those of the records that are here."""
    found = rows_among(connection, _RECORDS, record.c.record, ids)
    return {row.record: _standing_record(row) for row in found}


def _standing_record(row: Any) -> StandingRecord:
    return StandingRecord(row.record, row.kind, read_standing(row.standing))
