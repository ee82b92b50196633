"""The zone report: gathers what it says, from one look at the book."""

import hashlib
import re
from collections.abc import Iterable, Mapping, Sequence
from importlib.metadata import version
from pathlib import Path
from typing import Any

from skinpin_sync.entry import Entry
from skinpin_sync.standing import Standing
from sqlalchemy import Connection

from skinpin.domain.days import Day, days_in
from skinpin.domain.errors import Refused
from skinpin.domain.history import history
from skinpin.domain.kinds import MATERIALS, WORDING
from skinpin.domain.place import place_words
from skinpin.domain.place_stations import structure_of
from skinpin.domain.verdicts import act_of, state_of
from skinpin.reports.zone_report import zone_report_pdf
from skinpin.services.airframes import Airframe, Row, find_airframe, last_value, rows_of
from skinpin.services.export import values_by_field
from skinpin.services.people import Person, list_people
from skinpin.services.photographs import find_rendition
from skinpin.services.push import need_book
from skinpin.services.workday import workshop_day, workshop_zone
from skinpin.services.workshop import Workshop
from skinpin.storage.links import linked_to
from skinpin.storage.records import (
    StandingRecord,
    find_records,
    records_of_kind,
    write_standing,
)
from skinpin.storage.shelf import Kept, LogShelf, came_ms_of

RENDITION_PX = 1000
RECORD_ID = re.compile(r"[0-9a-z]{26}")
LONGER_ID = re.compile(r"[0-9]{13}-[0-9a-f]{4}-[0-9a-z]{8}|[0-9a-f]{64}")
CALLED_BY = {
    "defect": "number",
    "photograph": "role",
    "stage": "title",
    "stamp": "number",
    "survey": "title",
    "tablet": "letter",
}
NOT_HERE = {
    "person": "a person this book does not name",
    "record": "a record that is not in this book",
    "other": "an earlier entry or file",
}
NO_STANDARD = {"name": "no standard of acceptance,", "issue": "none", "rows": []}


def report_zone(workshop: Workshop, zone: str, airframe: str = "") -> bytes:
    """Return the report of a zone as PDF."""
    with workshop.reading() as connection:
        ready = _Gatherer(workshop, connection, find_airframe(workshop, connection, airframe)).of(
            zone
        )
    pictures = _renditions(workshop, ready["records"])
    return zone_report_pdf(ready, pictures)


def _renditions(workshop: Workshop, records: Iterable[Mapping[str, Any]]) -> dict[str, Path]:
    """Make the pictures ready; one that is not here, or can't be read, is left out by name."""
    found = {}
    for photograph in (one for record in records for one in record["photographs"]):
        try:
            path = find_rendition(workshop, photograph["sha256"], RENDITION_PX).path
        except Refused:
            continue
        photograph["file"] = f"{photograph['sha256']}.jpg"
        found[photograph["file"]] = path
    return found


class _Gatherer:
    """Reads what a report of one airframe needs."""

    def __init__(self, workshop: Workshop, connection: Connection, airframe: Airframe) -> None:
        self._workshop, self._connection, self._airframe = workshop, connection, airframe
        self._book = need_book(connection)
        self._shelf = LogShelf(connection, self._book.seq)
        self._day = workshop_day(workshop, connection)
        self._zone = workshop_zone(connection)
        people = list_people(connection, self._day)
        self._people: dict[str, Person] = {one.person: one for one in people}
        self._names: dict[str, str] = {one.person: _signature(one) for one in people}

    def of(self, zone: str) -> dict[str, Any]:
        definition = self._airframe.definition
        rules = [rule for rule in definition["zones"] if rule["zone"] == zone]
        if not rules:
            raise Refused(
                "no_such_zone",
                f"The airframe definition has no zone {zone[:20]}.",
                f"It has {', '.join(sorted({rule['zone'] for rule in definition['zones']}))}.",
            )
        rows = rows_of(self._connection, self._airframe)
        here = sorted((row for row in rows if zone in row["zones"]), key=_nose_to_tail)
        self._names |= {row["record"]: row["number"] for row in rows if row["number"]}
        coverage = self._coverage({(rule["structure"], rule["hand"]) for rule in rules})
        return {
            "zone": zone,
            "title": rules[0]["title"],
            "rules": rules,
            "definition": definition,
            "standard": self._standard(records_of_kind(self._connection, "standard")),
            "airframe": f"{self._airframe.type} · {self._airframe.constructor}",
            "workshop": self._workshop_name(),
            "date": self._day,
            "epoch": self._book.epoch,
            "seq": self._book.seq,
            "version": version("skinpin"),
            "safety": WORDING["full"],
            "surveys": self._surveys(coverage),
            "coverage": coverage,
            "numbers": [row["number"] for row in rows if row["number"]],
            "records": self._records(here, rows),
        }

    def _workshop_name(self) -> str:
        book = find_records(self._connection, ["book"])["book"]
        return str(last_value(book.standing, "workshop") or "")

    def _standard(self, standards: Sequence[StandingRecord]) -> Mapping[str, Any]:
        """Return the standard written last of those that are here."""
        found = [
            (max(one.standing.values), source)
            for one in standards
            if (source := self._workshop.files.find(str(last_value(one.standing, "sha256"))))
        ]
        return max(found, key=lambda pair: pair[0])[1] if found else NO_STANDARD

    # ---- surveys

    def _coverage(self, parts: set[tuple[str, str]]) -> list[dict[str, Any]]:
        found = []
        for one in records_of_kind(self._connection, "coverage"):
            cell = last_value(one.standing, "cell")
            if isinstance(cell, dict) and (cell.get("structure"), cell.get("hand")) in parts:
                words = ("survey", "looked_at", "blocked")
                found.append({"cell": cell} | {w: last_value(one.standing, w) for w in words})
        return found

    def _surveys(self, coverage: Iterable[Mapping[str, Any]]) -> list[dict[str, str]]:
        """Return the surveys that covered the zone, the first one first."""
        wanted = {str(one["survey"]) for one in coverage if one["survey"]}
        found = find_records(self._connection, wanted).values()
        entries = {one.entry.record: one.entry for one in self._kept_of(found, "title")}
        surveys = [self._survey(one, entries.get(one.record)) for one in found]
        return sorted(surveys, key=lambda one: (one["date"], one["title"]))

    def _survey(self, one: StandingRecord, entry: Entry | None) -> dict[str, str]:
        words = {
            field: str(last_value(one.standing, field) or "")
            for field in ("title", "date", "method", "by")
        }
        device = entry.device if entry and len(entry.device) <= 2 else ""
        named = {"record": one.record, "by": self._name(words["by"]), "tablet": device}
        return words | named

    def _name(self, person: str) -> str:
        if person in self._people:
            return self._people[person].name
        return NOT_HERE["person"] if RECORD_ID.fullmatch(person) else person

    def _kept_of(self, records: Iterable[StandingRecord], field: str) -> list[Kept]:
        """Return the entries that gave records a field."""
        ids = [
            id for one in records for id, fields in one.standing.values.items() if field in fields
        ]
        return self._shelf.by_id(ids)

    # ---- records

    def _records(self, here: Sequence[Row], rows: Sequence[Row]) -> list[dict[str, Any]]:
        names = {row["record"] for row in here}
        sightings = [row for row in rows if row["same_as"] in names and row["record"] not in names]
        wanted = [row["record"] for row in (*here, *sightings)]
        standing = find_records(self._connection, wanted)
        kept = self._shelf.of_records(wanted)
        entries: dict[str, list[Kept]] = {}
        for one in kept:
            entries.setdefault(one.entry.record, []).append(one)
        pictures = self._photographs(wanted)
        signed = self._signed((*here, *sightings))
        made = {
            row["record"]: self._record(
                row, standing[row["record"]].standing, entries, pictures, signed
            )
            for row in (*here, *sightings)
        }
        for row in (*here, *sightings):
            if row["state"] == "Same as" and row["same_as"] in made:
                _join(made[row["same_as"]], made[row["record"]])
        return [made[row["record"]] for row in here]

    def _record(
        self,
        row: Row,
        now: Standing,
        entries: Mapping[str, Sequence[Kept]],
        pictures: Mapping[str, list[dict[str, Any]]],
        signed: Mapping[str, bool],
    ) -> dict[str, Any]:
        mine = entries[row["record"]]
        place = row["place"]
        material = str(MATERIALS.get(row["material"] or "", {}).get("label", ""))
        return {
            "row": row,
            "place": place,
            "place_short": self._place_short(place) if place else row["place_words"] or "",
            "place_long": _place_long(row),
            "material_words": material,
            "values": values_by_field(now.values),
            "standard": self._pinned(now),
            "photographs": pictures.get(row["record"], []),
            "history": self._history(mine),
            "stamps": [self._stamp(one, signed) for one in row["stamps"]],
            "found_on": row["raised_on"] or "",
            "cleared_on": _cleared_on(now, mine, self._day_of(mine)),
            "sha256": hashlib.sha256(write_standing(now).encode()).hexdigest(),
            "same": [],
        }

    def _pinned(self, now: Standing) -> Mapping[str, Any] | None:
        return self._workshop.files.pinned(last_value(now, "standard"))

    def _place_short(self, place: Mapping[str, Any]) -> str:
        plain = {**place, "face": None, "precision": None}
        words = place_words(self._airframe.definition, plain)
        structure = structure_of(self._airframe.definition, place)
        words = words.replace(f" {structure['positive']}", "")
        return words.partition(" · ")[2] if len(structure["hands"]) > 1 else words

    def _history(self, kept: Sequence[Kept]) -> list[dict[str, Any]]:
        """Return the history from raising on; how a record was begun stands in its figures."""
        pairs = [(one.entry, one.verdict) for one in kept]
        withdrawn = {act_of(one.entry) for one in kept if one.withdrawn}
        told = history(pairs, self._names_in(kept), self._day_of(kept), withdrawn)
        begun = [one.entry.id for one in kept if _begins(one)]
        since = min(begun, default="")
        return [line for line in told if line["entry"] >= since or not line["counts"]]

    def _day_of(self, kept: Sequence[Kept]) -> Day:
        return days_in(self._zone, came_ms_of(kept))

    def _names_in(self, kept: Sequence[Kept]) -> dict[str, str]:
        """Return what to call everything that entries name by an id, so that none is printed."""
        ids = {one.entry.by for one in kept} | _ids_in([one.entry.set for one in kept])
        unknown = ids - self._names.keys()
        names = {id: _stand_in(id) for id in unknown}
        names |= {id: _called(one) for id, one in find_records(self._connection, unknown).items()}
        return self._names | names

    def _stamp(self, stamp: Mapping[str, Any], signed: Mapping[str, bool]) -> dict[str, Any]:
        person = self._people.get(stamp["person"])
        role = (person.role or "").replace("_", " ") if person else ""
        return {**stamp, "role": role, "signed": signed.get(stamp["entry"], False)}

    def _signed(self, rows: Iterable[Row]) -> dict[str, bool]:
        ids = [stamp["entry"] for row in rows for stamp in row["stamps"]]
        return {one.entry.id: one.entry.sig is not None for one in self._shelf.by_id(ids)}

    # ---- pictures

    def _photographs(self, defects: Sequence[str]) -> dict[str, list[dict[str, Any]]]:
        named = linked_to(self._connection, defects, ("defect",))
        ids = {one for some in named.values() for one in some}
        records = find_records(self._connection, ids)
        photographs = {id: one for id, one in records.items() if one.kind == "photograph"}
        marks = self._marks(list(photographs))
        self._names |= {
            id: str(last_value(one.standing, "role")) for id, one in photographs.items()
        }
        by = {
            one.entry.record: self._name(one.entry.by)
            for one in self._kept_of(photographs.values(), "sha256")
        }
        return {
            defect: [
                _photograph(photographs[id], marks.get(id, []), by.get(id, ""))
                for id in sorted(some)
                if id in photographs and not last_value(photographs[id].standing, "withheld")
            ]
            for defect, some in named.items()
        }

    def _marks(self, photographs: Sequence[str]) -> dict[str, list[dict[str, Any]]]:
        named = linked_to(self._connection, photographs, ("photograph",))
        records = find_records(self._connection, {one for some in named.values() for one in some})
        return {
            photograph: [
                {**shape, "record": id}
                for id in sorted(some)
                if id in records
                and not last_value(records[id].standing, "struck")
                and isinstance(shape := last_value(records[id].standing, "shape"), dict)
            ]
            for photograph, some in named.items()
        }


def _photograph(one: StandingRecord, marks: Sequence[Mapping[str, Any]], by: str) -> dict[str, Any]:
    def value(field: str) -> Any:
        return last_value(one.standing, field)

    taken = value("taken")
    return {
        "file": None,
        "sha256": str(value("sha256")),
        "role": str(value("role") or "wide"),
        "taken": str(taken.get("wall", "")) if isinstance(taken, dict) else "",
        "by": by,
        "width_px": value("width_px"),
        "height_px": value("height_px"),
        "mirrored": value("mirrored") is True,
        "marks": list(marks),
    }


def _ids_in(value: Any) -> set[str]:
    """Return the ids of records, entries and files that a value names."""
    if isinstance(value, str):
        return {value} if RECORD_ID.fullmatch(value) or LONGER_ID.fullmatch(value) else set()
    inside = value.values() if isinstance(value, dict) else value
    if not isinstance(value, dict | list):
        return set()
    return set().union(*map(_ids_in, inside))


def _stand_in(id: str) -> str:
    return NOT_HERE["record"] if RECORD_ID.fullmatch(id) else NOT_HERE["other"]


def _called(one: StandingRecord) -> str:
    """Return what a record is called in a sentence."""
    if one.kind == "airframe":
        words = [last_value(one.standing, "type"), last_value(one.standing, "constructor")]
    else:
        words = [last_value(one.standing, CALLED_BY.get(one.kind, "name"))]
    said = " ".join(each for each in words if isinstance(each, str))
    return said if said and not RECORD_ID.fullmatch(said) else f"another {one.kind}"


def _join(head: dict[str, Any], same: dict[str, Any]) -> None:
    """Show a sighting of the same defect beside the record that leads."""
    head["same"].append(same)
    number = same["row"]["number"]
    told = [{**one, "sentence": f"{number}: {one['sentence']}"} for one in same["history"]]
    head["history"] = sorted([*head["history"], *told], key=lambda one: str(one["date"]))


def _signature(person: Person) -> str:
    return f"{person.name} ({person.stamp_number})" if person.stamp_number else person.name


def _begins(kept: Kept) -> bool:
    """Say whether an entry made a draft a record."""
    return state_of(kept.entry).get("move") in ("raise", "nil") and kept.verdict.counts


def _nose_to_tail(row: Row) -> tuple[bool, float, str]:
    station = row["station"]
    return station is None, float(station or 0), str(row["number"])


def _place_long(row: Row) -> str:
    zone = f"zone {row['zone']}" if row["zone"] else ""
    return " · ".join(word for word in (row["place_words"], row["station_text"], zone) if word)


def _cleared_on(now: Standing, kept: Iterable[Kept], day: Day) -> str:
    """Return the day of the move that cleared a record, if that stands."""
    ids = {
        id
        for id, fields in now.values.items()
        if isinstance(fields.get("state"), dict) and fields["state"].get("to") == "Cleared"
    }
    return max((day(one.entry) for one in kept if one.entry.id in ids), default="")
