"""Which airframe is meant, and the definition it goes by."""

from collections.abc import Mapping
from typing import Any, NamedTuple

import orjson
from skinpin_sync.standing import Standing, field_values
from sqlalchemy import Connection

from skinpin.domain.errors import Refused
from skinpin.services.workshop import Workshop
from skinpin.storage.defects import defect_rows
from skinpin.storage.records import records_of_kind

Row = dict[str, Any]


class Airframe(NamedTuple):
    """An airframe of the book with its definition."""

    record: str
    type: str
    constructor: str
    definition: Mapping[str, Any]


def find_airframe(workshop: Workshop, connection: Connection, constructor: str = "") -> Airframe:
    """Return the airframe of a constructor's number, or the only one of the book."""
    found = [
        one
        for one in records_of_kind(connection, "airframe")
        if constructor in ("", last_value(one.standing, "constructor"))
    ]
    if len(found) != 1:
        wanted = f" with constructor's number {constructor}" if constructor else ""
        raise Refused(
            "which_airframe",
            f"The book has {len(found)} airframes{wanted}; exactly one is needed.",
            "Name one by its constructor's number: --airframe.",
        )
    (one,) = found
    definition = workshop.files.pinned(last_value(one.standing, "definition"))
    if definition is None:
        raise Refused(
            "no_definition",
            "The airframe's definition is not on this server yet.",
            "It comes when the device that has it sends it.",
        )
    names = [str(last_value(one.standing, field) or "") for field in ("type", "constructor")]
    return Airframe(one.record, names[0], names[1], definition)


def last_value(now: Standing, field: str) -> Any:
    """Return the value of a field; of several that stand, the one written last."""
    values = field_values(now, field)
    return values[max(values)] if values else None


def rows_of(connection: Connection, airframe: Airframe) -> list[Row]:
    """Return the rows of an airframe's defects, by number."""
    return [orjson.loads(row) for row in defect_rows(connection, {"airframe": airframe.record})]
