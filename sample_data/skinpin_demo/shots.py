"""The pictures of each record: which are taken, when, of what, and what is marked on them."""

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from typing import Any

from skinpin_demo.pen import Intent, seeded_id
from skinpin_demo.photographs.damage import Damage
from skinpin_demo.photographs.picture import Shot, length_points, ring_points

Record = Mapping[str, Any]
Move = Mapping[str, Any]
MINUTE = timedelta(minutes=1)
#: Inches shown where no size was measured: along, across.
_SIZES = {
    "missing part": (2.0, 0.9),
    "leak": (1.6, 2.0),
    "wrong part": (1.8, 1.7),
    "fabric": (2.2, 1.8),
    "elongated hole": (0.5, 0.5),
    "surface corrosion": (2.4, 0.8),
}
_RIVETED = ("loose rivets", "sheared rivets")
_PITCH_MOST = 1.2
#: What is to be seen once the work is done, where that is no dressed plate.
_AFTER = {"loose rivets": "new rivets", "sheared rivets": "new rivets", "wrong part": "new bolt"}


def defect_id(number: str) -> str:
    """Return the record id of a defect."""
    return seeded_id("defect", number)


def photograph_id(number: str, role: str) -> str:
    """Return the record id of a photograph of a defect."""
    return seeded_id("photograph", number, role)


def all_shots(records: list[dict[str, Any]]) -> Iterator[Shot]:
    """Return every picture that the histories need."""
    for record in records:
        yield from shots_of(record)
        for at, move in enumerate(record["moves"]):
            if "measure" in move:
                yield later_shot(record, move, f"scale,{at}")
            elif move.get("move") == "offer":
                yield later_shot(record, move, "after work")


def shots_of(record: Record) -> list[Shot]:
    """Return the pictures taken when a record was found: wide, then close."""
    damage = damage_of(record["found"])
    at = datetime.fromisoformat(record["at"])
    return [
        _shot(record, "wide", at, damage),
        _shot(record, "close", at + 2 * MINUTE, damage),
    ]


def later_shot(record: Record, move: Move, role: str) -> Shot:
    """Return a picture taken at a later act, with what is to be seen by then."""
    found, at = dict(record["found"]), datetime.fromisoformat(move["at"])
    if role == "after work":
        damage = damage_of(found)
        kind = "new bolt" if damage.fastener else _AFTER.get(damage.kind, "after work")
        done = Damage(kind, damage.length, damage.width, damage.material, damage.run)
        return _shot(record, role, at, done)
    for name, value in move["measure"].items():
        if isinstance(value, str):
            found[name] = {"value": value}
    return _shot(record, role, at, damage_of(found))


def _shot(record: Record, role: str, at: datetime, damage: Damage) -> Shot:
    place = record["place"]
    offset = place["offset"]["value"]
    where = f"{place['member'].replace(' ', '')}+{offset}{place['hand']}"
    strakes = "-".join(place.get("strakes", []))
    words = f"{where}_{strakes}" if strakes else where
    return Shot(record["number"], words, role, at.isoformat(), damage)


def damage_of(found: Mapping[str, Any]) -> Damage:
    """Return what a photograph of a record is to show."""
    kind, run = found["kind"], int(found.get("run", 0))
    along, across = _SIZES.get(kind, (2.0, 0.1))
    length = _inches(found.get("length"), along)
    if kind in _RIVETED:
        length = min(length, max(run - 1, 1) * _PITCH_MOST)
        across = 0.4
    return Damage(
        kind,
        length,
        max(_inches(found.get("width"), across), 0.4 if kind in _RIVETED else 0.0),
        material=found.get("material", "AL"),
        run=run,
        perforated=bool(found.get("perforated")),
        blistered=bool(found.get("blistered")),
        fastener=bool(found.get("fastener")),
    )


def _inches(quantity: Any, otherwise: float) -> float:
    return float(quantity["value"]) if isinstance(quantity, dict) else otherwise


def marks_on(record: Record, shot: Shot) -> list[Intent]:
    """Return the ring about what was found, and its length where it lies in the picture."""
    found = shot.damage
    if found.kind == "nil":
        return []
    mark = seeded_id("mark", record["number"], shot.role)
    return [_mark(mark, record, shot, {"kind": "ring", "points": ring_points(shot)})]


def length_mark(record: Record, shot: Shot, length: Any) -> list[Intent]:
    """Return a length known with its ±, laid between its ends on the picture."""
    if not isinstance(length, dict) or float(length["value"]) != shot.damage.length:
        return []
    spread = length.get("uncertainty")
    if not spread:
        return []
    figure = f"{length['value']} ± {spread['value']}"
    shape = {
        "kind": "line",
        "points": length_points(shot),
        "label": f"{figure} {length['unit']}",
    }
    mark = seeded_id("mark", record["number"], shot.role, "length")
    return [_mark(mark, record, shot, shape)]


def _mark(mark: str, record: Record, shot: Shot, shape: dict[str, Any]) -> Intent:
    photograph = photograph_id(record["number"], shot.role)
    return Intent(mark, "mark", {"photograph": photograph, "shape": shape, "struck": False})
