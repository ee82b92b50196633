"""Enrolling tablets and desks: a code once, a letter for ever, a token held hashed."""

import base64
from typing import Any, NamedTuple

from cryptography.hazmat.primitives.asymmetric.ec import SECP256R1, EllipticCurvePublicNumbers
from skinpin_sync.chain import Draft
from skinpin_sync.standing import field_values
from sqlalchemy import Connection

from skinpin.domain.errors import Refused
from skinpin.domain.numbers import next_letter
from skinpin.services.people import Person, find_person, need_lead, need_role
from skinpin.services.push import need_book, write_act_here
from skinpin.services.workday import workshop_day
from skinpin.services.workshop import Workshop
from skinpin.storage.devices import Device, device_letters, keep_device
from skinpin.storage.records import records_of_kind
from skinpin.storage.secrets import keep_code, token_sha256, use_code

CODE_MS = 30 * 60 * 1000
CODE_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"
CODE_LENGTH = 10


class Enrolled(NamedTuple):
    """What a device is told once: its name in entries, its record, letter and token."""

    device: str
    tablet: str
    letter: str | None
    token: str
    book: str
    epoch: str


def give_code(workshop: Workshop, lead: str) -> str:
    """Return a code that enrols one tablet within half an hour."""
    number = int.from_bytes(workshop.random(8), "big")
    code = "".join(CODE_LETTERS[number >> 5 * place & 31] for place in range(CODE_LENGTH))
    with workshop.writing() as connection:
        need_lead(connection, lead, workshop_day(workshop, connection))
        keep_code(connection, code, lead, workshop.now_ms() + CODE_MS)
    return f"{code[:5]}-{code[5:]}"


def enrol(workshop: Workshop, code: str, public_key: Any) -> Enrolled:
    """Enrol a tablet: the next letter, its key in the book, a token."""
    key = check_public_key(public_key)
    plain = "".join(one for one in code.upper() if one.isalnum())
    tablet = workshop.new_id()
    with workshop.writing() as connection:
        need_book(connection)
        given_by = use_code(connection, plain, tablet, workshop.now_ms()) or ""
        lead = find_person(connection, given_by, workshop_day(workshop, connection))
        if lead is None or lead.role != "lead":
            raise Refused(
                "wrong_code",
                "The enrolment code is wrong, used, older than half an hour, or not a lead's.",
                "Ask a lead for a new code.",
            )
        letter = next_letter(letters_given(connection))
        values = {"letter": letter, "public_key": key}
        return _enrol(workshop, connection, lead, tablet, letter, values)


def enrol_desk(workshop: Workshop, person: str, public_key: Any = None) -> Enrolled:
    """Enrol the browser of a signed-in person: no letter, so it gives no numbers."""
    values = {"public_key": check_public_key(public_key)} if public_key is not None else {}
    with workshop.writing() as connection:
        need_book(connection)
        by = need_role(connection, person, workshop_day(workshop, connection))
        return _enrol(workshop, connection, by, workshop.new_id(), None, values)


def check_public_key(key: Any) -> dict[str, str]:
    """Return a P-256 public key in JWK form with nothing but its four members, or refuse it."""
    try:
        if key["kty"] != "EC" or key["crv"] != "P-256":
            raise ValueError("another kind of key")
        x, y = (_coordinate(key[name]) for name in ("x", "y"))
        EllipticCurvePublicNumbers(x, y, SECP256R1()).public_key()
    except (ValueError, TypeError, KeyError) as error:
        raise Refused(
            "wrong_shape",
            "The public key is no point of the curve P-256 in JWK form.",
            'Send {"kty": "EC", "crv": "P-256", "x": "…", "y": "…"}.',
        ) from error
    return {name: key[name] for name in ("kty", "crv", "x", "y")}


def _coordinate(text: str) -> int:
    content = base64.urlsafe_b64decode(text + "=")
    if len(text) != 43 or len(content) != 32:
        raise ValueError("not 32 bytes")
    return int.from_bytes(content, "big")


def letters_given(connection: Connection) -> list[str]:
    """Return every letter in use or ever given out: none is given twice."""
    letters = device_letters(connection)
    for one in records_of_kind(connection, "tablet"):
        found = field_values(one.standing, "letter").values()
        letters |= {letter for letter in found if isinstance(letter, str)}
    return sorted(letters)


def _enrol(
    workshop: Workshop,
    connection: Connection,
    by: Person,
    tablet: str,
    letter: str | None,
    values: dict[str, Any],
) -> Enrolled:
    relies = [by.role_entry] if by.role_entry else []
    draft = Draft(tablet, "tablet", values, relies=relies)
    write_act_here(workshop, connection, by.person, [draft])
    token, name = workshop.new_token(), letter or tablet
    now_ms = workshop.now_ms()
    keep_device(connection, Device(name, tablet, letter, token_sha256(token), by.person, now_ms))
    row = need_book(connection)
    return Enrolled(name, tablet, letter, token, row.id, row.epoch)
