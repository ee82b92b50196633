"""The histories of the demo, from data to acts: surveys, coverage, records and their moves."""

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import partial
from pathlib import Path
from typing import Any

from skinpin.domain.moves import ACCEPT
from skinpin_sync.entry import Entry

from skinpin_demo.pen import Intent, Notebook, Pen, seeded_id
from skinpin_demo.photographs.damage import Damage
from skinpin_demo.photographs.picture import Shot, length_points, ring_points

HISTORIES = Path(__file__).parent / "data" / "histories.json"
_MINUTE = timedelta(minutes=1)
_ENDS = {
    "assess": "Assessed",
    "start": "In work",
    "offer": "Offered",
    "clear": "Cleared",
    "accept": "Cleared",
    "nil": "Cleared",
    "defer": "Deferred",
    "same as": "Same as",
    "raised in error": "Raised in error",
}
Draw = Callable[[Shot], bytes]


def histories() -> dict[str, Any]:
    """Return the demo's histories as data."""
    data: dict[str, Any] = json.loads(HISTORIES.read_text(encoding="utf-8"))
    return data


@dataclass(frozen=True)
class Ground:
    """What the histories stand on: records written by set-up, and ids of people by name."""

    airframe: str
    standard: Mapping[str, str]
    people: Mapping[str, str]
    stamps: Mapping[str, str]


class Author:
    """Writes the demo's histories, each act in its place in time."""

    def __init__(
        self, notebook: Notebook, pens: Mapping[str, Pen], ground: Ground, draw: Draw
    ) -> None:
        self._notebook, self._pens, self._ground, self._draw = notebook, pens, ground, draw
        self._numbers: dict[str, dict[str, Any]] = {}

    def write(self, data: Mapping[str, Any]) -> None:
        """Write everything; acts are taken in order of their wall time, as tablets did."""
        acts: list[tuple[datetime, int, Callable[[], object]]] = []
        for survey in data["surveys"]:
            acts.append((_at(survey["date"] + "T09:00"), 0, partial(self._survey, survey)))
        surveys = {each["survey"]: each for each in data["surveys"]}
        for i, cover in enumerate(data["coverage"]):
            when = _at(surveys[cover["survey"]]["date"] + "T16:30") + i * _MINUTE
            survey = surveys[cover["survey"]]
            acts.append((when, 1, partial(self._coverage, when, survey, cover)))
        for record in data["records"]:
            self._numbers[record["number"]] = record
            acts.append((_at(record["at"]), 1, partial(self._found, record)))
            for i, move in enumerate(record["moves"]):
                acts.append((_at(move["at"]), 2, partial(self._move, record, move, i)))
        for _, _, write in sorted(acts, key=lambda act: act[:2]):
            write()

    def _write(self, at: datetime, tablet: str, by: str, intents: Sequence[Intent]) -> list[Entry]:
        return self._pens[tablet].write(at, self._ground.people[by], intents)

    # ---- surveys and coverage

    def _survey(self, survey: Mapping[str, Any]) -> None:
        values = {
            "title": survey["survey"],
            "airframe": self._ground.airframe,
            "by": self._ground.people[survey["by"]],
            "date": survey["date"],
            "method": survey["method"],
            "scope": survey["scope"],
        }
        intent = Intent(survey_id(survey["survey"]), "survey", values)
        self._write(_at(survey["date"] + "T09:00"), survey["tablet"], survey["by"], [intent])

    def _coverage(self, at: datetime, survey: Mapping[str, Any], cover: Mapping[str, Any]) -> None:
        blocked = {tuple(each["bay"]): each["reason"] for each in cover["blocked"]}
        intents = []
        for bay in _pairs(cover["members"]):
            for strakes in _pairs(cover["strakes"]):
                intents.append(_cell(survey, cover, bay, strakes, blocked.get(tuple(bay))))
        self._write(at, survey["tablet"], survey["by"], intents)

    # ---- records

    def _found(self, record: Mapping[str, Any]) -> None:
        at, tablet, by = _at(record["at"]), record["tablet"], record["by"]
        defect = defect_id(record["number"])
        shots = shots_of(record)
        first = {
            "number": record["number"],
            "airframe": self._ground.airframe,
            "survey": survey_id(record["survey"]),
            "place": record["place"],
            "standard": dict(self._ground.standard),
            "state": {"move": "new", "to": "Draft"},
        }
        wide, *others = [self._photograph(record, shot) for shot in shots]
        self._write(at, tablet, by, [Intent(defect, "defect", first), wide])
        self._write(at + _MINUTE, tablet, by, [Intent(defect, "defect", record["found"])])
        marks = [_ring(record, shot) for shot in shots]
        marks += _length_mark(record, shots[1], record["found"].get("length"))
        self._write(at + 3 * _MINUTE, tablet, by, [*others, *marks])
        pictures = [photograph_id(record["number"], shot.role) for shot in shots]
        relies = [self._notebook.records[id].ids["sha256"] for id in pictures]
        if record["found"]["kind"] != "nil":
            raised = {"state": {"move": "raise", "to": "Raised"}}
            raise_ = Intent(defect, "defect", raised, relies)
            self._write(at + 4 * _MINUTE, tablet, by, [raise_])

    def _photograph(self, record: Mapping[str, Any], shot: Shot) -> Intent:
        content = self._draw(shot)
        wall = _at(shot.taken).replace(tzinfo=self._notebook.zone)
        offset = wall.strftime("%z")
        values = {
            "defect": defect_id(record["number"]),
            "sha256": self._notebook.keep_file(content),
            "size_bytes": len(content),
            "media_type": "image/jpeg",
            "width_px": 1600,
            "height_px": 1200,
            "role": shot.role.split(",")[0],
            "taken": {"wall": shot.taken, "offset": f"{offset[:3]}:{offset[3:]}"},
            "source": "drawn",
            "mirrored": False,
        }
        return Intent(photograph_id(record["number"], shot.role), "photograph", values)

    # ---- moves and later measurements

    def _move(self, record: Mapping[str, Any], move: Mapping[str, Any], place: int) -> None:
        if "measure" in move:
            return self._measure(record, move, place)
        writer = {"offer": self._offer, "clear": self._clear, "assess": self._assess}
        return writer.get(move["move"], self._plain)(record, move)

    def _measure(self, record: Mapping[str, Any], move: Mapping[str, Any], place: int) -> None:
        found = record["found"]
        values = {
            name: {**found[name], "value": value} if isinstance(value, str) else value
            for name, value in move["measure"].items()
        }
        shot = later_shot(record, move, f"scale,{place}")
        intents = [
            Intent(defect_id(record["number"]), "defect", values),
            self._photograph(record, shot),
            _ring(record, shot),
            *_length_mark(record, shot, values.get("length")),
        ]
        self._write(_at(move["at"]), move["tablet"], move["by"], intents)

    def _plain(self, record: Mapping[str, Any], move: Mapping[str, Any]) -> None:
        self._write(_at(move["at"]), move["tablet"], move["by"], [_state(record, move)])

    def _assess(self, record: Mapping[str, Any], move: Mapping[str, Any]) -> None:
        stamp = self._stamp(record, move, "DISPOSITION", move["by"])
        intents = [_state(record, move), stamp]
        self._write(_at(move["at"]), move["tablet"], move["by"], intents)

    def _offer(self, record: Mapping[str, Any], move: Mapping[str, Any]) -> None:
        shot = later_shot(record, move, "after work")
        evidence: dict[str, Any] = {"photograph": photograph_id(record["number"], shot.role)}
        if "depth_left" in move:
            evidence["depth_left"] = {"value": move["depth_left"], "unit": "in"}
        intents = [_state(record, move, {"evidence": evidence}), self._photograph(record, shot)]
        self._write(_at(move["at"]), move["tablet"], move["by"], intents)

    def _clear(self, record: Mapping[str, Any], move: Mapping[str, Any]) -> None:
        stamp = self._stamp(record, move, "INSPECTED", move["by"])
        intents = [_state(record, move), stamp]
        self._write(_at(move["at"]), move["tablet"], move["by"], intents)

    def _stamp(
        self, record: Mapping[str, Any], move: Mapping[str, Any], act: str, by: str
    ) -> Intent:
        values = {
            "defect": defect_id(record["number"]),
            "act": act,
            "number": self._ground.stamps[by],
            "person": self._ground.people[by],
            "date": move["at"][:10],
            "list": {},
        }
        return Intent(seeded_id("stamp", record["number"], act, move["at"]), "stamp", values)


def _state(
    record: Mapping[str, Any], move: Mapping[str, Any], more: Mapping[str, Any] | None = None
) -> Intent:
    word = move["move"]
    values = {"state": {"move": word, "to": _ENDS[word]}, **move.get("set", {}), **(more or {})}
    if "same_as" in move:
        values["same_as"] = defect_id(move["same_as"])
    if word == "accept":
        values["disposition"] = ACCEPT
    return Intent(defect_id(record["number"]), "defect", values, why=move.get("why"))


def _cell(
    survey: Mapping[str, Any],
    cover: Mapping[str, Any],
    bay: list[str],
    strakes: list[str],
    blocked: str | None,
) -> Intent:
    cell = {
        "structure": cover["structure"],
        "hand": cover["hand"],
        "bay": bay,
        "strakes": strakes,
    }
    values: dict[str, Any] = {
        "survey": survey_id(survey["survey"]),
        "cell": cell,
        "method": survey["method"],
        "paint": survey["paint"],
        "looked_at": blocked is None,
    }
    if blocked is not None:
        values["blocked"] = blocked
    record = seeded_id("coverage", survey["survey"], json.dumps(cell, sort_keys=True))
    return Intent(record, "coverage", values)


def _pairs(names: Sequence[str]) -> list[list[str]]:
    return [[a, b] for a, b in zip(names, names[1:], strict=False)]


def _ring(record: Mapping[str, Any], shot: Shot) -> Intent:
    values = {
        "photograph": photograph_id(record["number"], shot.role),
        "shape": {"kind": "ring", "points": ring_points(shot)},
        "struck": False,
    }
    return Intent(seeded_id("mark", record["number"], shot.role), "mark", values)


def _length_mark(record: Mapping[str, Any], shot: Shot, length: Any) -> list[Intent]:
    """Return the length laid between its ends on a picture with the rule in its plane."""
    if not isinstance(length, dict):
        return []
    spread = length.get("uncertainty")
    figure = f"{length['value']} ± {spread['value']}" if spread else length["value"]
    values = {
        "photograph": photograph_id(record["number"], shot.role),
        "shape": {
            "kind": "line",
            "points": length_points(shot),
            "label": f"{figure} {length['unit']}",
        },
        "struck": False,
    }
    return [Intent(seeded_id("mark", record["number"], shot.role, "length"), "mark", values)]


def survey_id(title: str) -> str:
    """Return the record id of a survey."""
    return seeded_id("survey", title)


def defect_id(number: str) -> str:
    """Return the record id of a defect."""
    return seeded_id("defect", number)


def photograph_id(number: str, role: str) -> str:
    """Return the record id of a photograph of a defect."""
    return seeded_id("photograph", number, role)


def shots_of(record: Mapping[str, Any]) -> list[Shot]:
    """Return the pictures taken when a record was found: wide, then close."""
    damage = damage_of(record["found"])
    at = _at(record["at"])
    return [
        _shot(record, "wide", at, damage),
        _shot(record, "close", at + 2 * _MINUTE, damage),
    ]


def later_shot(record: Mapping[str, Any], move: Mapping[str, Any], role: str) -> Shot:
    """Return a picture taken at a later act, with what is to be seen by then."""
    found = dict(record["found"])
    if role == "after work":
        return _shot(record, role, _at(move["at"]), Damage("after work", *_size(found)))
    for name, value in move["measure"].items():
        if isinstance(value, str):
            found[name] = {"value": value}
    return _shot(record, role, _at(move["at"]), damage_of(found))


def _shot(record: Mapping[str, Any], role: str, at: datetime, damage: Damage) -> Shot:
    place = record["place"]
    offset = place["offset"]["value"]
    where = f"{place['member']}+{offset}{place['hand']}"
    strakes = "-".join(place.get("strakes", []))
    words = f"{where}_{strakes}" if strakes else where
    return Shot(record["number"], words, role, at.isoformat(), damage)


def damage_of(found: Mapping[str, Any]) -> Damage:
    """Return what a photograph of a record is to show."""
    return Damage(
        found["kind"],
        *_size(found),
        material=found.get("material", "AL"),
        run=int(found.get("run", 0)),
        perforated=bool(found.get("perforated")),
        blistered=bool(found.get("blistered")),
    )


def _size(found: Mapping[str, Any]) -> tuple[float, float]:
    return _inches(found.get("length"), 2.0), _inches(found.get("width"), 0.1)


def _inches(quantity: Any, otherwise: float) -> float:
    return float(quantity["value"]) if isinstance(quantity, dict) else otherwise


def _at(text: str) -> datetime:
    return datetime.fromisoformat(text)
