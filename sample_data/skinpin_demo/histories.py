"""The histories of the demo as data, with what the files leave out filled in."""

import json
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from skinpin_demo.workdays import dated_moves

DATA = Path(__file__).parent / "data"
QUANTITIES = ("thickness", "length", "width", "depth", "hole_major", "hole_minor")
_BY_LEAD = ("assess", "accept", "defer", "decide", "same as", "raised in error")

Record = dict[str, Any]


def histories() -> dict[str, Any]:
    """Return the demo's histories: people, surveys, coverage, registers, and the records."""
    data: dict[str, Any] = _read(DATA / "histories.json")
    records: list[Record] = []
    for survey in data["surveys"]:
        file = DATA / "records" / f"{survey['survey'].lower().replace('-', '_')}.json"
        records += [_filled(record, survey, data) for record in _read(file)]
    return {**data, "records": records}


def _read(path: Path) -> Any:
    return json.loads(path.read_text(encoding="utf-8"))


def _filled(record: Record, survey: Mapping[str, Any], data: Mapping[str, Any]) -> Record:
    place, found = record["place"], record["found"]
    typed = {name: _quantity(name, value, data) for name, value in found.items()}
    tablets = {each["by"]: each["tablet"] for each in data["surveys"]}
    return {
        **record,
        "survey": survey["survey"],
        "by": survey["by"],
        "tablet": survey["tablet"],
        "place": {**place, "offset": {"value": place["offset"], "unit": "in"}},
        "found": typed,
        "moves": _moves(record, tablets, date.fromisoformat(data["as_of"])),
    }


def _quantity(name: str, value: Any, data: Mapping[str, Any]) -> Any:
    """Return a figure as typed with its unit, and how it is always measured in this workshop."""
    if name not in QUANTITIES or not isinstance(value, str) or value == "not measured":
        return value
    return {"value": value, "unit": data["workshop"]["unit"], **data["methods"][name]}


def _moves(record: Record, tablets: Mapping[str, str], as_of: date) -> Sequence[Record]:
    moves = []
    for move in dated_moves(record["number"], record["at"], record["moves"], as_of):
        by = move.get("by") or ("Lead" if move.get("move") in _BY_LEAD else None)
        if by is None:
            raise ValueError(f"{record['number']}: '{move.get('move')}' names nobody; add \"by\".")
        moves.append({**move, "by": by, "tablet": tablets.get(by, "A")})
    return moves
