"""Devices at work: whose token is let in, what a lead sees of them, and ending one."""

from contextlib import suppress
from typing import Any, NamedTuple

from skinpin_sync.chain import Draft
from skinpin_sync.standing import Standing, field_values, seen_for
from sqlalchemy import Connection
from sqlalchemy.exc import OperationalError

from skinpin.domain.errors import Refused
from skinpin.services.people import book_text, find_person, need_lead
from skinpin.services.push import write_act_here
from skinpin.services.workday import wall_time, workshop_day, workshop_zone
from skinpin.services.workshop import LetIn, Workshop
from skinpin.storage.devices import Device, find_device, find_device_of, list_devices, note_seen
from skinpin.storage.records import read_standing
from skinpin.storage.secrets import token_sha256

SEEN_EVERY_MS = 60_000
LET_IN_MS = 1000
"""How long another process, such as a verb of the command line, may change rights unnoticed."""
MOST_LET_IN = 1000
MOST_UNSENT = 10**9


class DeviceShown(NamedTuple):
    """What a lead sees of a device; times are wall times of the workshop.

    `shut` says in a sentence why its token is refused, None while it is good.
    """

    device: str
    name: str
    letter: str | None
    enrolled_by: str
    enrolled_at: str
    last_seen: str | None
    unsent: int | None
    shut: str | None


def device_of(workshop: Workshop, token: str, unsent: int | None = None) -> Device:
    """Return the device that holds a token, or refuse it; note that it was here.

    `unsent` is how many entries and files it says wait on it. Who was let in just now and sends
    one photograph after the other is not looked up anew while nothing else was written.
    """
    if unsent is None and (device := let_in_just_now(workshop, token)):
        return device
    key, now_ms, writes = token_sha256(token), workshop.now_ms(), workshop.writes
    with workshop.reading() as connection:
        found = find_device(connection, token)
        why = why_shut(workshop, connection, found) if found else None
    if found is None:
        raise not_enrolled("This device is not enrolled here.")
    if why:
        raise ended(why, has_letter=found[0].letter is not None)
    _note(workshop, found[0], unsent)
    if len(workshop.let_in) > MOST_LET_IN:
        workshop.let_in.clear()
    workshop.let_in[key] = LetIn(found[0], now_ms, writes)
    return found[0]


def let_in_just_now(workshop: Workshop, token: str) -> Device | None:
    """Return the device that was let in with a token just now; the database is not asked."""
    kept = workshop.let_in.get(token_sha256(token))
    if kept is None or kept.writes != workshop.writes:
        return None
    return kept.device if 0 <= workshop.now_ms() - kept.at_ms < LET_IN_MS else None


def not_enrolled(message: str) -> Refused:
    """Return the refusal of a device without a good token."""
    return Refused("not_enrolled", message, "Ask a lead for an enrolment code.")


def ended(why: str, *, has_letter: bool) -> Refused:
    """Return the refusal of a device whose token was good once."""
    again = "Ask a lead for a code" if has_letter else "Sign in as somebody with a role"
    hint = f"What waits here stays stored. {again} and enrol it again; then everything is sent."
    return Refused("device_ended", why, hint)


def show_devices(workshop: Workshop, lead: str) -> list[DeviceShown]:
    """Return every device ever enrolled, for a lead."""
    with workshop.reading() as connection:
        need_lead(connection, lead, workshop_day(workshop, connection))
        return [_shown(workshop, connection, found) for found in list_devices(connection)]


def end_device(workshop: Workshop, lead: str, tablet: str, reason: str) -> None:
    """Write under a lead's authority that a device is ended: its token is refused from now on."""
    if not reason.strip():
        raise Refused("no_reason", "Ending a device needs its reason.", "Write why.")
    with workshop.writing() as connection:
        author = need_lead(connection, lead, workshop_day(workshop, connection))
        found = find_device_of(connection, tablet)
        if found is None:
            raise Refused("no_such_device", f"There is no device '{tablet}'.", "Choose one listed.")
        seen = seen_for(_standing(found[1]), ["ended"])
        values, relies = {"ended": book_text(reason)}, [author.role_entry or ""]
        draft = Draft(tablet, "tablet", values, seen, relies)
        write_act_here(workshop, connection, lead, [draft])


def _standing(text: str | None) -> Standing:
    return read_standing(text) if text else Standing({})


def why_shut(
    workshop: Workshop, connection: Connection, found: tuple[Device, str | None]
) -> str | None:
    """Return the sentence that says why a device is let in no more, None while it is."""
    device, standing = found[0], _standing(found[1])
    what = f"Tablet {device.letter}" if device.letter else "This desk"
    reasons = [one for one in field_values(standing, "ended").values() if isinstance(one, str)]
    if reasons:
        return f"{what} was ended by a lead: {_sentence(' / '.join(sorted(reasons)))}"
    if True in field_values(standing, "lost").values():
        return f"{what} was marked lost."
    if device.letter is None:
        by = find_person(connection, device.enrolled_by, workshop_day(workshop, connection))
        if by is None or by.role is None:
            name = by.name if by else "somebody"
            return f"{what} was enrolled by {name}, who has no role in this book any more."
    return None


def _sentence(text: str) -> str:
    return text if text.endswith((".", "!", "?")) else f"{text}."


def _note(workshop: Workshop, device: Device, unsent: int | None) -> None:
    now_ms = workshop.now_ms()
    is_fresh = abs(now_ms - (device.last_seen_ms or 0)) < SEEN_EVERY_MS
    if is_fresh and unsent in (None, device.unsent):
        return
    # A note is not worth a refusal: the disk may be full, or the book held by a long write.
    with suppress(OperationalError), workshop.noting() as connection:
        note_seen(connection, device.name, now_ms, unsent)


def _shown(
    workshop: Workshop, connection: Connection, found: tuple[Device, str | None]
) -> DeviceShown:
    device, _ = found
    zone = workshop_zone(connection)
    seen = device.last_seen_ms
    times: dict[str, Any] = {
        "enrolled_at": wall_time(device.enrolled_at_ms, zone),
        "last_seen": None if seen is None else wall_time(seen, zone),
    }
    return DeviceShown(
        device=device.record,
        name=device.name,
        letter=device.letter,
        enrolled_by=device.enrolled_by,
        unsent=device.unsent,
        shut=why_shut(workshop, connection, found),
        **times,
    )
