"""The first sheet of a zone report: looked at, where it is, grade by state, the records."""

from collections.abc import Mapping, Sequence
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from skinpin.reports.cells import Grid, cells_drawing, looked_at, looks_of
from skinpin.reports.decided import graded_words, state_words
from skinpin.reports.drawing import (
    Item,
    Point,
    hand_word,
    line,
    text,
    to_paper,
    view_head,
    view_lines,
    view_of,
    zone_outline,
)
from skinpin.reports.marks import mark
from skinpin.reports.words import found_words, printable

Ready = Mapping[str, Any]
GRADE_WORDS = {4: "beyond limits", 3: "severe", 2: "moderate", 1: "light", 0: "sound"}
STATES = ["Raised", "Assessed", "In work", "Offered", "Deferred", "Cleared"]
_WHERE_MM = 96.0
_ASIDE = ("Draft", "Same as", "Raised in error")


def front(ready: Ready) -> dict[str, Any]:
    """Return the first sheet as the template reads it."""
    rows = [record["row"] for record in ready["records"]]
    live = [row for row in rows if row["state"] not in _ASIDE and row["kind"] != "nil"]
    return {
        "zone": f"Zone {ready['zone']}" if ready["rules"] else "No zone",
        "title": printable(ready["title"]),
        "looked": _looked(ready),
        "where": _where(ready, live),
        "totals": _totals(live),
        "totals_note": printable(_aside(rows) + _unplaced_words(ready)),
        "records": [_record(one) for one in ready["records"] if one["row"]["state"] != "Draft"],
        "issues": [_issue(ready, rows)],
    }


# ---- what was looked at


def _looked(ready: Ready) -> dict[str, Any]:
    shown: list[dict[str, Any]] = []
    seen_count, all_count, lines = 0, 0, []
    found: list[Any] = []
    covered: dict[str, list[str]] = {}
    for rule in ready["rules"]:
        grid = Grid(ready["definition"], rule)
        if "cells" not in rule:
            continue
        seen, why = looked_at(grid, ready["coverage"])
        for survey, looks in looks_of(grid, ready["coverage"]).items():
            covered.setdefault(survey, []).append(_looks_words(grid, looks))
        seen_count, all_count = seen_count + len(seen), all_count + len(grid.cells())
        lines += _not_looked_at(grid, seen, why)
        rows = [
            {**record["row"], **_spot(record)}
            for record in ready["records"]
            if record["row"]["structure"] == rule["structure"] and _is_placed(record["row"])
        ]
        shown.append(cells_drawing(grid, seen, rows, _aside_words(grid), why))
        live = [row for row in rows if row["kind"] != "nil"]
        found += [row for row in live if grid.cell_of_row(row) in seen]
        lines += _not_marked(grid, seen, live)
    if seen_count:
        lines.append(_density_words(len(found), seen_count))
    cells = f"{seen_count} of {all_count} cells" if all_count else "Counted in the zones beside"
    if not ready["rules"]:
        cells = "No cells: nothing here lies in a zone"
    return {
        "cells": cells,
        "lines": [printable(each) for each in dict.fromkeys(lines)],
        "surveys": [
            _survey(each, covered[each["record"]])
            for each in ready["surveys"]
            if each["record"] in covered
        ],
        "drawings": shown[:2],
    }


def _not_marked(grid: Grid, seen: set[Any], rows: Sequence[Mapping[str, Any]]) -> list[str]:
    """Return in words the records in cells that nobody marked as looked at."""
    cells = {str(row["number"]): grid.cell_of_row(row) for row in rows}
    numbers = sorted(number for number, cell in cells.items() if cell and cell not in seen)
    if not numbers:
        return []
    return [f"Recorded in a cell that nobody marked as looked at: {', '.join(numbers)}."]


def _density_words(found: int, cells: int) -> str:
    """Return how often something was found, for the cells looked at and for no others."""
    if found == 0:
        return f"No record in the {cells} cells looked at."
    share = Decimal(100 * found) / cells
    text_of = share.quantize(Decimal("0.1"), ROUND_HALF_UP)
    records = f"{found} record{'' if found == 1 else 's'}"
    return f"{records} in the {cells} cells looked at: {text_of} for 100 cells."


def _spot(record: Mapping[str, Any]) -> dict[str, Any]:
    place = record["place"] or {}
    return {"strakes": place.get("strakes"), "face": place.get("face")}


def _is_placed(row: Mapping[str, Any]) -> bool:
    return row.get("station") is not None and row["state"] not in _ASIDE


def _aside_words(grid: Grid) -> str:
    between = f", {_line_word(grid.lines[0])} to {_line_word(grid.lines[-1])}"
    return hand_word(grid.hand) + (between if grid.is_shell else "")


def _line_word(name: str) -> str:
    words = {"K": "keel", "C": "chine", "G": "gunwale", "CL": "deck centreline"}
    return words.get(name, name)


def _not_looked_at(grid: Grid, seen: set[Any], why: Mapping[Any, str]) -> list[str]:
    """Return in words which bays were not looked at, and why."""
    missing: dict[str, list[tuple[Any, Any]]] = {}
    for cell in grid.cells():
        if cell not in seen:
            missing.setdefault(why.get(cell, ""), []).append(cell)
    if not missing:
        return ["Every cell was looked at."]
    lines = [] if seen else ["Nothing in it was looked at."]
    for reason, cells in missing.items():
        words = "Not looked at" if reason else "Never looked at"
        lines.append(f"{words}: {_cells_words(grid, cells)}.")
        lines.append(f"Why: {reason}." if reason else "No survey says why.")
    return lines


def _cells_words(grid: Grid, cells: Sequence[tuple[Any, Any]]) -> str:
    """Return cells as bays, runs of bays together, and how many of their strakes or parts."""
    order = {bay: at for at, bay in enumerate(grid.bays())}
    bays = sorted({bay for bay, _ in cells}, key=order.__getitem__)
    runs: list[list[Any]] = []
    for bay in bays:
        if runs and runs[-1][1] == bay[0]:
            runs[-1][1] = bay[1]
        else:
            runs.append(list(bay))
    named = ", ".join(f"{first}–{last}" for first, last in runs)
    if len(cells) == len(bays) * len(grid.rows()):
        return f"{named}, all {len(grid.rows())} {'strakes' if grid.is_shell else 'parts'}"
    return f"{named}, {len(cells)} cells"


def _looks_words(grid: Grid, looks: Sequence[Mapping[str, Any]]) -> str:
    """Return what a survey says of a zone: the cells looked at, and how many could not be."""
    seen, why = looked_at(grid, looks)
    said = [_cells_words(grid, [cell for cell in grid.cells() if cell in seen])] if seen else []
    if why:
        said.append(f"{len(why)} could not be looked at")
    bays = dict.fromkeys("–".join(each["cell"]["bay"]) for each in looks)
    return "; ".join(said) or f"{', '.join(bays)}, not said which part"


def _survey(survey: Mapping[str, Any], cells: Sequence[str]) -> dict[str, str]:
    tablet = f", tablet {survey['tablet']}" if survey.get("tablet") else ""
    return {
        "title": printable(survey["title"]),
        "line": printable(f"{survey['date']} {survey['by']}{tablet}"),
        "method": printable(survey["method"]),
        "cells": printable("; ".join(dict.fromkeys(cells))),
    }


# ---- where it is


def _unplaced_words(ready: Ready) -> str:
    """Return the records that no report of a zone has, so that none is silently left out."""
    numbers = ready.get("unplaced", ())
    if not numbers or not ready["rules"]:
        return ""
    return f" In no zone, see the report of what lies in none: {', '.join(numbers)}."


def _where(ready: Ready, live: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    still_open = [row for row in live if row["state"] != "Cleared"]
    stages = sorted({row["stage"] for row in still_open if row.get("stage")})
    blocks = f" Blocks {', '.join(stages)}." if stages else ""
    count = f"{len(still_open)} record{'' if len(still_open) == 1 else 's'}"
    extents = [_extent_words(rule, ready["definition"]) for rule in ready["rules"]]
    lines = [*extents, f"Open: {count}.{blocks}"]
    return {"lines": [printable(each) for each in lines], "drawing": _where_drawing(ready)}


def _extent_words(rule: Mapping[str, Any], definition: Mapping[str, Any]) -> str:
    start, end = (None if each is None else each.removesuffix(".001") for each in rule["along"])
    named = [_member_words(definition, rule["structure"], each) for each in (start, end)]
    words = f"{rule['structure']}, {hand_word(rule['hand']).lower()}"
    if start and end:
        words += f", {named[0]} to {named[1]}"
    if end != rule["along"][1] or end is None:
        return f"{words}."
    return f"{words}. A point on {named[1].partition(' (')[0]} belongs to the zone beyond."


def _member_words(definition: Mapping[str, Any], structure: str, station: str | None) -> str:
    """Return a station by the member that stands at it, where one does."""
    if station is None:
        return ""
    found = next(s for s in definition["structures"] if s["name"] == structure)
    for member in found["members"]:
        if float(member["station"]) == float(station):
            return f"{member['name']} ({found['axis']} {station})"
    return f"{found['axis']} {station}"


def _where_drawing(ready: Ready) -> dict[str, Any]:
    if not ready["rules"]:
        return _words_drawing("Off the aircraft, or at a member that is not in this definition.")
    rule = ready["rules"][0]
    view = view_of(ready["definition"], rule["structure"])
    if view is None:
        name = rule["structure"].lower()
        return _words_drawing(f"The airframe definition has no view of the {name}.")
    head, more = view_head(view, rule["hand"], _WHERE_MM)
    paper, high = to_paper(view, 2, 7.5 + more, 92.0)
    outline = [paper(x, y) for x, y in zone_outline(ready["definition"], view, rule)]
    items: list[Item] = [
        *head,
        *view_lines(view, paper),
        line(outline, "thick", "area", "ink", closed=True),
        _name(f"ZONE {ready['zone']}", outline, high + more + 11.7),
    ]
    return {"width": _WHERE_MM, "height": high + more + 12.5, "items": items}


def _words_drawing(words: str) -> dict[str, Any]:
    items = [text(0, 5, words, size=9, colour="ink2")]
    return {"width": _WHERE_MM, "height": 8.0, "items": items}


def _name(words: str, outline: Sequence[Point], low: float) -> Item:
    left = min(x for x, _ in outline)
    return text(min(max(left, 0), 78), low, words, size=9, bold=True)


# ---- grade by state


def _totals(live: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    table = []
    for grade in (4, 3, 2, 1, 0):
        rows = [row for row in live if row["grade"] == grade]
        shape = mark({"grade": grade, "grade_known": True, "state": "Raised"})
        table.append(_counts(rows, f"{grade} {GRADE_WORDS[grade]}", shape))
    ungraded = [row for row in live if row["grade"] is None]
    if ungraded:
        shape = mark({"grade": None, "grade_known": False, "state": "Raised"})
        table.append(_counts(ungraded, "not graded", shape))
    return [*table, _counts(live, "all live sightings", None)]


def _counts(
    rows: Sequence[Mapping[str, Any]], words: str, shape: Mapping[str, Any] | None
) -> dict[str, Any]:
    counts = [sum(row["state"] == state for row in rows) for state in STATES]
    return {
        "mark": shape and {**shape, "numeral": ""},
        "words": words,
        "counts": [str(count) if count else "–" for count in (*counts, len(rows))],
    }


def _aside(rows: Sequence[Mapping[str, Any]]) -> str:
    same = [
        f"{row['number']}, same as {row.get('same_as_number') or 'another record'}"
        for row in rows
        if row["state"] == "Same as"
    ]
    named = [
        (
            "raised in error",
            [r for r in rows if r["state"] == "Raised in error"],
            "none raised in error",
        ),
        ("nil record", [r for r in rows if r["kind"] == "nil"], "no nil record"),
        ("drafts, left out", [r for r in rows if r["state"] == "Draft"], "no draft left out"),
    ]
    rest = [
        f"{words}: {', '.join(r['number'] for r in found)}" if found else none
        for words, found, none in named
    ]
    first = "and " + "; ".join(same) + ". " if same else ""
    listed = ", ".join(rest)
    return first + listed[:1].upper() + listed[1:] + "."


# ---- records


def _record(record: Mapping[str, Any]) -> dict[str, Any]:
    row = record["row"]
    state = row["state"]
    if state == "Same as" and row.get("same_as_number"):
        state = f"Same as {row['same_as_number']}"
    if state == "Cleared" and record.get("cleared_on"):
        state = f"Cleared {record['cleared_on']}"
    decided = row.get("disposition")
    return {
        "number": row["number"],
        "place": printable(record["place_short"]),
        "found": printable(found_words(row, record["values"])),
        "mark": mark(row),
        "grade": graded_words(row),
        "state": state_words(state),
        "decided": printable(decided or ""),
    }


def _issue(ready: Ready, rows: Sequence[Mapping[str, Any]]) -> list[str]:
    """Return the issue with the last number of every tablet that this report holds."""
    last: dict[str, str] = {}
    for number in (row["number"] for row in rows if row["number"] and row["state"] != "Draft"):
        letter = number.partition("/")[0]
        last[letter] = max(last.get(letter, ""), number)
    held = " · ".join(last[letter] for letter in sorted(last)) or "none in this zone"
    return ["1, draft", ready["date"], "not issued yet", held]
