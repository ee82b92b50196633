"""Figures of a defect, sighting beside sighting, and the plate cut through."""

from collections.abc import Mapping, Sequence
from typing import Any

from skinpin.domain.kinds import is_loss
from skinpin.domain.quantities import to_tenth_nm
from skinpin.reports.section import plate_section
from skinpin.reports.words import is_figure, only, other_text, printable, quantity_text, share_text

Record = Mapping[str, Any]
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


def figures(sightings: Sequence[Record]) -> dict[str, Any]:
    """Return the table of figures, a column for each sighting of the defect."""
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
        str(value["instrument"])
        for record in sightings
        for field, _ in _FIGURES
        for value in record["values"].get(field) or []
        if is_figure(value) and value.get("instrument")
    }
    if instruments:
        notes.append(f"gauge {', '.join(sorted(instruments))}")
    return [printable(note) for note in notes]


def section(
    row: Mapping[str, Any], values: Mapping[str, Sequence[Any]], standard: Mapping[str, Any]
) -> dict[str, Any] | None:
    """Return the plate cut through, where a loss of thickness is what was found."""
    thickness, depth = only(values, "thickness"), only(values, "depth")
    if not is_figure(thickness) or to_tenth_nm(thickness) <= 0 or not (values.get("depth")):
        return None
    whole = to_tenth_nm(thickness)
    pit = to_tenth_nm(depth) if is_figure(depth) else None
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
