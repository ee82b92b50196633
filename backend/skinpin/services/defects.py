"""The defect book as lists show it."""

from collections.abc import Mapping
from typing import Any

import orjson
from sqlalchemy import Connection

from skinpin.domain.errors import Refused
from skinpin.domain.numbers import read_number, write_number
from skinpin.domain.place import Definition
from skinpin.domain.search import search
from skinpin.services.airframes import last_value
from skinpin.services.workshop import Workshop
from skinpin.storage.defects import defect_rows, rows_numbered
from skinpin.storage.records import records_of_kind


def list_defects(workshop: Workshop, wanted: Mapping[str, str]) -> list[dict[str, Any]]:
    """Return the rows of defects that meet all wishes, by number."""
    with workshop.reading() as connection:
        return [orjson.loads(row) for row in defect_rows(connection, wanted)]


def list_defects_json(workshop: Workshop, wanted: Mapping[str, str]) -> bytes:
    """Return the same as one JSON text, put together without reading the rows."""
    with workshop.reading() as connection:
        rows = defect_rows(connection, wanted)
    return f"[{','.join(rows)}]".encode()


def find_defects(workshop: Workshop, words: str, wanted: Mapping[str, str]) -> list[dict[str, Any]]:
    """Return the rows that the words find, as a tablet would, of those that meet all wishes."""
    with workshop.reading() as connection:
        rows = [orjson.loads(row) for row in defect_rows(connection, wanted)]
        people = _names(connection)
        definitions = _definitions(workshop, connection)
    places: dict[str | None, list[dict[str, Any]]] = {}
    for row in rows:
        places.setdefault(row["airframe"], []).append(row)
    found = {
        row["record"]
        for airframe, some in places.items()
        for row in search(some, words, definitions.get(airframe or ""), people)
    }
    return [row for row in rows if row["record"] in found]


def _definitions(workshop: Workshop, connection: Connection) -> dict[str, Definition]:
    pins = {
        one.record: last_value(one.standing, "definition")
        for one in records_of_kind(connection, "airframe")
    }
    read = {record: workshop.files.pinned(pin) for record, pin in pins.items()}
    return {record: definition for record, definition in read.items() if definition is not None}


def _names(connection: Connection) -> dict[str, str]:
    people = records_of_kind(connection, "person")
    names = {one.record: last_value(one.standing, "name") for one in people}
    return {record: name for record, name in names.items() if isinstance(name, str)}


def defects_numbered(workshop: Workshop, number: str) -> list[dict[str, Any]]:
    """Return the rows that bear a number, written A/0017 or A0017: mostly one."""
    letter, serial = read_number(number)
    with workshop.reading() as connection:
        rows = rows_numbered(connection, write_number(letter, serial))
    if not rows:
        raise Refused(
            "no_such_defect", f"No defect bears the number {number}.", "Look at the defect book."
        )
    return [orjson.loads(row) for row in rows]
