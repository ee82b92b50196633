"""Creating a book: the root act, the first lead with a passcode, the first airframe if known."""

import hashlib
import json
from dataclasses import dataclass
from typing import Any
from unicodedata import normalize

from skinpin_sync.chain import Draft
from sqlalchemy import Connection

from skinpin.domain.errors import Refused
from skinpin.domain.odd_texts import odd_text
from skinpin.services.definitions import look_at
from skinpin.services.passcodes import make_secret
from skinpin.services.people import book_text, person_values
from skinpin.services.photographs import keep_bytes
from skinpin.services.push import write_act_here
from skinpin.services.workday import wall_time, zone_named
from skinpin.services.workshop import Workshop
from skinpin.storage.log import create_book, find_book
from skinpin.storage.rules import RULES
from skinpin.storage.secrets import keep_secret

UNITS = ("in", "mm")


@dataclass(frozen=True)
class FirstPages:
    """What the first screen asks for; definition and standard are JSON files, or come later."""

    workshop: str
    time_zone: str
    unit: str
    lead_name: str
    passcode: str
    definition: bytes | None = None
    stamp_number: str = ""
    standard: bytes | None = None


@dataclass(frozen=True)
class NewBook:
    """The ids of a book just created, and what is said of its airframe's definition."""

    book: str
    lead: str
    airframe: str | None
    standard: str | None
    said: tuple[str, ...] = ()


def is_empty(workshop: Workshop) -> bool:
    """Say whether there is no book here yet."""
    with workshop.reading() as connection:
        return find_book(connection) is None


def set_up_book(workshop: Workshop, first: FirstPages) -> NewBook:
    """Create the book, once: a second try is refused."""
    _check(first)
    if not is_empty(workshop):
        raise _exists()
    lead = workshop.new_id()
    secret = make_secret(lead, first.passcode, workshop.random(16))
    airframe, said = _airframe(workshop, first.definition) if first.definition else (None, ())
    standard = _pin(first.standard, "standard of acceptance") if first.standard else None
    for content in (first.definition, first.standard):
        if content:
            keep_bytes(workshop, content)
    with workshop.writing() as connection:
        if find_book(connection):
            raise _exists()
        book = workshop.new_id()
        record, pinned = (workshop.new_id() if one else None for one in (airframe, standard))
        new = NewBook(book, lead, record, pinned, said)
        create_book(connection, book, workshop.new_id(), RULES)
        _write(workshop, connection, first, new, airframe, standard)
        keep_secret(connection, secret)
    return new


def _exists() -> Refused:
    return Refused("book_exists", "There is a book here already.", "Sign in to it.")


def _check(first: FirstPages) -> None:
    for label, text in (("workshop's name", first.workshop), ("lead's name", first.lead_name)):
        if not text.strip():
            raise Refused("wrong_shape", f"The {label} is empty.", "Write it in.")
    if first.unit not in UNITS:
        raise Refused("wrong_shape", f"The unit is '{first.unit}'.", "Choose 'in' or 'mm'.")
    zone_named(first.time_zone)


def _airframe(workshop: Workshop, definition: bytes) -> tuple[dict[str, Any], tuple[str, ...]]:
    """Return the values of an airframe, and what is only said of its definition."""
    value = _object(definition, "airframe definition", ("name", "constructor", "issue"))
    said = look_at(workshop, json.loads(definition))
    pin = _pin(definition, "airframe definition")
    values = {"type": value["name"], "constructor": value["constructor"], "definition": pin}
    return values, tuple(one.message for one in said)


def _pin(content: bytes, what: str) -> dict[str, str]:
    """Return the value that names a file in an entry."""
    value = _object(content, what, ("name", "issue"))
    sha256 = hashlib.sha256(content).hexdigest()
    return {"name": value["name"], "issue": value["issue"], "sha256": sha256}


def _object(content: bytes, what: str, needed: tuple[str, ...]) -> dict[str, Any]:
    try:
        value = json.loads(content)
        lacking = [name for name in needed if not isinstance(value[name], str) or not value[name]]
    except (ValueError, TypeError, KeyError, RecursionError) as error:
        raise _no_file(what, needed) from error
    if lacking:
        raise _no_file(what, needed)
    odd = odd_text(value)
    if odd:
        raise Refused("bad_definition", f"The file is no {what}: {odd}.", "Mend it in the file.")
    return {name: normalize("NFC", value[name]) for name in needed}


def _no_file(what: str, needed: tuple[str, ...]) -> Refused:
    return Refused(
        "bad_definition",
        f"The file is no {what}: it must be an object with the texts {', '.join(needed)}.",
        "Choose the JSON file as exported from another book.",
    )


def _write(
    workshop: Workshop,
    connection: Connection,
    first: FirstPages,
    new: NewBook,
    airframe: dict[str, Any] | None,
    standard: dict[str, str] | None,
) -> None:
    day = wall_time(workshop.now_ms(), zone_named(first.time_zone))[:10]
    lead = person_values(first.lead_name, "lead", first.stamp_number, day)
    root = [Draft("book", "book", _book_values(first)), Draft(new.lead, "person", lead)]
    entries = write_act_here(workshop, connection, new.lead, root)
    role_entry = next(one.id for one in entries if one.record == new.lead)
    drafts = []
    if airframe and new.airframe:
        drafts.append(Draft(new.airframe, "airframe", airframe, relies=[role_entry]))
    if standard and new.standard:
        drafts.append(Draft(new.standard, "standard", standard, relies=[role_entry]))
    if drafts:
        write_act_here(workshop, connection, new.lead, drafts)


def _book_values(first: FirstPages) -> dict[str, Any]:
    return {
        "workshop": book_text(first.workshop),
        "time_zone": first.time_zone,
        "unit": first.unit,
        "signatures": "not yet",
    }
