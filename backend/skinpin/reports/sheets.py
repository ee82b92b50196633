"""One sheet a defect: place and pictures, figures, section, reasons, history, stamps."""

from collections.abc import Collection, Mapping, Sequence
from typing import Any

from skinpin.domain.kinds import ASKED, HIGHEST
from skinpin.domain.place import view_point
from skinpin.domain.stamp_words import short_words
from skinpin.reports.crack_record import crack_record
from skinpin.reports.decided import (
    decided_lines,
    found_words,
    graded_words,
    overruled_words,
    state_words,
)
from skinpin.reports.drawing import (
    Item,
    ToPaper,
    line,
    station_x,
    text,
    to_paper,
    view_head,
    view_lines,
    view_of,
)
from skinpin.reports.figures import figures, section
from skinpin.reports.front import GRADE_WORDS
from skinpin.reports.heights import chosen_layout, foot_of
from skinpin.reports.lettering import width_mm
from skinpin.reports.marks import mark
from skinpin.reports.picture_marks import marks_on_picture, overlay
from skinpin.reports.pictured import pictured
from skinpin.reports.pictures import (
    CLOSE,
    CLOSE_SMALL,
    CLOSE_SMALLER,
    CLOSE_SMALLEST,
    WIDE,
    more_lines_mm,
    pictures,
)
from skinpin.reports.rivet_row import rivet_row
from skinpin.reports.svg import line_shape, svg
from skinpin.reports.words import is_figure, marker_words, only, printable, thickness_words

Record = Mapping[str, Any]
VIEW_MM = (104.0, 44.0)
SIZES = (CLOSE, CLOSE_SMALLER, CLOSE_SMALL, CLOSE_SMALLEST)
_PROFILE_WIDTH, _PROFILE_HIGHEST, _GROUND_TOP = 100.0, 31.0, 10.0
Span = tuple[float, float]
UNSIGNED = "stamp shown, not electronically signed"


def defect_sheet(record: Record, ready: Mapping[str, Any], views: dict[str, str]) -> dict[str, Any]:
    """Return a defect's sheet as the template reads it.

    Parameters
    ----------
    views
        The line work of views by name, that sheets share; what is not in it yet is put in.
    """
    row, values = record["row"], record["values"]
    standard = record.get("standard") or ready["standard"]
    sightings = [record, *record.get("same", [])]
    grade = row["grade"]
    word = f" {GRADE_WORDS[grade]}" if grade is not None else ""
    sheet = {
        "number": row["number"],
        "title": printable(
            f"{row['number']} {row.get('kind_words') or row['kind']}, {record['place_short']}"
        ),
        "mark": mark(row),
        "grade_line": f"{graded_words(row)} · {state_words(row['state'])}",
        "heading": printable(_heading(row, record)),
        "lines": [printable(each) for each in _lines(row, record, values)],
        "figures": figures(sightings, ready),
        "section": section(row, values, standard),
        "reasons_title": printable(
            f"{row['grade_words']}{word}, and why: {standard['name']} issue {standard['issue']}"
        ),
        "reasons": [_reason(each) for each in _deciding_first(row["fired"])],
        "missing": printable(_missing(record)),
        "crack": _crack(record, ready["definition"]),
        "rivet_lines": [rivet_row(each) for each in record.get("rivet_lines", [])],
        "history": [_history(each) for each in record["history"]],
        "decided": [printable(each) for each in decided_lines(record, ready["date"])],
        "stamps": _stamps(record),
        "foot": f"Fingerprint of the values (SHA-256): {record['sha256'][:16]}",
    }
    foot = foot_of(sheet)
    layout = chosen_layout(sheet, [_layout(record, each) for each in SIZES], foot["height"])
    drawn = _drawn(record, ready, layout, views)
    return sheet | {"foot_way": foot, "layout": drawn}


def _crack(record: Record, definition: Mapping[str, Any]) -> dict[str, Any] | None:
    row = record["row"]
    if row["kind"] != "crack":
        return None
    limit = only(record["values"], "next_hole")
    units = {each["name"]: each["unit"] for each in definition["structures"]}
    unit = units.get(row["structure"], definition["unit"])
    return crack_record(record.get("observations", []), limit if is_figure(limit) else None, unit)


def _deciding_first(fired: Sequence[Mapping[str, Any]]) -> list[Mapping[str, Any]]:
    return sorted(fired, key=lambda one: not one["deciding"])


def _heading(row: Mapping[str, Any], record: Record) -> str:
    kind = str(row.get("kind_words") or row["kind"])
    part = f" · {row['part']}" if row.get("part") else ""
    place = record["place"] or {}
    face = place.get("face") if place.get("strakes") else None
    return f"{kind}{part}" + (f", {face} face" if face else "")


def _lines(
    row: Mapping[str, Any], record: Record, values: Mapping[str, Sequence[Any]]
) -> list[str]:
    material = " ".join(
        each
        for each in (record.get("material_words") or "", thickness_words(only(values, "thickness")))
        if each
    )
    notes = " · ".join(str(note) for note in values.get("note") or [])
    second = " · ".join(each for each in (material, notes) if each)
    return [each for each in (record["place_long"], second, found_words(record)) if each]


# ---- drawing and pictures


def _layout(record: Record, nearer: Mapping[str, float]) -> dict[str, Any]:
    """Return pictures with a size of the nearer one, and the height that they ask for."""
    shown = pictures(record, nearer)
    low = nearer["top"] + nearer["height"]
    by_letter = {each["letter"]: each for each in shown}
    height = low + (10.5 if record.get("same") else 6.5) + more_lines_mm(by_letter["B"])
    lower = more_lines_mm(by_letter["A"]) if "A" in by_letter else 0.0
    return {"height": height, "pictures": shown, "figures_top": 47.5 + lower}


def _drawn(
    record: Record,
    ready: Mapping[str, Any],
    layout: Mapping[str, Any],
    views: dict[str, str],
) -> dict[str, Any]:
    """Return the layout chosen with its drawing and the marks of its pictures."""
    pictures_ = [_with_overlay(each) for each in layout["pictures"]]
    letters = [each["letter"] for each in layout["pictures"]]
    found = _on_picture(record, ready, letters) or _on_lines(record, ready, letters, views)
    view, ground, items = found
    figure = {"width": 172.0, "height": layout["height"], "items": items}
    named = {"view": view, "ground": ground}
    return {**layout, "figure": figure, "pictures": pictures_, **named}


Found = tuple[str | None, dict[str, Any] | None, list[Item]]


def _on_lines(
    record: Record, ready: Mapping[str, Any], letters: Collection[str], views: dict[str, str]
) -> Found:
    definition = ready["definition"]
    view = view_of(definition, record["row"]["structure"] or "")
    if view is None or record["row"].get("station") is None:
        return None, None, []
    if view["name"] not in views:
        _, paper, _ = _head_and_paper(record, view)
        views[view["name"]] = svg(*VIEW_MM, map(line_shape, view_lines(view, paper)))
    return view["name"], None, _on_view(record, definition, view, letters)


def _on_picture(record: Record, ready: Mapping[str, Any], letters: Collection[str]) -> Found | None:
    """Show the place on a calibrated drawing, where one is at hand that it lies on."""
    found = pictured(
        ready["definition"], record, ready.get("drawings", {}), _GROUND_TOP, _PROFILE_HIGHEST
    )
    if found is None:
        return None
    named = {**found.view, "title": _sheet_title(found.view)}
    head, _ = view_head(named, record["row"]["hand"], WIDE["left"] - 4)
    low = found.ground["top"] + found.ground["height"]
    ring: Item = {"what": "ring", "x": found.x, "y": found.y}
    return None, found.ground, [*head, *_leaders(found.x, found.y, low, letters), ring]


def _sheet_title(view: Mapping[str, Any]) -> str:
    issue = f" ISSUE {view['issue']}" if view.get("issue") else ""
    sheet = f", SHEET {view['sheet']}{issue}" if view.get("sheet") else ""
    return printable(f"{view['title']}{sheet}".upper())


def _with_overlay(picture: Mapping[str, Any]) -> dict[str, Any]:
    ground = picture["ground"]
    marks = marks_on_picture(picture["marks"], ground) if ground else []
    strokes, labels = overlay(marks, picture["width"], picture["height"])
    plain = {name: value for name, value in picture.items() if name not in ("marks", "ground")}
    return plain | {"overlay": strokes, "labels": labels}


def _on_view(
    record: Record,
    definition: Mapping[str, Any],
    view: Mapping[str, Any],
    letters: Collection[str],
) -> list[Item]:
    head, paper, low = _head_and_paper(record, view)
    x, y = paper(*view_point(view, definition, record["place"]))
    names = _frame_names(record, definition, view, (paper, low), _taken(x, letters))
    ring: Item = {"what": "ring", "x": x, "y": y}
    return [*head, *_leaders(x, y, low + 4.5, letters), ring, *names]


def _head_and_paper(record: Record, view: Mapping[str, Any]) -> tuple[list[Item], ToPaper, float]:
    """Return a view's title, the way to paper under it, and where the view ends below."""
    head, more = view_head(view, record["row"]["hand"], WIDE["left"] - 4)
    paper, high = to_paper(view, 0, 6 + more, _PROFILE_WIDTH, _PROFILE_HIGHEST - more)
    return head, paper, high + 6 + more


def _taken(x: float, letters: Collection[str]) -> list[Span]:
    """Return what the leaders from a place at `x` cross of the line where members are named."""
    return [(x - 0.4, x + 0.4), *([(x + 2.5, x + 9)] if "A" in letters else [])]


def _leaders(x: float, y: float, low: float, letters: Collection[str]) -> list[Item]:
    """Leaders from the place to the pictures that are there: A to the right, B below."""
    bend = (min(x + 9, 104.0), low + 1.5)
    end = (WIDE["left"], low + 1.5)
    to_wide = [line([(x, y), bend, end], colour="ink")] if "A" in letters else []
    return [*to_wide, line([(x, y), (x, CLOSE["top"])], colour="ink")]


def _frame_names(
    record: Record,
    definition: Mapping[str, Any],
    view: Mapping[str, Any],
    sheet: tuple[ToPaper, float],
    taken: list[Span],
) -> list[Item]:
    """Name the record's own member in bold, and main members where there is room."""
    paper, low = sheet
    structure = next(s for s in definition["structures"] if s["name"] == record["row"]["structure"])
    own = record["row"]["member"]
    members = structure["members"]
    others = [m for m in members if (m["main"] or m is members[0]) and m["name"] != own]
    items: list[Item] = []
    for member in (*(m for m in members if m["name"] == own), *others):
        x = paper(station_x(view, float(member["station"])), 0)[0]
        name, bold = member["name"], member["name"] == own
        wide = width_mm(name, 8.3, bold)
        left = _own_left(x, wide, taken) if bold else x - wide / 2
        span = (left, left + wide)
        if bold or not any(span[0] < b + 1.2 and a - 1.2 < span[1] for a, b in taken):
            taken.append(span)
            items.append(text(left, low + 4.2, name, size=8.3, bold=bold))
    return items


def _own_left(x: float, wide: float, leaders: Sequence[Span]) -> float:
    """Return where a record's own member is named: left of the leaders, or right of them."""
    left = min(x, leaders[0][0]) - 0.8 - wide
    return left if left >= 0 else max(x, leaders[-1][1]) + 0.8


# ---- reasons, history, stamps


def _reason(fired: Mapping[str, Any]) -> dict[str, Any]:
    basis = fired["basis"]
    told = (basis.get("source"), marker_words(basis.get("marker")))
    source = " · ".join(str(each) for each in told if each)
    shape = mark({"grade": fired["grade"], "grade_known": True, "state": "Raised"})
    return {
        "rule": printable(str(fired["rule"])),
        "because": printable(str(fired["reason"])),
        "mark": {**shape, "numeral": ""},
        "grade": f"Grade {fired['grade']}",
        "source": printable(source),
        "deciding": bool(fired["deciding"]),
    }


def _missing(record: Record) -> str:
    row, overruled = record["row"], overruled_words(record)
    said = [overruled] if overruled else []
    if not row["grade_known"] and row["grade"] != HIGHEST:
        lacking = ", ".join(str(ASKED.get(f, {}).get("label", f)).lower() for f in row["missing"])
        said.append(f"Not known yet: {lacking or 'what would settle the grade'}.")
    return " ".join(said)


def _history(each: Mapping[str, Any]) -> dict[str, Any]:
    aside = "" if each.get("counts", True) else " (does not count)"
    when = f"{each['date'][:10]} {each['time']}"
    told = {"date": when, "sentence": printable(each["sentence"] + aside)}
    parts = [*each.get("parts", ()), [aside, False]] if "parts" in each else []
    return told | {"parts": [[printable(words), is_struck] for words, is_struck in parts]}


def _is_overrule(record: Record, stamp: Mapping[str, Any]) -> bool:
    """Say whether a lead's stamp lies in the act that overruled the grade, not in a disposition."""
    return stamp["act"] == "DISPOSITION" and bool(stamp.get("overrules"))


def _stamps(record: Record) -> list[dict[str, Any]]:
    row = record["row"]
    stamps = [
        {
            "act": "OVERRULE" if _is_overrule(record, stamp) else stamp["act"],
            "number": printable(str(stamp["number"])),
            "role": stamp["role"],
            "date": stamp["date"],
            "caption": " · ".join(
                words
                for words in ("" if stamp["signed"] else UNSIGNED, short_words(stamp))
                if words
            ),
        }
        for stamp in record["stamps"]
    ]
    acts = {stamp["act"] for stamp in stamps}
    wanted = []
    if row["state"] not in ("Cleared", "Same as", "Raised in error"):
        if "DISPOSITION" not in acts:
            wanted.append("disposition stamp, lead")
        wanted.append("inspection stamp")
        if True in (record["values"].get("independent") or []):
            wanted.append("independent inspection, a second person")
    return [*stamps, *({"act": None, "caption": words} for words in wanted)]
