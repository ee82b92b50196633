"""What every part of a report reads with: one look at the book, and what is called what."""

import re
from collections.abc import Collection, Iterable, Sequence
from typing import Any

from skinpin_sync.standing import Standing
from sqlalchemy import Connection

from skinpin.domain.days import Day, Moment, days_in, moments_in
from skinpin.services.airframes import Airframe, last_value
from skinpin.services.people import Person, list_people
from skinpin.services.push import need_book
from skinpin.services.workday import workshop_day, workshop_zone
from skinpin.services.workshop import Workshop
from skinpin.storage.records import StandingRecord, find_records, records_of_kind
from skinpin.storage.shelf import Kept, LogShelf, came_ms_of

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


class Reader:
    """Reads what a report of one airframe needs, and keeps which records it rests on."""

    def __init__(self, workshop: Workshop, connection: Connection, airframe: Airframe) -> None:
        self.workshop, self.connection, self.airframe = workshop, connection, airframe
        self.book = need_book(connection)
        self.shelf = LogShelf(connection, self.book.seq)
        self.today = workshop_day(workshop, connection)
        self.time_zone = workshop_zone(connection)
        self.people: dict[str, Person] = {
            one.person: one for one in list_people(connection, self.today)
        }
        self.names: dict[str, str] = {
            id: f"{one.name} ({one.stamp_number})" if one.stamp_number else one.name
            for id, one in self.people.items()
        }
        self.rests_on: set[str] = {"book", airframe.record}

    def find(self, ids: Collection[str]) -> dict[str, StandingRecord]:
        """Return those of the records that are here; the report rests on them."""
        found = find_records(self.connection, ids)
        self.rests_on |= found.keys()
        return found

    def of_kind(self, kind: str) -> list[StandingRecord]:
        """Return all records of a kind; who uses some says so with `find` or `rests_on`."""
        return records_of_kind(self.connection, kind)

    def person_name(self, person: str) -> str:
        """Return what a person is called."""
        if person in self.people:
            return self.people[person].name
        return NOT_HERE["person"] if RECORD_ID.fullmatch(person) else person

    def kept_of(self, records: Iterable[StandingRecord], field: str) -> list[Kept]:
        """Return the entries that gave records a field."""
        ids = [
            id for one in records for id, fields in one.standing.values.items() if field in fields
        ]
        return self.shelf.by_id(ids)

    def day_of(self, kept: Sequence[Kept]) -> Day:
        """Return the workshop's day of entries."""
        return days_in(self.time_zone, came_ms_of(kept))

    def moment_of(self, kept: Sequence[Kept]) -> Moment:
        """Return the workshop's day and time of day of entries."""
        return moments_in(self.time_zone, came_ms_of(kept))

    def names_in(self, kept: Sequence[Kept]) -> dict[str, str]:
        """Return what to call everything that entries name by an id, so that none is printed."""
        ids = {one.entry.by for one in kept} | _ids_in([one.entry.set for one in kept])
        self.rests_on |= ids & self.people.keys()
        unknown = ids - self.names.keys()
        names = {id: _stand_in(id) for id in unknown}
        names |= {id: _called(one) for id, one in self.find(unknown).items()}
        return self.names | names


def tablet_of(kept: Kept) -> str:
    """Return the letter of the tablet an entry was written on, nothing of a desk."""
    return kept.entry.device if len(kept.entry.device) <= 2 else ""


def text_of(now: Standing, field: str) -> str:
    """Return a field's value as text."""
    return str(last_value(now, field) or "")


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
