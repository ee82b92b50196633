"""Writes the demo's histories as acts, each in its place in time."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from typing import Any

from skinpin.domain.moves import ACCEPT
from skinpin_sync.entry import Entry

from skinpin_demo import registers
from skinpin_demo.pen import Intent, Notebook, Pen, seeded_id
from skinpin_demo.photographs.picture import Shot
from skinpin_demo.shots import (
    MINUTE,
    Move,
    Record,
    defect_id,
    later_shot,
    length_mark,
    marks_on,
    photograph_id,
    shots_of,
)

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
_STAMPED = {"assess": "DISPOSITION", "accept": "DISPOSITION", "clear": "INSPECTED"}
Draw = Callable[[Shot], bytes]
Act = tuple[datetime, int, Callable[[], object]]


@dataclass(frozen=True)
class Ground:
    """What the histories stand on: records written by set-up, and ids of people by name."""

    airframe: str
    definition: Mapping[str, Any]
    standard: Mapping[str, str]
    people: Mapping[str, str]
    stamps: Mapping[str, str]


class Author:
    """Writes the demo's histories, each act in its place in time."""

    def __init__(
        self, notebook: Notebook, pens: Mapping[str, Pen], ground: Ground, draw: Draw
    ) -> None:
        self._notebook, self._pens, self._ground, self._draw = notebook, pens, ground, draw

    def write(self, data: Mapping[str, Any]) -> None:
        """Write everything; acts are taken in order of their wall time, as tablets did."""
        acts = [*self._registered(data), *self._surveyed(data)]
        for record in data["records"]:
            acts.append((_at(record["at"]), 1, partial(self._found, record)))
            for i, move in enumerate(record["moves"]):
                acts.append((_at(move["at"]), 2, partial(self._move, record, move, i)))
        for _, _, write in sorted(acts, key=lambda act: act[:2]):
            write()

    def _write(self, at: datetime, tablet: str, by: str, intents: Sequence[Intent]) -> list[Entry]:
        return self._pens[tablet].write(at, self._ground.people[by], intents)

    # ---- stages, instruments, surveys and coverage

    def _registered(self, data: Mapping[str, Any]) -> list[Act]:
        at = _at(data["registered"])
        stages = [registers.stage(row) for row in data["stages"]]
        instruments = [registers.instrument(row) for row in data["instruments"]]
        return [
            (at, 0, partial(self._write, at, "A", "Lead", stages)),
            (at + MINUTE, 0, partial(self._write, at + MINUTE, "A", "Lead", instruments)),
        ]

    def _surveyed(self, data: Mapping[str, Any]) -> list[Act]:
        acts: list[Act] = []
        surveys = {each["survey"]: each for each in data["surveys"]}
        for survey in surveys.values():
            at, by = _at(survey["date"] + "T09:00"), survey["by"]
            intent = registers.survey(survey, self._ground.airframe, self._ground.people[by])
            acts.append((at, 0, partial(self._write, at, survey["tablet"], by, [intent])))
        structures = {each["name"]: each for each in self._ground.definition["structures"]}
        sides = [(cover, hand) for cover in data["coverage"] for hand in cover["hands"]]
        for i, (cover, hand) in enumerate(sides):
            survey = surveys[cover["survey"]]
            at = _at(survey["date"] + "T16:30") + i * MINUTE
            cells = registers.covered(survey, cover, hand, structures[cover["structure"]])
            acts.append((at, 1, partial(self._write, at, survey["tablet"], survey["by"], cells)))
        return acts

    # ---- records

    def _found(self, record: Record) -> None:
        at, tablet, by = _at(record["at"]), record["tablet"], record["by"]
        defect = defect_id(record["number"])
        shots = shots_of(record)
        first = {
            "number": record["number"],
            "airframe": self._ground.airframe,
            "survey": registers.survey_id(record["survey"]),
            "place": record["place"],
            "standard": dict(self._ground.standard),
            "state": {"move": "new", "to": "Draft"},
        }
        wide, *others = [self._photograph(record, shot) for shot in shots]
        self._write(at, tablet, by, [Intent(defect, "defect", first), wide])
        self._write(at + MINUTE, tablet, by, [Intent(defect, "defect", record["found"])])
        marks = [mark for shot in shots for mark in marks_on(record, shot)]
        marks += length_mark(record, shots[1], record["found"].get("length"))
        self._write(at + 3 * MINUTE, tablet, by, [*others, *marks])
        if "rivet_line" in record:
            line = {"defect": defect, **record["rivet_line"]}
            self._write(at + 3 * MINUTE, tablet, by, [Intent(_line_id(record), "rivet_line", line)])
        if record["found"]["kind"] != "nil":
            self._write(at + 4 * MINUTE, tablet, by, [self._raised(record, shots)])

    def _raised(self, record: Record, shots: Sequence[Shot]) -> Intent:
        pictures = [photograph_id(record["number"], shot.role) for shot in shots]
        relies = [self._notebook.records[id].ids["sha256"] for id in pictures]
        values: dict[str, Any] = {"state": {"move": "raise", "to": "Raised"}}
        if record.get("independent"):
            values["independent"] = True
        return Intent(defect_id(record["number"]), "defect", values, relies)

    def _photograph(self, record: Record, shot: Shot) -> Intent:
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

    def _move(self, record: Record, move: Move, place: int) -> None:
        if "measure" in move:
            intents = self._measured(record, move, place)
        elif "line" in move:
            intents = [Intent(_line_id(record), "rivet_line", move["line"])]
        elif move["move"] == "decide":
            intents = [Intent(defect_id(record["number"]), "defect", move["set"])]
        elif move["move"] == "offer":
            intents = self._offered(record, move)
        else:
            intents = [_state(record, move)]
        if move.get("move") in _STAMPED:
            intents.append(self._stamp(record, move, _STAMPED[move["move"]]))
        self._write(_at(move["at"]), move["tablet"], move["by"], intents)

    def _measured(self, record: Record, move: Move, place: int) -> list[Intent]:
        found = record["found"]
        values = {
            name: {**found[name], "value": value} if isinstance(value, str) else value
            for name, value in move["measure"].items()
        }
        shot = later_shot(record, move, f"scale,{place}")
        return [
            Intent(defect_id(record["number"]), "defect", values),
            self._photograph(record, shot),
            *marks_on(record, shot),
            *length_mark(record, shot, values.get("length")),
        ]

    def _offered(self, record: Record, move: Move) -> list[Intent]:
        shot = later_shot(record, move, "after work")
        evidence: dict[str, Any] = {"photograph": photograph_id(record["number"], shot.role)}
        if "depth_left" in move:
            evidence["depth_left"] = {"value": move["depth_left"], "unit": "in"}
        return [_state(record, move, {"evidence": evidence}), self._photograph(record, shot)]

    def _stamp(self, record: Record, move: Move, act: str) -> Intent:
        values = {
            "defect": defect_id(record["number"]),
            "act": act,
            "number": self._ground.stamps[move["by"]],
            "person": self._ground.people[move["by"]],
            "date": move["at"][:10],
            "list": {},
        }
        return Intent(seeded_id("stamp", record["number"], act, move["at"]), "stamp", values)


def _line_id(record: Record) -> str:
    return seeded_id("rivet line", record["number"])


def _state(record: Record, move: Move, more: Mapping[str, Any] | None = None) -> Intent:
    word = move["move"]
    values = {"state": {"move": word, "to": _ENDS[word]}, **move.get("set", {}), **(more or {})}
    if "same_as" in move:
        values["same_as"] = defect_id(move["same_as"])
    if word == "accept":
        values["disposition"] = ACCEPT
    return Intent(defect_id(record["number"]), "defect", values, why=move.get("why"))


def _at(text: str) -> datetime:
    return datetime.fromisoformat(text)
