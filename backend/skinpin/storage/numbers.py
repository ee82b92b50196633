"""Numbers that two records bear, as after a tablet was cloned."""

import re
from collections import Counter
from collections.abc import Collection
from typing import Any

import orjson
from sqlalchemy import Connection, bindparam, select, update

from skinpin.domain.errors import Refused
from skinpin.domain.numbers import LETTERS, file_number
from skinpin.storage.many import rows_among
from skinpin.storage.tables import defect

Row = dict[str, Any]


WRITTEN = re.compile(rf"[{LETTERS}]{{1,2}}/(?!0000)[0-9]{{4}}")
"""A number in its own form; nearly all are."""


def number_key(number: str | None) -> str | None:
    """Return what a row is found under: the file number, or the text of one of another form."""
    if not number:
        return None
    if WRITTEN.fullmatch(number):
        return number.replace("/", "")
    try:
        return file_number(number)
    except Refused:
        return number.replace("\0", "")


_BORNE = select(defect.c.number).where(defect.c.number.is_not(None))
_BEARING = select(defect.c.record, defect.c.number, defect.c.row)


def numbers_borne(connection: Connection, records: Collection[str]) -> set[str]:
    """Return the numbers that stored rows of records bear."""
    return {number for (number,) in rows_among(connection, _BORNE, defect.c.record, records)}


def keep_number_shared(
    connection: Connection, rows: dict[str, Row], borne: set[str]
) -> dict[str, str]:
    """Mark the rows whose number another record bears, and return what each is found under.

    Those stored before are marked too.

    `borne` are the numbers that these records bore before.
    """
    keys = {name: key for name, row in rows.items() if (key := number_key(row["number"]))}
    stored = _stored(connection, {*keys.values(), *borne}, rows)
    bearers = Counter([*keys.values(), *(key for _, key, _ in stored)])
    for name, key in keys.items():
        if bearers[key] > 1 or rows[name]["number_shared"]:
            rows[name]["number_shared"] = bearers[key] > 1
    changed = [
        {"of": name, "row": _dumped(row | {"number_shared": bearers[key] > 1})}
        for name, key, row in stored
        if row["number_shared"] != (bearers[key] > 1)
    ]
    if changed:
        marked = update(defect).where(defect.c.record == bindparam("of"))
        connection.execute(marked, changed)
    return keys


def _stored(
    connection: Connection, numbers: set[str], rows: dict[str, Row]
) -> list[tuple[str, str, Row]]:
    """Return record, number and row of the others that bear one of the numbers."""
    asked = rows_among(connection, _BEARING, defect.c.number, numbers)
    found = [row for row in asked if row.record not in rows]
    return [(name, key, orjson.loads(text)) for name, key, text in found]


def _dumped(row: Row) -> str:
    return orjson.dumps(row).decode()
