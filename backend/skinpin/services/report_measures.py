"""How the figures of a record came about: who wrote which, a crack's observations, rivet lines."""

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from typing import Any

from skinpin.domain.quantities import is_quantity, is_unmeasured, is_withdrawn, tenth_nm_or_none
from skinpin.domain.values import Values, copied_in, sameness
from skinpin.services.airframes import Row, last_value
from skinpin.services.report_photo_figures import PhotoFigures
from skinpin.services.report_reader import Reader, tablet_of
from skinpin.storage.records import StandingRecord
from skinpin.storage.shelf import Kept


def measured_of(
    reader: Reader, values: Values, kept: Sequence[Kept]
) -> dict[str, list[dict[str, Any]]]:
    """Return by field the values that stand and differ: value, by, tablet, date, warnings.

    `values` are those that stand, each figure that fell withdrawn.
    """
    entries = {one.entry.id: one for one in kept}
    day = reader.day_of(kept)
    found: dict[str, dict[Any, dict[str, Any]]] = {}
    copied = copied_in("defect", values)
    taken = PhotoFigures(reader, (one for fields in values.values() for one in fields.values()))
    for id, fields in sorted(values.items()):
        one = entries.get(id)
        for field, value in fields.items():
            if one is None or value is None or (is_unmeasured(value) and field not in copied):
                continue
            told = {
                "value": value,
                "by": reader.person_name(one.entry.by),
                "tablet": tablet_of(one),
                "date": day(one.entry),
                "warnings": [] if is_unmeasured(value) else taken.warnings(value),
            }
            found.setdefault(field, {})[sameness("defect", field, value)] = told
    return {field: list(some.values()) for field, some in found.items()}


def observations_of(reader: Reader, kept: Sequence[Kept]) -> list[dict[str, Any]]:
    """Return the observations of a crack: every length that counts, of one day the last."""
    day = reader.day_of(kept)
    by_day: dict[str, dict[str, Any]] = {}
    in_order = sorted(kept, key=lambda one: one.entry.id)
    lengths = [
        one.entry.set.get("length") for one in in_order if one.verdict.counts and not one.withdrawn
    ]
    taken = PhotoFigures(reader, lengths)
    gone = gone_of(lengths) | taken.fallen()
    for one in in_order:
        if one.withdrawn or not one.verdict.counts or "length" not in one.entry.set:
            continue
        length, date = one.entry.set["length"], day(one.entry)
        if length is None:  # taken back the same day: it was no observation
            by_day.pop(date, None)
        if not is_quantity(length) or tenth_nm_or_none(length) is None or is_unmeasured(length):
            continue
        if length.get("measurement") in gone:
            continue
        seen = {"date": date, "length": length, "method": length.get("method")}
        by_day[date] = seen | {"warnings": taken.warnings(length)}
    return [by_day[date] for date in sorted(by_day)]


def gone_of(lengths: Iterable[Any]) -> set[Any]:
    """Return measurements withdrawn with their scale, from lengths in the order of their writing.

    One whose scale stands again is none: the last word counts.
    """
    gone: set[Any] = set()
    for length in lengths:
        if is_withdrawn(length):
            gone.add(length.get("measurement"))
        elif is_quantity(length):
            gone.discard(length.get("measurement"))
    return gone - {None}


def rivet_lines_of(reader: Reader, rows: Mapping[str, Row]) -> dict[str, list[dict[str, Any]]]:
    """Return the rivet lines of defects, by the defect's record."""
    found: dict[str, list[dict[str, Any]]] = {}
    for one in reader.of_kind("rivet_line"):
        defect = str(last_value(one.standing, "defect"))
        if defect in rows:
            reader.rests_on.add(one.record)
            found.setdefault(defect, []).append(_rivet_line(reader, one, rows[defect]))
    return found


def _rivet_line(reader: Reader, one: StandingRecord, row: Row) -> dict[str, Any]:
    def value(field: str) -> Any:
        return last_value(one.standing, field)

    design = value("design")
    states = {field: str(value(field) or "") for field in ("as_found", "as_now")}
    states["as_now"] = states["as_now"] or states["as_found"]
    line = {**(design if isinstance(design, dict) else {}), **states, "holes": value("holes") or {}}
    return {"name": value("name"), "line": line, "along": _along(reader, value, row, line)}


def _along(reader: Reader, value: Any, row: Row, line: Mapping[str, Any]) -> str:
    """Return where a line runs, if its first station and pitch are in one unit."""
    first, pitch = value("first_station"), line.get("pitch")
    axis = _axis(reader, row)
    if not (isinstance(first, dict) and is_quantity(first) and axis):
        return ""
    if not isinstance(pitch, dict) or not is_quantity(pitch) or pitch["unit"] != first["unit"]:
        return f"Rivet 1 at {axis} {first['value']}."
    if any(tenth_nm_or_none(each) is None for each in (first, pitch)):
        return ""
    count = len(line["as_found"])
    last = Decimal(first["value"]) + Decimal(pitch["value"]) * (count - 1)
    return f"Rivet 1 at {axis} {first['value']}, rivet {count} at {axis} {last:f}."


def _axis(reader: Reader, row: Row) -> str:
    structures = reader.airframe.definition["structures"]
    return next((str(s["axis"]) for s in structures if s["name"] == row["structure"]), "")
