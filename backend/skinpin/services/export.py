"""The defect book to take away: CSV, XLSX or JSON lines."""

import hashlib
from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple

from skinpin.domain.errors import Refused
from skinpin.domain.kinds import WORDING
from skinpin.domain.scale_struck import fallen_in, without_fallen
from skinpin.domain.values import Values, differing
from skinpin.reports.defects_csv import defects_csv
from skinpin.reports.defects_jsonl import defects_jsonl
from skinpin.reports.defects_xlsx import About, defects_xlsx
from skinpin.services.airframes import Airframe, find_airframe, rows_of
from skinpin.services.as_at import as_at
from skinpin.services.people import list_people
from skinpin.services.push import need_book
from skinpin.services.workday import workshop_day
from skinpin.services.workshop import Workshop
from skinpin.storage.records import find_records

Record = Mapping[str, Any]


class Exported(NamedTuple):
    """A file to take away: its bytes and hash, what it is called, how many records it holds."""

    content: bytes
    name: str
    media_type: str
    records: int
    seq: int
    sha256: str


class Taken(NamedTuple):
    """What is exported: records, and what is said of them."""

    records: list[dict[str, Any]]
    about: About
    seq: int


def export_records(
    workshop: Workshop, ending: str, airframe: str = "", zone: str = "", day: str = ""
) -> Exported:
    """Return the defects of an airframe, or of a zone of it, one row a record, by number.

    With a day, as the book stood at its end; the name of the file says so.
    """
    kind = KINDS.get(ending)
    if kind is None:
        raise Refused(
            "no_such_export",
            f"There is no export of the kind “{ending[:20]}”.",
            f"A file may end in {', '.join(f'.{known}' for known in KINDS)}.",
        )
    media_type, write = kind
    with as_at(workshop, day) as then:
        taken = _take(then, airframe, zone)
    content = write(taken)
    # A zone's name is anybody's text: only a plain one stands in a header and on a disk.
    named = zone if zone.isascii() and zone.isalnum() else "named"
    name = f"defects{f'-zone-{named}' if zone else ''}{f'-as-at-{day}' if day else ''}.{ending}"
    sha256 = hashlib.sha256(content).hexdigest()
    return Exported(content, name, media_type, len(taken.records), taken.seq, sha256)


def export_defects(workshop: Workshop, airframe: str = "") -> str:
    """Return the defects of an airframe as CSV text."""
    return export_records(workshop, "csv", airframe).content.decode()


KINDS: Mapping[str, tuple[str, Callable[[Taken], bytes]]] = {
    "csv": ("text/csv; charset=utf-8", lambda taken: defects_csv(taken.records).encode()),
    "xlsx": (
        "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        lambda taken: defects_xlsx(taken.records, taken.about),
    ),
    "jsonl": ("application/jsonl; charset=utf-8", lambda taken: defects_jsonl(taken.records)),
}


def _take(workshop: Workshop, constructor: str, zone: str) -> Taken:
    with workshop.reading() as connection:
        meant = find_airframe(workshop, connection, constructor)
        check_zone(meant, zone)
        rows = [row for row in rows_of(connection, meant) if not zone or zone in row["zones"]]
        standing = find_records(connection, [row["record"] for row in rows])
        today = workshop_day(workshop, connection)
        names = {one.person: one.name for one in list_people(connection, today)}
        seq = need_book(connection).seq
    units = {one["name"]: one["unit"] for one in meant.definition["structures"]}
    records = [
        {
            "row": row | {"raised_by": names.get(row["raised_by"], row["raised_by"])},
            "values": values_by_field(
                without_fallen(standing[row["record"]].standing.values, fallen_in(row))
            ),
            "unit": units.get(row["structure"]),
            "wording": WORDING["full"],
        }
        for row in rows
    ]
    return Taken(records, _about(meant, zone, rows, today, seq), seq)


def check_zone(airframe: Airframe, zone: str) -> None:
    """Refuse a zone that the airframe does not have; none is fine."""
    known = sorted({rule["zone"] for rule in airframe.definition["zones"]})
    if zone and zone not in known:
        raise Refused(
            "no_such_zone",
            f"The airframe definition has no zone {zone[:20]}.",
            f"It has {', '.join(known)}.",
        )


def _about(
    airframe: Airframe, zone: str, rows: Sequence[Mapping[str, Any]], today: str, seq: int
) -> About:
    lines = [
        ("Airframe", f"{airframe.type} · {airframe.constructor}"),
        ("Of", f"zone {zone}" if zone else "the whole book"),
        ("Records", str(len(rows))),
        ("As at", today),
        ("Data up to", f"entry {seq} of this book"),
        ("Limits", WORDING["limits"]),
    ]
    return About(lines, WORDING["full"])


def values_by_field(values: Values) -> dict[str, list[object]]:
    """Return the values of a defect that stand and differ, by field."""
    fields = sorted({field for one in values.values() for field in one})
    return {field: differing("defect", values, field) for field in fields}
