"""Figures of a defect, sighting beside sighting, and the plate cut through."""

from collections.abc import Mapping, Sequence
from typing import Any

from skinpin.domain.fields import field_of
from skinpin.domain.history import value_words
from skinpin.domain.kinds import ASKED, is_loss
from skinpin.domain.photo_measure import AID
from skinpin.domain.quantities import figure_text, to_tenth_nm, unmeasured_words
from skinpin.reports.instruments import instrument_note
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

_ANSWERS = [field for field, row in ASKED.items() if row["type"] == "yes_no"]
_ALWAYS = ("reaches_edge", "joins_holes", "growth_shown")
"""Answers that are told whatever they are: a crack is graded on its noes as well."""

_NO_CHOICE = ("standard", "survey", "number", "airframe", "state", "same_as", "evidence")
"""Fields that are no figure or word to choose between on paper."""


def figures(sightings: Sequence[Record], ready: Mapping[str, Any]) -> dict[str, Any]:
    """Return the table of figures, a column for each sighting of the defect."""
    rows = []
    for field, label in _FIGURES:
        cells = [_cell(record["values"].get(field) or []) for record in sightings]
        if any(cell["typed"] for cell in cells):
            rows.append({"label": label, "cells": cells})
    rows += _answers(sightings)
    losses = [
        share_text(only(r["values"], "depth"), only(r["values"], "thickness")) for r in sightings
    ]
    if any(losses) and is_loss(sightings[0]["row"]["kind"]):
        rows.append({"label": "loss", "cells": [{"typed": loss, "other": ""} for loss in losses]})
    return {
        "columns": [{"number": r["row"]["number"], "date": r["found_on"]} for r in sightings],
        "rows": rows,
        "two": [two for record in sightings for two in _two_values(record)],
        "notes": printable(" · ".join(_notes(sightings, ready))),
    }


def _answers(sightings: Sequence[Record]) -> list[dict[str, Any]]:
    """Return what was answered with yes or no and the grade may hang on, as the kind asks it."""
    rows = []
    for field in _ANSWERS:
        given = [record["values"].get(field) or [] for record in sightings]
        told = [" | ".join(value_words("defect", field, one, {}) for one in some) for some in given]
        if any(True in some or field in _ALWAYS for some in given if some):
            label = str(ASKED[field]["label"]).lower()
            cells = [{"typed": printable(words), "other": ""} for words in told]
            rows.append({"label": label, "cells": cells})
    return rows


def _cell(values: Sequence[Any]) -> dict[str, str]:
    typed = " | ".join(printable(quantity_text(value)) for value in values)
    other = " | ".join(filter(None, map(other_text, values)))
    return {"typed": typed, "other": other}


def _two_values(record: Record) -> list[dict[str, Any]]:
    """Return the fields of which two values stand, each value with who wrote it and when."""
    measured = record.get("measured", {})
    labels = dict(_FIGURES)
    shown = [field for field in measured if len(measured[field]) > 1 and field not in _NO_CHOICE]
    return [
        {
            "label": printable(labels.get(field) or _label(field)),
            "values": [
                {"words": printable(_told(field, one["value"])), "who": printable(_who(one))}
                for one in measured[field]
            ],
        }
        for field in sorted(shown, key=lambda field: (field not in labels, field))
    ]


def _label(field: str) -> str:
    row = field_of("defect", field)
    return str(row["label"]).lower() if row else field


def _told(field: str, value: Any) -> str:
    return quantity_text(value) or value_words("defect", field, value, {})


def _who(taken: Mapping[str, Any]) -> str:
    tablet = f", tablet {taken['tablet']}" if taken["tablet"] else ""
    return f"{taken['by']}{tablet}, {taken['date']}"


def _notes(sightings: Sequence[Record], ready: Mapping[str, Any]) -> list[str]:
    notes = []
    if len(sightings) > 1:
        notes.append("two sightings of one defect, judged on the worse")
    if any(len(values) > 1 for record in sightings for values in record["values"].values()):
        notes.append("two values stand: judged on the worse until chosen")
    taken = [
        (field, one)
        for record in sightings
        for field, some in record.get("measured", {}).items()
        for one in some
        if is_figure(one["value"]) and field in dict(_FIGURES)
    ]
    doubts = [one["value"].get("uncertainty") for _, one in taken]
    notes += _copied_notes(sightings)
    return [*notes, *_doubt_notes([one for one in doubts if is_figure(one)]), *_ways(taken, ready)]


def _copied_notes(sightings: Sequence[Record]) -> list[str]:
    """Return what was only copied: "depth 0.012 in copied from D/0001, not measured here"."""
    by_source: dict[str, list[str]] = {}
    for record in sightings:
        for field, label in _FIGURES:
            for value in record["values"].get(field) or []:
                if words := unmeasured_words(value):
                    by_source.setdefault(words, []).append(f"{label} {figure_text(value)}")
    return [f"{', '.join(dict.fromkeys(some))} {words}" for words, some in by_source.items()]


def _doubt_notes(doubts: Sequence[Mapping[str, Any]]) -> list[str]:
    """Return what the ± of figures are: twice the standard uncertainty, or an instrument's."""
    lent = [one for one in doubts if isinstance(one.get("of"), str)]
    notes = [
        f"± {one['value']} {one['unit']} is the accuracy of {printable(one['of'])}" for one in lent
    ]
    if len(lent) < len(doubts):
        rest = "any other ±" if lent else "±"
        notes.append(f"{rest} is twice the standard uncertainty (k = 2)")
    return list(dict.fromkeys(notes))


def _ways(taken: Sequence[tuple[str, Mapping[str, Any]]], ready: Mapping[str, Any]) -> list[str]:
    """Return how figures were taken: by which method, with which instrument.

    Of a figure from a photograph also what stood beside it when it was taken.
    """
    ways: dict[tuple[str, str, str], list[tuple[str, str]]] = {}
    for field, one in taken:
        method, gauge = (str(one["value"].get(name) or "") for name in ("method", "instrument"))
        beside = " ".join(one.get("warnings") or ()).rstrip(".")
        if method or gauge:
            way = (method, gauge, beside)
            ways.setdefault(way, []).append((dict(_FIGURES)[field], one["date"]))
    known, today = ready.get("instruments", {}), ready["date"]
    told = []
    for (method, gauge, beside), uses in ways.items():
        labels = ", ".join(dict.fromkeys(label for label, _ in uses))
        note = instrument_note(gauge, [day for _, day in uses], known, today) if gauge else ""
        is_said = bool(gauge) and method == known.get(gauge, {}).get("title")
        if method == "photograph" and not gauge:
            told.append(f"{labels} {AID}" + (f". {beside}" if beside else ""))
            continue
        said = [f"by {method}" if method and not is_said else "", f"with {note}" if note else ""]
        told.append(f"{labels} {', '.join(filter(None, said))}")
    return told


def section(
    row: Mapping[str, Any], values: Mapping[str, Sequence[Any]], standard: Mapping[str, Any]
) -> dict[str, Any] | None:
    """Return the plate cut through, where a loss of thickness is what was found."""
    thickness, depth = only(values, "thickness"), only(values, "depth")
    if not is_loss(row["kind"]) or True in (values.get("fastener") or []):
        return None
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
