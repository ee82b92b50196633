"""Giving and withdrawing roles: what a person wrote before stays good, what comes later waits."""

from typing import Any

from skinpin_sync.chain import Draft
from skinpin_sync.standing import seen_for
from sqlalchemy import Connection

from skinpin.domain.errors import Refused
from skinpin.domain.fields import ROLES
from skinpin.services.people import Person, book_text, list_people, need_lead, need_person
from skinpin.services.push import write_act_here
from skinpin.services.workday import workshop_day
from skinpin.services.workshop import Workshop
from skinpin.storage.log import lock_book, open_ends
from skinpin.storage.records import find_records
from skinpin.storage.secrets import close_sessions_of


def change_role(
    workshop: Workshop, lead: str, person: str, role: str | None, reason: str
) -> Person:
    """Give a person a role, or None to withdraw it, under a lead's authority.

    A withdrawal ends the person's sign-ins at once.

    Raises
    ------
    Refused
        No reason, no such role or person, the role held already, or no lead would be left.
    """
    if role is not None and role not in ROLES:
        known = ", ".join(ROLES)
        raise Refused("wrong_shape", f"There is no role '{role}'.", f"Give one of: {known}.")
    if not reason.strip():
        raise Refused("no_reason", "A change of role needs its reason.", "Write why.")
    with workshop.writing() as connection:
        lock_book(connection)
        day = workshop_day(workshop, connection)
        author = need_lead(connection, lead, day)
        before = need_person(connection, person, day)
        _check(connection, before, role, day)
        value: dict[str, Any] = {"role": role, "from": day}
        if before.role is not None:
            value["upto"] = open_ends(connection)
        draft = _draft(connection, author, person, value, reason)
        write_act_here(workshop, connection, lead, [draft])
        if role is None:
            close_sessions_of(connection, person)
        return need_person(connection, person, day)


def _draft(
    connection: Connection, author: Person, person: str, value: dict[str, Any], reason: str
) -> Draft:
    standing = find_records(connection, [person])[person].standing
    seen = seen_for(standing, ["role"])
    relies = [author.role_entry or ""]
    return Draft(person, "person", {"role": value}, seen, relies, why=book_text(reason))


def _check(connection: Connection, before: Person, role: str | None, day: str) -> None:
    if before.role == role:
        held = f"is {role.replace('_', ' ')} already" if role else "has no role already"
        raise Refused("not_open", f"{before.name} {held}.", "Nothing needs to be done.")
    leads = [one.person for one in list_people(connection, day) if one.role == "lead"]
    if leads == [before.person]:
        raise Refused(
            "last_lead",
            f"{before.name} is the only lead: without one nobody could give a role again.",
            "Make somebody else a lead first.",
        )
