"""How high the parts of a defect's sheet come out, so that it is laid out once, not by trial."""

from collections.abc import Mapping, Sequence
from typing import Any

from skinpin.reports.lettering import block_mm, lines_of, width_mm

Sheet = Mapping[str, Any]
COLUMN_WIDE, COLUMN_HIGH = 172.0, 228.0
REASON_COLUMNS = (17.0, 58.0, 27.0, 70.0)
_HEADING = 9.0
_STAMP_WIDE, _STAMP_STEP = 32.4, 33.0
_STAMP_HIGH, _STAMP_GUTTER = 18.8, 2.5
_MOMENT_COLUMN = 30.5
_CELL_GAP = 3.2
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
    drawn = (sheet["section"], (sheet["crack"] or {}).get("plot"))
    return figures_mm(sheet["figures"]) + sum(float(each["height"]) + 3.0 for each in drawn if each)


def crack_mm(crack: Mapping[str, Any] | None) -> float:
    """Return the height of a crack's record; its plot stands beside detail B."""
    if crack is None:
        return 0.0
    facts = sum(block_mm(lines_of(words, 10, COLUMN_WIDE), 10) + 2.2 for words in crack["facts"])
    return _HEADING + facts + 2.2 + _table_mm(crack["rows"], 2)


def _table_mm(rows: Sequence[Sequence[str]], wide_column: int) -> float:
    """Return the height of a table in which one column takes what the others leave."""
    if not rows:
        return 0.0
    others = [i for i in range(len(rows[0])) if i != wide_column]
    left = COLUMN_WIDE - sum(_CELL_GAP + max(width_mm(r[i], 9.5) for r in rows) for i in others)
    cells = (max(lines_of(r[wide_column], 9.5, left - _CELL_GAP), 1) for r in rows)
    return 5.0 + sum(block_mm(lines, 9.5) + 2.5 for lines in cells)


def rivets_drawn_mm(line: Mapping[str, Any]) -> float:
    """Return the height of a rivet line hole by hole, with its key."""
    said = sum(block_mm(lines_of(words, 10, COLUMN_WIDE), 10) + 3.2 for words in line["lines"])
    drawn = sum(float(row["height"]) + 1.0 for row in line["rows"])
    key = block_mm(lines_of(line["key"], 8.3, COLUMN_WIDE), 8.3) + 1.2 if line["rows"] else 0.0
    return _HEADING + said + drawn + key


def rivets_mm(line: Mapping[str, Any]) -> float:
    """Return the height of a rivet line with what it comes to."""
    if not line["rows"]:
        return rivets_drawn_mm(line)
    notes = sum(block_mm(lines_of(words, 9, COLUMN_WIDE), 9) + 1.8 for words in line["notes"])
    return rivets_drawn_mm(line) + _condition_mm(line) + _decisions_mm(line) + notes + 4.0


def _condition_mm(line: Mapping[str, Any]) -> float:
    return 5.0 + 5.0 * len(line["condition"])


def _decisions_mm(line: Mapping[str, Any]) -> float:
    rows = line["decisions"]
    if not rows:
        return 0.0
    last = max(width_mm(row[3], 9) for row in rows) + _CELL_GAP
    half = (COLUMN_WIDE - 28.0 - last) / 2
    wide = (28.0, half, half, last)
    lines = (
        max(lines_of(words, 9, each - _CELL_GAP) for words, each in zip(row, wide, strict=True))
        for row in rows
    )
    return 5.0 + sum(block_mm(count, 9) + 2.5 for count in lines)


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
    """Return the first layout, largest first, with which all fits one sheet, and its height.

    Where none does, the first with which all but history and stamps fits, or all but what rivet
    lines come to; where not even that, the largest.
    """
    around = head_mm(sheet) + notes_mm(sheet["figures"]) + reasons_mm(sheet)
    around += crack_mm(sheet["crack"]) + _SURE_MM
    lines = sheet["rivet_lines"]
    whole = sum(map(rivets_mm, lines))
    wanted = [whole + foot_mm, whole, sum(map(rivets_drawn_mm, lines))]
    rooms = [
        {
            **layout,
            "room": max(layout["height"], layout["figures_top"] + beside_mm(sheet)),
        }
        for layout in layouts
    ]
    fits = (
        layout
        for rest in wanted
        for layout in rooms
        if around + rest + layout["room"] <= COLUMN_HIGH
    )
    return next(fits, rooms[0])
