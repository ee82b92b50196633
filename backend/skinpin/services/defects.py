"""The defect book as lists show it."""

from collections.abc import Mapping
from typing import Any

import orjson

from skinpin.domain.errors import Refused
from skinpin.domain.numbers import read_number, write_number
from skinpin.services.workshop import Workshop
from skinpin.storage.defects import defect_rows, rows_numbered


def list_defects(workshop: Workshop, wanted: Mapping[str, str]) -> list[dict[str, Any]]:
    """Return the rows of defects that meet all wishes, by number."""
    with workshop.reading() as connection:
        return [orjson.loads(row) for row in defect_rows(connection, wanted)]


def list_defects_json(workshop: Workshop, wanted: Mapping[str, str]) -> bytes:
    """Return the same as one JSON text, put together without reading the rows."""
    with workshop.reading() as connection:
        rows = defect_rows(connection, wanted)
    return f"[{','.join(rows)}]".encode()


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
