"""Creating a book: the root act, the first lead with a passcode, the first airframe."""

import hashlib
from dataclasses import dataclass
from typing import Any

from skinpin_sync.chain import Draft
from sqlalchemy import Connection

from skinpin.domain.errors import Refused
from skinpin.services.passcodes import make_secret
from skinpin.services.people import person_values
from skinpin.services.photographs import keep_bytes
from skinpin.services.push import write_act_here
from skinpin.services.workday import wall_time, zone_named
from skinpin.services.workshop import Workshop
from skinpin.storage.log import create_book, find_book
from skinpin.storage.rebuild import RULES
from skinpin.storage.secrets import keep_secret

UNITS = ("in", "mm")


@dataclass(frozen=True)
class NamedFile:
    """A definition or standard as a file, with the name and issue it goes by."""

    name: str
    issue: str
    content: bytes

    def pin(self) -> dict[str, str]:
        """Return the value that names the file in an entry."""
        sha256 = hashlib.sha256(self.content).hexdigest()
        return {"name": self.name, "issue": self.issue, "sha256": sha256}


@dataclass(frozen=True)
class FirstPages:
    """What the first screen asks for."""

    workshop: str
    time_zone: str
    unit: str
    lead_name: str
    passcode: str
    airframe_type: str
    constructor: str
    stamp_number: str = ""
    definition: NamedFile | None = None
    standard: NamedFile | None = None


@dataclass(frozen=True)
class NewBook:
    """The ids of a book just created."""

    book: str
    lead: str
    airframe: str
    standard: str | None


def is_empty(workshop: Workshop) -> bool:
    """Say whether there is no book here yet."""
    with workshop.reading() as connection:
        return find_book(connection) is None


def set_up_book(workshop: Workshop, first: FirstPages) -> NewBook:
    """Create the book, once: a second try is refused."""
    _check(first)
    lead = workshop.new_id()
    secret = make_secret(lead, first.passcode, workshop.random(16))
    for file in (first.definition, first.standard):
        if file:
            keep_bytes(workshop, file.content)
    with workshop.writing() as connection:
        if find_book(connection):
            raise Refused("book_exists", "There is a book here already.", "Sign in to it.")
        new = NewBook(
            workshop.new_id(), lead, workshop.new_id(), first.standard and workshop.new_id()
        )
        create_book(connection, new.book, workshop.new_id(), RULES)
        _write(workshop, connection, first, new)
        keep_secret(connection, secret)
    return new


def _check(first: FirstPages) -> None:
    named = {
        "workshop": first.workshop,
        "lead": first.lead_name,
        "airframe type": first.airframe_type,
        "constructor's number": first.constructor,
    }
    for label, text in named.items():
        if not text.strip():
            raise Refused("wrong_shape", f"The {label} is empty.", "Write it in.")
    if first.unit not in UNITS:
        raise Refused("wrong_shape", f"The unit is '{first.unit}'.", "Choose 'in' or 'mm'.")
    zone_named(first.time_zone)


def _write(workshop: Workshop, connection: Connection, first: FirstPages, new: NewBook) -> None:
    day = wall_time(workshop.now_ms(), zone_named(first.time_zone))[:10]
    root = [
        Draft("book", "book", _book_values(first)),
        Draft(new.lead, "person", person_values(first.lead_name, "lead", first.stamp_number, day)),
    ]
    entries = write_act_here(workshop, connection, new.lead, root)
    role_entry = next(one.id for one in entries if one.record == new.lead)
    airframe: dict[str, Any] = {"type": first.airframe_type, "constructor": first.constructor}
    if first.definition:
        airframe["definition"] = first.definition.pin()
    drafts = [Draft(new.airframe, "airframe", airframe, relies=[role_entry])]
    if first.standard and new.standard:
        drafts.append(
            Draft(new.standard, "standard", first.standard.pin(), relies=[role_entry])
        )
    write_act_here(workshop, connection, new.lead, drafts)


def _book_values(first: FirstPages) -> dict[str, Any]:
    return {
        "workshop": first.workshop.strip(),
        "time_zone": first.time_zone,
        "unit": first.unit,
        "signatures": "not yet",
    }
