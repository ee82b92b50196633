"""Numbers that two records bear, as after a tablet was cloned."""

from typing import Any

import orjson
from sqlalchemy import Connection, bindparam, select, update

from skinpin.storage.many import among
from skinpin.storage.tables import defect

Row = dict[str, Any]


def keep_number_shared(connection: Connection, rows: dict[str, Row]) -> None:
    """Mark the rows whose number another record bears, those stored before among them."""
    bearers: dict[str, set[str]] = {}
    for name, row in rows.items():
        if row["number"]:
            bearers.setdefault(row["number"], set()).add(name)
    given_up = _numbers_before(connection, rows)
    stored = _stored(connection, bearers.keys() | given_up, rows)
    for name, row in stored.items():
        bearers.setdefault(row["number"], set()).add(name)
    for some in bearers.values():
        for name in some & rows.keys():
            rows[name]["number_shared"] = len(some) > 1
    changed = [
        {"of": name, "row": _dumped(row | {"number_shared": len(bearers[row["number"]]) > 1})}
        for name, row in stored.items()
        if row["number_shared"] != (len(bearers[row["number"]]) > 1)
    ]
    if changed:
        marked = update(defect).where(defect.c.record == bindparam("of"))
        connection.execute(marked, changed)


def _numbers_before(connection: Connection, rows: dict[str, Row]) -> set[str]:
    """Return the numbers that these records bore and do not bear now."""
    asked = select(defect.c.record, defect.c.number).where(
        among(connection, defect.c.record, rows), defect.c.number.is_not(None)
    )
    return {number for name, number in connection.execute(asked) if rows[name]["number"] != number}


def _stored(connection: Connection, numbers: set[str], rows: dict[str, Row]) -> dict[str, Row]:
    """Return the rows of other records that bear one of the numbers."""
    if not numbers:
        return {}
    asked = select(defect.c.record, defect.c.row).where(among(connection, defect.c.number, numbers))
    return {
        name: orjson.loads(text) for name, text in connection.execute(asked) if name not in rows
    }


def _dumped(row: Row) -> str:
    return orjson.dumps(row, option=orjson.OPT_SORT_KEYS).decode()
