"""The people of the book: who they are, what they may do today, and their passcodes."""

from collections.abc import Mapping
from typing import Any, NamedTuple
from unicodedata import normalize

from skinpin_sync.chain import Draft
from skinpin_sync.standing import Standing, field_values
from sqlalchemy import Connection

from skinpin.domain.errors import Refused
from skinpin.domain.fields import ROLES
from skinpin.services.passcodes import make_secret
from skinpin.services.push import write_act_here
from skinpin.services.workday import workshop_day
from skinpin.services.workshop import Workshop
from skinpin.storage.records import find_records, records_of_kind
from skinpin.storage.secrets import close_sessions_of, keep_secret, list_secrets


class Person(NamedTuple):
    """A person as lists show one; `role_entry` is the id that gives the role in force."""

    person: str
    name: str
    role: str | None
    stamp_number: str | None
    role_entry: str | None


def list_people(connection: Connection, day: str) -> list[Person]:
    """Return everybody in the book with the role in force on a day."""
    found = [
        _person(one.record, one.standing, day) for one in records_of_kind(connection, "person")
    ]
    return sorted(found, key=lambda one: (one.name, one.person))


def find_person(connection: Connection, person: str, day: str) -> Person | None:
    """Return one person of the book."""
    one = find_records(connection, [person]).get(person)
    return _person(person, one.standing, day) if one and one.kind == "person" else None


def people_here(workshop: Workshop, *, with_unlock: bool) -> list[dict[str, Any]]:
    """Return the list that sign-in shows; enrolled devices also get the check values.

    Nobody without a role has one: no tablet can sign such a person in.
    """
    with workshop.reading() as connection:
        people = list_people(connection, workshop_day(workshop, connection))
        secrets = list_secrets(connection) if with_unlock else {}
    listed = []
    for one in people:
        row: dict[str, Any] = one._asdict()
        if with_unlock:
            secret = secrets.get(one.person) if one.role else None
            row["unlock"] = secret and {
                "salt": secret.salt,
                "iterations": secret.iterations,
                "check": secret.check_value,
            }
        listed.append(row)
    return listed


def add_person(
    workshop: Workshop, lead: str, name: str, role: str, stamp_number: str, passcode: str
) -> str:
    """Write a person into the book under a lead's authority and set the passcode."""
    if not name.strip() or role not in ROLES:
        raise Refused(
            "wrong_shape",
            f"The name '{name}' or the role '{role}' can't be used.",
            f"Give a name and one of: {', '.join(ROLES)}.",
        )
    person = workshop.new_id()
    secret = make_secret(person, passcode, workshop.random(16))
    with workshop.writing() as connection:
        day = workshop_day(workshop, connection)
        author = need_lead(connection, lead, day)
        values = person_values(name, role, stamp_number, day)
        draft = Draft(person, "person", values, relies=[author.role_entry or ""])
        write_act_here(workshop, connection, lead, [draft])
        keep_secret(connection, secret)
    return person


def set_passcode(workshop: Workshop, by: str, person: str, passcode: str) -> None:
    """Set a passcode: one's own, or anybody's for a lead. Ends that person's sign-ins."""
    secret = make_secret(person, passcode, workshop.random(16))
    with workshop.writing() as connection:
        day = workshop_day(workshop, connection)
        if by != person:
            need_lead(connection, by, day)
        need_person(connection, person, day)
        keep_secret(connection, secret)
        close_sessions_of(connection, person)


def need_person(connection: Connection, person: str, day: str) -> Person:
    """Return a person of the book, or refuse somebody who is not in it."""
    found = find_person(connection, person, day)
    if found is None:
        raise Refused("no_such_person", f"There is no person '{person}'.", "Choose one listed.")
    return found


def need_role(connection: Connection, person: str, day: str) -> Person:
    """Return a person who has a role in the book, or refuse one whose role was withdrawn."""
    found = need_person(connection, person, day)
    if found.role is None:
        raise Refused(
            "no_role",
            f"{found.name} has no role in this book any more.",
            "Ask a lead. What was recorded stays, and a role can be given again.",
        )
    return found


def need_lead(connection: Connection, person: str, day: str) -> Person:
    """Return the person, or refuse what only a lead may do."""
    found = find_person(connection, person, day)
    if found is None or found.role != "lead":
        role = (found and found.role) or "somebody without a role"
        raise Refused(
            "not_allowed",
            f"This is for a lead to do; it was asked by {role.replace('_', ' ')}.",
            "Ask a lead to do it.",
        )
    return found


def only_lead(workshop: Workshop, name: str = "") -> str:
    """Return the lead of this name, or the only one there is, for acts at the server itself."""
    with workshop.reading() as connection:
        people = list_people(connection, workshop_day(workshop, connection))
    leads = [one for one in people if one.role == "lead" and name in ("", one.name)]
    if len(leads) != 1:
        raise Refused(
            "which_lead",
            f"{len(leads)} leads fit '{name}'; exactly one is needed.",
            "Name the lead this is done for: --lead NAME.",
        )
    return leads[0].person


def person_named(workshop: Workshop, name: str) -> str:
    """Return the one person of this name."""
    found = [one for one in people_here(workshop, with_unlock=False) if one["name"] == name]
    if len(found) != 1:
        raise Refused(
            "no_such_person",
            f"{len(found)} people are called '{name}'; exactly one is needed.",
            "Look at the list: skinpin people list.",
        )
    return str(found[0]["person"])


def person_values(name: str, role: str, stamp_number: str, day: str) -> dict[str, Any]:
    """Return the fields of a new person record."""
    values: dict[str, Any] = {"name": book_text(name), "role": {"role": role, "from": day}}
    if stamp_number.strip():
        values["stamp_number"] = {"number": book_text(stamp_number), "from": day}
    return values


def book_text(typed: str) -> str:
    """Return what was typed in the one spelling of the book: some keyboards write é as two."""
    return normalize("NFC", typed.strip())


def _person(person: str, now: Standing, day: str) -> Person:
    entry, role = _in_force(field_values(now, "role"), day)
    _, stamp = _in_force(field_values(now, "stamp_number"), day)
    names = [value for value in field_values(now, "name").values() if isinstance(value, str)]
    return Person(person, names[-1] if names else "", _text(role, "role"), _text(stamp, "number"),
                  entry)  # fmt: skip


def _in_force(values: Mapping[str, Any], day: str) -> tuple[str | None, Mapping[str, Any]]:
    """Return the value in force on a day with its entry; of several the one that began last.

    A value is in force from the moment it stands: a clock set back shuts nobody out.
    """
    found = [
        (str(value.get("from", "")), id)
        for id, value in values.items()
        if isinstance(value, dict) and day <= str(value.get("to") or "9999")
    ]
    if not found:
        return None, {}
    _, id = max(found)
    return id, values[id]


def _text(value: Mapping[str, Any], key: str) -> str | None:
    text = value.get(key)
    return text if isinstance(text, str) and text else None
