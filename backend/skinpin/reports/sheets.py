"""One sheet a defect: place and pictures, figures, section, reasons, history, stamps."""

from collections.abc import Mapping, Sequence
from typing import Any

from skinpin.domain.kinds import ASKED, HIGHEST, is_loss
from skinpin.domain.place import view_point
from skinpin.domain.quantities import is_quantity, to_tenth_nm
from skinpin.reports.drawing import (
    Item,
    forward_arrow,
    line,
    station_x,
    text,
    to_paper,
    view_lines,
    view_of,
)
from skinpin.reports.front import GRADE_WORDS
from skinpin.reports.marks import mark
from skinpin.reports.section import plate_section
from skinpin.reports.words import (
    only,
    other_text,
    printable,
    quantity_text,
    share_text,
    thickness_words,
)

Record = Mapping[str, Any]
_WIDE = {"left": 118.0, "top": 1.5, "width": 54.0, "height": 40.5}
_CLOSE = {"left": 0.0, "top": 44.0, "width": 96.0, "height": 72.0}
_PROFILE_WIDTH = 100.0
_FIGURES = [
    ("thickness", "thickness"),
    ("length", "length"),
    ("width", "width"),
    ("depth", "depth"),
    ("hole_major", "hole, larger"),
    ("hole_minor", "hole, smaller"),
    ("run", "rivets in a row"),
    ("strength_percent", "strength of new, %"),
    ("panel_percent", "share of panel, %"),
]


def defect_sheet(
    record: Record, definition: Mapping[str, Any], standard: Mapping[str, Any]
) -> dict[str, Any]:
    """Return a defect's sheet as the template reads it."""
    row, values = record["row"], record["values"]
    standard = record.get("standard") or standard
    sightings = [record, *record.get("same", [])]
    grade = row["grade"]
    word = f" {GRADE_WORDS[grade]}" if grade is not None else ""
    return {
        "number": row["number"],
        "title": printable(
            f"{row['number']} {row.get('kind_words') or row['kind']}, {record['place_short']}"
        ),
        "mark": mark(row),
        "grade_line": f"{row['grade_words']} · {_state_words(row)}",
        "heading": printable(_heading(row, record)),
        "lines": [printable(each) for each in _lines(row, record, values)],
        "figure": _figure(record, definition),
        "pictures": _pictures(record),
        "figures": _figures(sightings),
        "section": _section(row, values, standard),
        "reasons_title": printable(
            f"{row['grade_words']}{word}, and why: {standard['name']} issue {standard['issue']}"
        ),
        "reasons": [_reason(each) for each in row["fired"]],
        "missing": printable(_missing(row)),
        "history": [_history(each) for each in record["history"]],
        "decided": printable(_decided(row)),
        "stamps": _stamps(record),
        "foot": f"Record {row['record']} · standing values SHA-256 {record['sha256'][:16]}",
    }


def _state_words(row: Mapping[str, Any]) -> str:
    state = str(row["state"])
    return "Offered for inspection" if state == "Offered" else state


def _heading(row: Mapping[str, Any], record: Record) -> str:
    kind = str(row.get("kind_words") or row["kind"])
    part = f" · {row['part']}" if row.get("part") else ""
    face = (record["place"] or {}).get("face")
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
    return [each for each in (record["place_long"], second) if each]


# ---- drawing and pictures


def _figure(record: Record, definition: Mapping[str, Any]) -> dict[str, Any]:
    height = _CLOSE["top"] + _CLOSE["height"] + (10.5 if record.get("same") else 6.5)
    view = view_of(definition, record["row"]["structure"] or "")
    items: list[Item] = []
    if view is not None and record["row"].get("station") is not None:
        items = _on_view(record, definition, view)
    return {"width": 172.0, "height": height, "items": items}


def _on_view(record: Record, definition: Mapping[str, Any], view: Mapping[str, Any]) -> list[Item]:
    paper, high = to_paper(view, 0, 6, _PROFILE_WIDTH)
    x, y = paper(*view_point(view, definition, record["place"]))
    return [
        text(0, 3.2, view["title"], size=9, bold=True),
        *forward_arrow(0, 7.2),
        *view_lines(view, paper),
        *_leaders(x, y, high + 10.5),
        {"what": "ring", "x": x, "y": y},
        *_frame_names(record, definition, view, high),
    ]


def _leaders(x: float, y: float, low: float) -> list[Item]:
    """Leaders from the place to the two pictures: A to the right, B below."""
    bend = (min(x + 9, 104.0), low + 1.5)
    end = (_WIDE["left"], low + 1.5)
    return [
        line([(x, y), bend, end], colour="ink"),
        line([(x, y), (x, _CLOSE["top"])], colour="ink"),
    ]


def _frame_names(
    record: Record, definition: Mapping[str, Any], view: Mapping[str, Any], high: float
) -> list[Item]:
    """Name the record's own member in bold, and main members where there is room."""
    paper, _ = to_paper(view, 0, 6, _PROFILE_WIDTH)
    structure = next(s for s in definition["structures"] if s["name"] == record["row"]["structure"])
    own = record["row"]["member"]
    members = structure["members"]
    wanted = [m for m in members if m["name"] == own]
    wanted += [m for m in (members[0], *members) if m["main"] or m is members[0]]
    items: list[Item] = []
    used: list[float] = []
    for member in wanted:
        x = paper(station_x(view, float(member["station"])), 0)[0]
        if all(abs(x - other) >= 7 for other in used):
            used.append(x)
            bold = member["name"] == own
            # The leader to detail B runs down at the record's own station.
            at, anchor = (x - 1, "end") if bold else (x, "middle")
            items.append(text(at, high + 10.2, member["name"], size=8.3, anchor=anchor, bold=bold))
    return items


def _pictures(record: Record) -> list[dict[str, Any]]:
    """Return details A (wide) and B (close), with their marks; a missing one is said to be so."""
    wide = _latest(record, ("wide",))
    close = _latest(record, ("close", "scale")) or _latest(record, ("wide", "after work"))
    why = str(only(record["values"], "no_photograph") or "")
    return [
        _picture(wide, "A", _WIDE, "wide", why),
        _picture(close, "B", _CLOSE, "close", why),
    ]


def _latest(record: Record, roles: Sequence[str]) -> Mapping[str, Any] | None:
    found = [each for each in record["photographs"] if each["role"] in roles]
    return max(found, key=lambda each: each["taken"], default=None)


def _picture(
    photograph: Mapping[str, Any] | None,
    letter: str,
    box: Mapping[str, float],
    role: str,
    why: str,
) -> dict[str, Any]:
    if photograph is None or photograph.get("file") is None:
        gone = (
            "is not on this server yet" if photograph else f"not taken{': ' + why if why else ''}"
        )
        return {**box, "letter": letter, "file": None, "marks": [], "caption": "",
                "words": printable(f"Photograph, {role}: {gone}.")}  # fmt: skip
    role = "close, with rule" if photograph["role"] == "scale" else photograph["role"]
    caption = f"Detail {letter}: {role}, {photograph['taken'][:10]}, {photograph['by']}."
    if photograph["marks"] and letter == "B":
        caption += " Marks on the picture only."
    wide, high = _fitted(photograph, box)
    return {
        **box,
        "width": wide,
        "height": high,
        "letter": letter,
        "file": photograph["file"],
        "caption": printable(caption),
        "words": "",
        "marks": [
            _mark_on_picture(shape, wide / photograph["width_px"] / 10)
            for shape in photograph["marks"]
        ],
    }


def _fitted(photograph: Mapping[str, Any], box: Mapping[str, float]) -> tuple[float, float]:
    scale = min(box["width"] / photograph["width_px"], box["height"] / photograph["height_px"])
    return photograph["width_px"] * scale, photograph["height_px"] * scale


def _mark_on_picture(shape: Mapping[str, Any], mm: float) -> dict[str, Any]:
    points = [[round(x * mm, 2), round(y * mm, 2)] for x, y in shape["points"]]
    return {
        "kind": shape["kind"],
        "points": points,
        "label": printable(str(shape.get("label") or "")),
    }


# ---- figures and section


def _figures(sightings: Sequence[Record]) -> dict[str, Any]:
    rows = []
    for field, label in _FIGURES:
        cells = [_cell(record["values"].get(field) or []) for record in sightings]
        if any(cell["typed"] for cell in cells):
            rows.append({"label": label, "cells": cells})
    losses = [
        share_text(only(r["values"], "depth"), only(r["values"], "thickness")) for r in sightings
    ]
    if any(losses) and is_loss(sightings[0]["row"]["kind"]):
        rows.append({"label": "loss", "cells": [{"typed": loss, "other": ""} for loss in losses]})
    return {
        "columns": [{"number": r["row"]["number"], "date": r["found_on"]} for r in sightings],
        "rows": rows,
        "notes": _figure_notes(sightings),
    }


def _cell(values: Sequence[Any]) -> dict[str, str]:
    typed = " | ".join(printable(quantity_text(value)) for value in values)
    other = " | ".join(filter(None, map(other_text, values)))
    return {"typed": typed, "other": other}


def _figure_notes(sightings: Sequence[Record]) -> list[str]:
    notes = []
    if len(sightings) > 1:
        notes.append("two sightings of one defect")
    if any(len(values) > 1 for record in sightings for values in record["values"].values()):
        notes.append("two values stand: judged on the worse until chosen")
    instruments = {
        value["instrument"]
        for record in sightings
        for field, _ in _FIGURES
        for value in record["values"].get(field) or []
        if is_quantity(value) and value.get("instrument")
    }
    if instruments:
        notes.append(f"gauge {', '.join(sorted(map(str, instruments)))}")
    return [printable(note) for note in notes]


def _section(
    row: Mapping[str, Any], values: Mapping[str, Sequence[Any]], standard: Mapping[str, Any]
) -> dict[str, Any] | None:
    """Return the plate cut through, where a loss of thickness is what was found."""
    thickness, depth = only(values, "thickness"), only(values, "depth")
    if not is_quantity(thickness) or to_tenth_nm(thickness) <= 0 or not (values.get("depth")):
        return None
    whole = to_tenth_nm(thickness)
    pit = to_tenth_nm(depth) if is_quantity(depth) else None
    limits = limits_of(standard, row["kind"], row["material"], thickness)
    return plate_section(
        float(whole), None if pit is None else float(pit), limits, quantity_text(thickness)
    )


def limits_of(
    standard: Mapping[str, Any], kind: str, material: str, thickness: Mapping[str, Any]
) -> list[tuple[str, float]]:
    """Return the limits of depth that the standard sets for a kind and material."""
    whole = to_tenth_nm(thickness)
    found: dict[str, float] = {}
    for rule in standard.get("rows", []):
        kinds, materials = rule["kinds"], rule["material"]
        if (kinds != "any" and kind not in kinds) or (
            materials != "any" and material not in materials
        ):
            continue
        for when in (rule["when"], *rule["when"].get("any", [])):
            found |= _limit(when, whole, thickness["unit"])
    return [(words, depth) for words, depth in found.items() if depth < whole]


def _limit(when: Mapping[str, Any], whole: int, unit: str) -> dict[str, float]:
    bound = when.get("over") or when.get("at_least")
    if when.get("figure") == "depth" and isinstance(bound, Mapping):
        depth = to_tenth_nm(bound)
        # Under 2 % of the plate a line can't be told from the surface.
        return {f"{bound['value']} {bound['unit']}": float(depth)} if depth * 50 > whole else {}
    if when.get("share") == ["depth", "thickness"] and isinstance(bound, str):
        share = whole * float(bound) / 100
        per_unit = 254_000_000 if unit == "in" else 10_000_000
        places = 4 if unit == "in" else 2
        return {f"{bound} % {share / per_unit:.{places}f}": share}
    return {}


# ---- reasons, history, stamps


def _reason(fired: Mapping[str, Any]) -> dict[str, Any]:
    basis = fired["basis"]
    source = " · ".join(str(basis[key]) for key in ("source", "marker") if basis.get(key))
    shape = mark({"grade": fired["grade"], "grade_known": True, "state": "Raised"})
    return {
        "rule": printable(str(fired["rule"])),
        "because": printable(str(fired["reason"])),
        "mark": {**shape, "numeral": ""},
        "grade": f"Grade {fired['grade']}",
        "source": printable(source),
        "deciding": bool(fired["deciding"]),
    }


def _missing(row: Mapping[str, Any]) -> str:
    said = []
    if row.get("overruled"):
        said.append(f"Overruled by the lead: {_overruled(row['overruled'])}.")
    if not row["grade_known"] and row["grade"] != HIGHEST:
        lacking = ", ".join(str(ASKED.get(f, {}).get("label", f)).lower() for f in row["missing"])
        said.append(f"Not known yet: {lacking or 'what would settle the grade'}.")
    return " ".join(said)


def _overruled(value: Any) -> str:
    return (
        f"Grade {value['grade']}" if isinstance(value, Mapping) and "grade" in value else str(value)
    )


def _history(each: Mapping[str, Any]) -> dict[str, Any]:
    aside = "" if each.get("counts", True) else " (does not count)"
    return {"date": each["date"][:10], "sentence": printable(each["sentence"] + aside)}


def _decided(row: Mapping[str, Any]) -> str:
    words = [str(row.get("disposition") or "Not decided yet")]
    if row.get("stage") and row["state"] not in ("Cleared", "Same as", "Raised in error"):
        words.append(f"blocks {row['stage']}")
    return " · ".join(words)


def _stamps(record: Record) -> list[dict[str, Any]]:
    row = record["row"]
    stamps = [
        {
            "act": stamp["act"],
            "number": printable(str(stamp["number"])),
            "role": stamp["role"],
            "date": stamp["date"],
            "caption": " · ".join(
                words
                for words, said in (
                    ("unsigned", not stamp["signed"]),
                    ("record changed since", not stamp["holds"]),
                )
                if said
            ),
        }
        for stamp in record["stamps"]
    ]
    acts = {stamp["act"] for stamp in record["stamps"]}
    wanted = []
    if row["state"] not in ("Cleared", "Same as", "Raised in error"):
        if "DISPOSITION" not in acts:
            wanted.append("disposition stamp, lead")
        wanted.append("inspection stamp")
        if True in (record["values"].get("independent") or []):
            wanted.append("independent inspection, a second person")
    return [*stamps, *({"act": None, "caption": words} for words in wanted)]
