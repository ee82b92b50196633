"""Surveys, what they covered, stages and instruments, as records of the book."""

import json
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from skinpin_demo.pen import Intent, seeded_id

Row = Mapping[str, Any]
Cell = dict[str, Any]


def survey_id(title: str) -> str:
    """Return the record id of a survey."""
    return seeded_id("survey", title)


def stage(row: Row) -> Intent:
    """Return a stage as a record."""
    return Intent(seeded_id("stage", row["title"]), "stage", dict(row))


def instrument(row: Row) -> Intent:
    """Return an instrument as a record."""
    return Intent(seeded_id("instrument", row["name"]), "instrument", dict(row))


def survey(row: Row, airframe: str, by: str) -> Intent:
    """Return a survey as a record."""
    kept = {name: row[name] for name in ("date", "method", "scope")}
    values = {"title": row["survey"], "airframe": airframe, "by": by, **kept}
    return Intent(survey_id(row["survey"]), "survey", values)


def covered(row: Row, cover: Row, hand: str, structure: Row) -> list[Intent]:
    """Return the cells of one hand that a survey looked at, or could not look at."""
    return [_coverage(row, cover, cell, structure) for cell in _cells(cover, hand, structure)]


def _cells(cover: Row, hand: str, structure: Row) -> Iterator[Cell]:
    names = [member["name"] for member in structure["members"]]
    for bay in _pairs(_from_to(names, cover.get("along"))):
        for across in _across(cover, structure):
            yield {"structure": structure["name"], "hand": hand, "bay": bay, **across}


def _across(cover: Row, structure: Row) -> list[dict[str, Any]]:
    """Return strakes by pairs, or faces; a structure without either has its bays alone."""
    if structure["strakes"]:
        pairs = _pairs(_from_to(structure["strakes"], cover["strakes"]))
        return [{"strakes": pair} for pair in pairs]
    return [{"face": face} for face in structure["faces"]] or [{}]


def _coverage(row: Row, cover: Row, cell: Cell, structure: Row) -> Intent:
    reasons = [
        each["reason"] for each in cover.get("blocked", ()) if _is_within(cell, each, structure)
    ]
    values: dict[str, Any] = {
        "survey": survey_id(row["survey"]),
        "cell": cell,
        "method": row["method"],
        "paint": "off" if cell.get("face") in cover.get("paint_off", ()) else row["paint"],
        "looked_at": not reasons,
    }
    if reasons:
        values["blocked"] = reasons[0]
    record = seeded_id("coverage", row["survey"], json.dumps(cell, sort_keys=True))
    return Intent(record, "coverage", values)


def _is_within(cell: Cell, block: Row, structure: Row) -> bool:
    names = [member["name"] for member in structure["members"]]
    return (
        block.get("hand", cell["hand"]) == cell["hand"]
        and cell["bay"] in _pairs(_from_to(names, block["along"]))
        and (
            "strakes" not in block
            or cell["strakes"] in _pairs(_from_to(structure["strakes"], block["strakes"]))
        )
    )


def _from_to(names: Sequence[str], ends: Sequence[str] | None) -> list[str]:
    if ends is None:
        return list(names)
    first, last = (names.index(end) for end in ends)
    return list(names[first : last + 1])


def _pairs(names: Sequence[str]) -> list[list[str]]:
    return [[a, b] for a, b in zip(names, names[1:], strict=False)]
