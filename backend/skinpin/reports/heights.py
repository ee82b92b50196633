"""How high the parts of a defect's sheet come out, so that it is laid out once, not by trial."""

from collections.abc import Mapping, Sequence
from typing import Any

from skinpin.reports.lettering import block_mm, lines_of, width_mm

Sheet = Mapping[str, Any]
COLUMN_WIDE, COLUMN_HIGH = 172.0, 228.0
REASON_COLUMNS = (17.0, 58.0, 27.0, 70.0)
_HEADING = 9.0
_STAMP_WIDE, _STAMP_STEP = 30.0, 33.0
_STAMP_HIGH, _STAMP_GUTTER = 18.8, 2.5
_MOMENT_COLUMN = 30.5
_SURE_MM = 1.0
"""Kept free, as a line may break a little earlier on paper than is reckoned here."""


def head_mm(sheet: Sheet) -> float:
    """Return the height of a sheet's head."""
    number, state = width_mm(sheet["number"], 25, bold=True), width_mm(sheet["grade_line"], 10.5)
    wide = COLUMN_WIDE - 24 - max(number, state)
    lines = lines_of(sheet["heading"], 13, wide, bold=True)
    more = [lines_of(words, 10, wide) for words in sheet["lines"]]
    facts = 1.6 + block_mm(lines, 13) + sum(block_mm(each, 10) + 2.5 for each in more)
    return max(facts, 18.5) - 3.0


def reasons_mm(sheet: Sheet) -> float:
    """Return the height of the reasons."""
    said = (
        block_mm(lines_of(sheet["missing"], 10, COLUMN_WIDE), 10) + 2.5 if sheet["missing"] else 0
    )
    if not sheet["reasons"]:
        return _HEADING + said + 5
    return _HEADING + said + 5 + sum(map(_reason_mm, sheet["reasons"]))


def _reason_mm(reason: Mapping[str, Any]) -> float:
    because = block_mm(lines_of(reason["because"], 10, REASON_COLUMNS[1] - 3.2), 10)
    source = block_mm(lines_of(reason["source"], 8.3, REASON_COLUMNS[3] - 3.2), 8.3)
    return max(because, source, 3.0) + 2.3


def figures_mm(figures: Mapping[str, Any]) -> float:
    """Return the height of the figures with their notes."""
    one = len(figures["columns"]) == 1
    rows = [
        4.5 if one or not any(c["other"] for c in row["cells"]) else 7.8 for row in figures["rows"]
    ]
    high = 8.0 + sum(rows) if rows else 0.0
    for two in figures["two"]:
        high += 6.2 + -(-len(two["values"]) // 2) * 9.4
    return high


def notes_mm(figures: Mapping[str, Any]) -> float:
    """Return the height of what is said under drawing and pictures."""
    words = figures["notes"]
    return block_mm(lines_of(words, 8.3, COLUMN_WIDE), 8.3) + 1.2 if words else 0.0


def beside_mm(sheet: Sheet) -> float:
    """Return the height of what stands right of detail B: figures and section."""
    section = sheet["section"]
    return figures_mm(sheet["figures"]) + (section["height"] + 3.0 if section else 0.0)


def history_mm(sheet: Sheet, wide: float) -> float:
    """Return the height of the history in a column."""
    room = wide - _MOMENT_COLUMN - 1.4
    rows = (block_mm(lines_of(each["sentence"], 9.5, room), 9.5) + 2 for each in sheet["history"])
    return _HEADING + sum(rows)


def decided_mm(sheet: Sheet, abreast: int) -> float:
    """Return the height of what was decided, with so many stamps abreast."""
    wide = min(abreast * _STAMP_STEP, COLUMN_WIDE)
    said = [block_mm(lines_of(words, 10, wide), 10) + 1.4 for words in sheet["decided"]]
    stamps = sheet["stamps"]
    rows = [stamps[at : at + abreast] for at in range(0, len(stamps), abreast)]
    foot = block_mm(lines_of(sheet["foot"], 8.3, wide), 8.3) + 2
    return _HEADING + sum(said) + sum(map(_stamps_mm, rows)) + foot


def _stamps_mm(stamps: Sequence[Mapping[str, Any]]) -> float:
    captions = (
        lines_of(each["caption"], 8.3, _STAMP_WIDE) if each["caption"] else 0 for each in stamps
    )
    return _STAMP_HIGH + block_mm(max(captions), 8.3) + _STAMP_GUTTER


def foot_of(sheet: Sheet) -> dict[str, Any]:
    """Return how history and stamps stand: side by side or one under the other, the lowest way."""
    stamps = len(sheet["stamps"])
    ways = [_beside(sheet, abreast) for abreast in ((2, 3) if stamps > 2 else (2,))]
    under = history_mm(sheet, COLUMN_WIDE) + decided_mm(sheet, 5)
    ways.append({"way": "below", "abreast": 5, "height": under})
    best = min(ways, key=lambda way: way["height"] + (4 if way["way"] == "below" else 0))
    return best | {"breakable": best["height"] + _SURE_MM > COLUMN_HIGH}


def _beside(sheet: Sheet, abreast: int) -> dict[str, Any]:
    wide = COLUMN_WIDE - abreast * _STAMP_STEP - 4
    high = max(history_mm(sheet, wide), decided_mm(sheet, abreast))
    return {"way": "beside", "abreast": abreast, "height": high}


def chosen_layout(
    sheet: Sheet, layouts: Sequence[Mapping[str, Any]], foot_mm: float
) -> dict[str, Any]:
    """Return the first layout, largest first, with which all fits one sheet, and its height."""
    around = head_mm(sheet) + notes_mm(sheet["figures"]) + reasons_mm(sheet)
    rest = around + foot_mm + _SURE_MM
    is_long = bool(sheet["crack"] or sheet["rivet_lines"])
    rooms = [
        {
            **layout,
            "room": max(layout["height"], layout["figures_top"] + beside_mm(sheet)),
        }
        for layout in layouts
    ]
    fits = (layout for layout in rooms if not is_long and rest + layout["room"] <= COLUMN_HIGH)
    return next(fits, rooms[1] if sheet["rivet_lines"] else rooms[0])
