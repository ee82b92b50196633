"""The defect book as CSV (RFC 4180): one row a record, text defused so that none is a formula."""

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from skinpin.domain.quantities import (
    FIGURE,
    NOT_MEASURED,
    OTHER_UNIT,
    TENTH_NM,
    WITHDRAWN,
    figure_text,
    is_quantity,
    is_unmeasured,
    is_withdrawn,
    places_of,
    rounded_text,
    tenth_nm_or_none,
)
from skinpin.domain.stamp_words import overtaken_words

_RISKY = tuple("=+-@\t\r\n'\N{MINUS SIGN}\uff1d\uff0b\uff0d\uff20")
_QUANTITIES = ("thickness", "length", "width", "depth", "hole_major", "hole_minor")
_FIGURES = ("strength_percent", "panel_percent", "run")
_YES_NO = (
    "perforated",
    "blistered",
    "highly_stressed",
    "fastener",
    "reaches_edge",
    "joins_holes",
    "creased",
    "on_member",
    "growth_shown",
    "heads_off",
    "shank_rusted",
    "independent",
)
_WORDS = ("leak", "paint", "cleaned", "no_photograph", "note", "tag", "proposed", "reason")
_ROW_TEXT = (
    "number",
    "state",
    "grade_words",
    "deciding",
    "zone",
    "structure",
    "hand",
    "member",
    "place_words",
    "kind",
    "material",
    "part",
    "stage",
    "disposition",
    "raised_on",
    "raised_by",
    "cleared_on",
    "same_as_number",
)
_LISTS = ("also_numbers", "zones", "two_values")


def _with_units(names: Sequence[str]) -> list[str]:
    return [f"{name}_{unit}" for name in names for unit in TENTH_NM]


NUMERIC = frozenset(["grade", *_with_units(("station", *_QUANTITIES)), *_FIGURES])
COLUMNS = [
    *("number", "also_numbers", "state", "grade", "grade_known", "grade_words", "deciding"),
    *("zone", "zones", "structure", "hand", "member", *_with_units(["station"]), "place_words"),
    *("kind", "material", "part", *_with_units(_QUANTITIES), *_FIGURES, *_YES_NO, "not_measured"),
    "uncertainty",
    *("two_values", *_WORDS, "stage", "disposition", "deferred_to", "look_again_by"),
    *("raised_on", "raised_by", "cleared_on", "same_as_number", "stamps_hold", "overtaken"),
    *("photographs", "record", "wording"),
]
_NUMERIC_ALL = NUMERIC | {"photographs"}


def defects_csv(records: Iterable[Mapping[str, Any]]) -> str:
    """Return the defect book as CSV text.

    Parameters
    ----------
    records
        Each with `row` (the row of a defect), `values` ({field: [standing values]}), `unit` (of
        its structure's stations) and `wording` (for safety, the same in each).
    """
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, COLUMNS, lineterminator="\r\n")
    writer.writeheader()
    for record in records:
        cells = defect_cells(record)
        writer.writerow({name: _written(name, cells[name]) for name in COLUMNS})
    return out.getvalue()


def read_defects_csv(text: str) -> list[dict[str, str]]:
    """Return the rows of such a CSV with text as it was before it was defused."""
    rows = csv.DictReader(io.StringIO(text, newline=""))
    return [{name: cell.removeprefix("'") for name, cell in row.items()} for row in rows]


def _written(name: str, cell: str) -> str:
    # What stands in a column of figures may be any text all the same.
    is_figure = name in _NUMERIC_ALL and FIGURE.fullmatch(cell)
    return cell if is_figure else defused(cell)


def defused(text: str) -> str:
    """Return text that no spreadsheet takes for a formula: one apostrophe before a risky start.

    >>> defused("=1+1"), defused("'quoted'"), defused("plain")
    ("'=1+1", "''quoted'", 'plain')
    """
    return f"'{text}" if text.startswith(_RISKY) else text


def defect_cells(record: Mapping[str, Any]) -> dict[str, str]:
    """Return the cells of a record as plain text, by column."""
    row, values = record["row"], record["values"]
    cells = dict.fromkeys(COLUMNS, "")
    cells |= {name: _plain(row.get(name)) for name in _ROW_TEXT}
    cells |= {name: " ".join(map(str, row.get(name) or [])) for name in _LISTS}
    cells |= {name: _plain(_one(values, name)) for name in (*_FIGURES, *_YES_NO)}
    cells |= {name: " | ".join(map(str, _all(values, name))) for name in _WORDS}
    for name in _QUANTITIES:
        cells |= _quantity(name, _one(values, name))
    cells |= _quantity("station", _station(row, record.get("unit") or "in"))
    unmeasured = [name for name in _QUANTITIES if _is_unmeasured(_all(values, name))]
    return cells | {
        "grade": _plain(row.get("grade")),
        "grade_known": _plain(bool(row.get("grade_known"))),
        "deciding": _reasons(row),
        "not_measured": " ".join(unmeasured),
        "uncertainty": "; ".join(_doubts(values)),
        **_deferral(row.get("deferral")),
        "stamps_hold": _plain(row.get("stamps_hold")),
        "overtaken": overtaken_words(row),
        "photographs": str(_count(row.get("photographs"))),
        "record": str(row["record"]),
        "wording": str(record.get("wording") or ""),
    }


def _plain(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "" if value is None else str(value)


def _all(values: Mapping[str, Sequence[Any]], field: str) -> list[Any]:
    return [value for value in values.get(field) or [] if value is not None]


def _one(values: Mapping[str, Sequence[Any]], field: str) -> Any:
    """Return the only value of a field; of two that differ none, and `two_values` names it."""
    found = _all(values, field)
    return found[0] if len(found) == 1 else None


def _station(row: Mapping[str, Any], unit: str) -> dict[str, str] | None:
    station = row.get("station")
    if isinstance(station, Mapping):
        return dict(station)
    return None if station is None else {"value": str(station), "unit": unit}


def _quantity(name: str, value: Any) -> dict[str, str]:
    """Return a figure as typed in its own unit, and worked out in the other if it is one."""
    if not is_quantity(value) or is_unmeasured(value):
        return {}
    unit, other = value["unit"], OTHER_UNIT[value["unit"]]
    length = tenth_nm_or_none(value)
    if length is None:
        return {f"{name}_{unit}": value["value"]}
    places = max(places_of(value["value"]) + (3 if other == "in" else 0), 1)
    worked = rounded_text(length, TENTH_NM[other], places)
    return {f"{name}_{unit}": value["value"], f"{name}_{other}": worked}


def _is_unmeasured(some: Sequence[Any]) -> bool:
    return NOT_MEASURED in some or any(map(is_unmeasured, some))


def _doubts(values: Mapping[str, Sequence[Any]]) -> list[str]:
    """Return each figure that has a ±, as "length 0.81 ± 0.03 in", or that it was withdrawn."""
    told = [(name, _one(values, name)) for name in _QUANTITIES]
    withdrawn = [f"{name} {WITHDRAWN}" for name in _QUANTITIES if _is_withdrawn(_all(values, name))]
    told = [(name, one) for name, one in told if not is_unmeasured(one)]
    sure = [f"{name} {text}" for name, one in told if "±" in (text := figure_text(one))]
    return [*sure, *withdrawn]


def _is_withdrawn(some: Sequence[Any]) -> bool:
    return bool(some) and all(map(is_withdrawn, some))


def _reasons(row: Mapping[str, Any]) -> str:
    deciding = row.get("deciding")
    if isinstance(deciding, str) or deciding is None:
        return _plain(deciding)
    return "; ".join(
        f"{one['rule']}: {one['reason']}" if isinstance(one, Mapping) else str(one)
        for one in deciding
    )


def _deferral(value: Any) -> dict[str, str]:
    if not isinstance(value, Mapping):
        return {}
    to = value.get("to_stage") or value.get("to_date")
    return {"deferred_to": _plain(to), "look_again_by": _plain(value.get("look_again_by"))}


def _count(value: Any) -> int:
    return value if isinstance(value, int) else len(value or [])
