"""Definitions of airframes: checked, issued, issued anew, handed out."""

import hashlib
import json
from collections.abc import Mapping
from typing import Any, NamedTuple

from skinpin_sync.chain import Draft
from skinpin_sync.standing import field_values, seen_for
from sqlalchemy import Connection

from skinpin.domain.definition import check, count_cells, kept_form, zone_words
from skinpin.domain.definition_changes import Use, change_troubles, is_place, moved
from skinpin.domain.definition_shape import shape_troubles
from skinpin.domain.definition_trouble import REFUSED, Trouble
from skinpin.domain.definition_typed import read_members
from skinpin.domain.errors import Refused
from skinpin.services.airframes import last_value
from skinpin.services.definition_pictures import picture_troubles
from skinpin.services.people import Person, book_text, need_lead
from skinpin.services.photographs import keep_bytes
from skinpin.services.push import write_act_here
from skinpin.services.workday import workshop_day
from skinpin.services.workshop import Workshop
from skinpin.storage.files_named import MOST_BYTES
from skinpin.storage.log import lock_book
from skinpin.storage.records import StandingRecord, find_records, records_of_kind

Definition = Mapping[str, Any]
MOST_NAMED = 3


class Issued(NamedTuple):
    """An airframe with the definition that stands now."""

    record: str
    type: str
    constructor: str
    definition: dict[str, str]


def list_airframes(workshop: Workshop) -> list[dict[str, Any]]:
    """Return the airframes of the book, by constructor's number."""
    with workshop.reading() as connection:
        found = records_of_kind(connection, "airframe")
    listed: list[dict[str, Any]] = [_airframe(one) for one in found]
    return sorted(listed, key=lambda one: (one["constructor"], one["record"]))


def _airframe(one: StandingRecord) -> dict[str, Any]:
    words = {word: str(last_value(one.standing, word) or "") for word in ("type", "constructor")}
    pin = last_value(one.standing, "definition")
    return {"record": one.record, **words, "definition": pin if isinstance(pin, dict) else None}


def definition_file(workshop: Workshop, record: str) -> bytes:
    """Return the file of the definition that stands, byte for byte."""
    with workshop.reading() as connection:
        pin = _pin_of(_need_airframe(connection, record))
    if workshop.files.pinned(pin) is None:
        raise _not_here()
    return workshop.folder.read(str(pin["sha256"]))


def check_definition(
    workshop: Workshop, lead: str, definition: Any, airframe: str | None
) -> dict[str, Any]:
    """Return what is wrong with a definition, and what it would change; nothing is stored."""
    with workshop.reading() as connection:
        need_lead(connection, lead, workshop_day(workshop, connection))
        checked = _Checked(workshop, connection, definition, airframe)
    return checked.told()


def typed_members(workshop: Workshop, lead: str, unit: str, text: str) -> dict[str, Any]:
    """Return the members of lines that were typed, pasted or kept in CSV, and their troubles."""
    _need_lead(workshop, lead)
    members, troubles = read_members(text, unit)
    return {"members": members, "troubles": [one._asdict() for one in troubles]}


def _need_lead(workshop: Workshop, lead: str) -> None:
    with workshop.reading() as connection:
        need_lead(connection, lead, workshop_day(workshop, connection))


def new_airframe(workshop: Workshop, lead: str, definition: Any) -> Issued:
    """Write a new airframe with its first definition into the book."""
    _need_lead(workshop, lead)
    look_at(workshop, definition)
    content, values = _ready(definition)
    with workshop.reading() as connection:
        _refuse_taken(connection, values["constructor"])
    keep_bytes(workshop, content)
    with workshop.writing() as connection:
        lock_book(connection)
        author = need_lead(connection, lead, workshop_day(workshop, connection))
        _refuse_taken(connection, values["constructor"])
        record = workshop.new_id()
        draft = Draft(record, "airframe", values, relies=[author.role_entry or ""])
        write_act_here(workshop, connection, lead, [draft])
    return Issued(record, **values)


def new_issue(workshop: Workshop, lead: str, record: str, definition: Any, reason: str) -> Issued:
    """Pin a new issue of an airframe's definition; records are described anew and never moved.

    Raises
    ------
    Refused
        No reason, no such airframe, a trouble that stands in the way, or another issue meanwhile.
    """
    if not reason.strip():
        raise Refused("no_reason", "A new issue needs its reason.", "Write why.")
    with workshop.reading() as connection:
        need_lead(connection, lead, workshop_day(workshop, connection))
        pin = _pin_of(_need_airframe(connection, record))
    if isinstance(definition, dict):
        definition = {**definition, "replaces": definition.get("replaces") or pin["sha256"]}
    with workshop.reading() as connection:
        _Checked(workshop, connection, definition, record).refuse()
    content, values = _ready(definition)
    keep_bytes(workshop, content)
    with workshop.writing() as connection:
        lock_book(connection)
        author = need_lead(connection, lead, workshop_day(workshop, connection))
        # Looked at again in here: what came meanwhile may name a member that goes.
        _Checked(workshop, connection, definition, record).refuse()
        draft = _draft(connection, author, record, values, reason)
        write_act_here(workshop, connection, lead, [draft])
    return Issued(record, **values)


def _draft(
    connection: Connection, author: Person, record: str, values: dict[str, Any], reason: str
) -> Draft:
    standing = _need_airframe(connection, record).standing
    changed = {
        name: value
        for name, value in values.items()
        if list(field_values(standing, name).values()) != [value]
    }
    seen = seen_for(standing, changed)
    relies = [author.role_entry or ""]
    return Draft(record, "airframe", changed, seen, relies, why=book_text(reason))


def look_at(workshop: Workshop, definition: Any) -> list[Trouble]:
    """Return what is only said of a definition that is to stand by itself.

    Raises
    ------
    Refused
        Any trouble that stands in the way, named as the lead's screen names it, and a drawing that
        is not here: it would show what nobody has.
    """
    troubles = check(definition)
    _refuse(troubles)
    _refuse(list(picture_troubles(workshop, definition)))
    return troubles


def _refuse(troubles: list[Trouble]) -> None:
    standing = [one for one in troubles if one.weight == REFUSED]
    if standing:
        named = " ".join(one.message for one in standing[:MOST_NAMED])
        rest = len(standing) - MOST_NAMED
        more = f" And {rest} more." if rest > 0 else ""
        raise Refused("bad_definition", f"{named}{more}", standing[0].hint)


def definition_bytes(definition: Definition) -> bytes:
    """Return the one spelling in which a definition is kept: read and kept again it is the same."""
    form = kept_form(definition)
    text = json.dumps(form, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return text.encode()


def _ready(definition: Definition) -> tuple[bytes, dict[str, Any]]:
    content = definition_bytes(definition)
    if len(content) > MOST_BYTES:
        message = f"The definition has {len(content)} bytes; at most {MOST_BYTES} are kept."
        raise Refused("too_large", message, "Leave out lines of its views.")
    form = json.loads(content)
    pin = {
        "name": form["name"],
        "issue": form["issue"],
        "sha256": hashlib.sha256(content).hexdigest(),
    }
    return content, {"type": form["name"], "constructor": form["constructor"], "definition": pin}


def _refuse_taken(connection: Connection, constructor: str) -> None:
    if _bearer(connection, constructor, ""):
        raise Refused(
            "airframe_exists",
            f"Airframe {constructor} is in the book already.",
            "Give it a new issue of its definition.",
        )


def _bearer(connection: Connection, constructor: str, but: str) -> str | None:
    """Return the airframe that bears a constructor's number, one record left aside."""
    for one in records_of_kind(connection, "airframe"):
        if one.record != but and last_value(one.standing, "constructor") == constructor:
            return one.record
    return None


def _need_airframe(connection: Connection, record: str) -> StandingRecord:
    found = find_records(connection, [record]).get(record)
    if found is None or found.kind != "airframe":
        raise Refused(
            "no_such_airframe", f"There is no airframe '{record[:64]}'.", "Choose one listed."
        )
    return found


def _not_here() -> Refused:
    return Refused(
        "no_definition",
        "The airframe's definition is not on this server yet.",
        "It comes when the device that has it sends it.",
    )


def _pin_of(airframe: StandingRecord) -> Mapping[str, Any]:
    pin = last_value(airframe.standing, "definition")
    if not isinstance(pin, dict):
        raise Refused(
            "no_definition", "The airframe has no definition.", "Look at the history of its record."
        )
    return pin


class _Checked:
    """A definition looked at by itself and, where it is to follow another, beside the book."""

    def __init__(
        self, workshop: Workshop, connection: Connection, definition: Any, airframe: str | None
    ) -> None:
        self.definition, self.moved = definition, list[Any]()
        self.troubles = check(definition)
        self.is_read = not shape_troubles(definition)
        if self.is_read:
            self.troubles += picture_troubles(workshop, definition)
        if airframe and self.is_read:
            self._beside(workshop, connection, airframe)

    def _beside(self, workshop: Workshop, connection: Connection, airframe: str) -> None:
        pin = _pin_of(_need_airframe(connection, airframe))
        before = workshop.files.pinned(pin)
        if before is None:
            raise _not_here()
        replaces = self.definition.get("replaces")
        if replaces not in (None, pin["sha256"]):
            message = f"This follows another issue than {pin['issue']}, which stands now."
            hint = "Open the definition that stands and make the change there."
            self.troubles.append(Trouble("replaces", "another_issue", message, hint))
        form = kept_form(self.definition)
        if _bearer(connection, form["constructor"], airframe):
            message = f"Another airframe in the book is {form['constructor']} already."
            hint = "Keep this one's own constructor's number."
            self.troubles.append(Trouble("constructor", "airframe_exists", message, hint))
        uses = list(uses_of(connection, airframe))
        self.troubles += change_troubles(before, form, uses)
        places = [one for one in uses if is_place(one.at)]
        self.moved = moved(before, form, places)

    def refuse(self) -> None:
        """Refuse what stands in the way."""
        _refuse(self.troubles)

    def told(self) -> dict[str, Any]:
        """Return what the screen shows."""
        is_whole = self.is_read and not any(
            one.weight == REFUSED and one.code not in ("no_zone", "zones_overlap")
            for one in self.troubles
        )
        gaps, overlaps = zone_words(self.definition) if is_whole else ([], [])
        return {
            "troubles": [one._asdict() for one in self.troubles],
            "zones": {"gaps": gaps, "overlaps": overlaps},
            "cells": count_cells(self.definition) if self.is_read else 0,
            "moved": [one._asdict() for one in self.moved],
        }


def uses_of(connection: Connection, airframe: str) -> list[Use]:
    """Return everything in the book that names parts of an airframe, what is not live as well.

    Records by their places, which rivet lines, photographs and stamps go by; looks by their cells;
    stages by their areas, which name no airframe and so count for each.
    """
    surveys = {
        one.record: one
        for one in records_of_kind(connection, "survey")
        if last_value(one.standing, "airframe") in (airframe, None)
    }
    found = []
    for one in records_of_kind(connection, "defect"):
        if last_value(one.standing, "airframe") in (airframe, None):
            number = str(last_value(one.standing, "number") or one.record)
            places = field_values(one.standing, "place").values()
            found += [Use(number, place) for place in places if isinstance(place, dict)]
    for one in records_of_kind(connection, "coverage"):
        survey = last_value(one.standing, "survey")
        if survey is None or survey in surveys:
            title = last_value(surveys[survey].standing, "title") if survey else None
            label = f"the coverage of {title}" if title else "coverage without a survey"
            cells = field_values(one.standing, "cell").values()
            found += [Use(label, cell) for cell in cells if isinstance(cell, dict)]
    for one in records_of_kind(connection, "stage"):
        title = last_value(one.standing, "title")
        areas = field_values(one.standing, "area").values()
        parts = [part for area in areas if isinstance(area, list) for part in area]
        found += [Use(str(title), part) for part in parts if isinstance(part, dict)]
    return found
