"""The register of tablets: what each told last of itself, and its numbers accounted for."""

from contextlib import suppress
from typing import Any

import orjson
from sqlalchemy import Connection

from skinpin.domain.errors import Refused
from skinpin.domain.numbers import read_number, write_number
from skinpin.domain.numbers_book import Numbers, Told, explain
from skinpin.services.devices import why_shut
from skinpin.services.people import need_person
from skinpin.services.push import need_book
from skinpin.services.workday import wall_time, workshop_day, workshop_zone
from skinpin.services.workshop import Workshop
from skinpin.storage.devices import Device, Found, list_devices, note_told
from skinpin.storage.numbers_given import Given, devices_forked, numbers_given

MAY_LOOK = ("lead", "clerk")


def keep_told(workshop: Workshop, name: str, told: dict[str, Any]) -> int:
    """Keep what a device says of itself, and return by how much its clock is off, in ms.

    Where the server's clock is pinned to a day, as in a demo, that is not the device's fault.
    """
    unsent = told["entries"] + told["files"]
    offset_ms: int = told["offset_ms"] - workshop.shift_ms()
    text = orjson.dumps({**told, "offset_ms": offset_ms}, option=orjson.OPT_SORT_KEYS).decode()
    with workshop.noting() as connection:
        note_told(connection, name, workshop.now_ms(), text, unsent)
    return offset_ms


def register(workshop: Workshop, person: str, build: str | None = None) -> list[dict[str, Any]]:
    """Return every device, tablets first, for a lead or clerk who books them in.

    `build` is the app that the server hands out; a tablet may run an older one.
    """
    with workshop.snapshot() as connection:
        _need_desk(workshop, connection, person)
        given, forked = numbers_given(connection), devices_forked(connection)
        found = list_devices(connection)
        rows = [
            {
                **_row(workshop, connection, one),
                "forked": one[0].name in forked,
                "old_app": _is_old(_told(one[0]), build),
                "numbers": _numbers(one[0], given, is_out=_is_out(workshop, connection, one)),
            }
            for one in found
        ]
    return sorted(rows, key=lambda row: (row["letter"] is None, row["shut"] is not None))


def _need_desk(workshop: Workshop, connection: Connection, person: str) -> None:
    asks = need_person(connection, person, workshop_day(workshop, connection))
    if asks.role not in MAY_LOOK:
        raise Refused(
            "not_allowed",
            f"Tablets are booked in by a lead or a clerk; {asks.name} is neither.",
            "Ask one of them.",
        )


def _row(workshop: Workshop, connection: Connection, found: Found) -> dict[str, Any]:
    device, _ = found
    zone, told = workshop_zone(connection), _told(device)
    times = {
        "enrolled_at": device.enrolled_at_ms,
        "last_seen": device.last_seen_ms,
        "told_at": device.told_at_ms,
    }
    return {
        "device": device.record,
        "name": device.name,
        "letter": device.letter,
        "enrolled_by": device.enrolled_by,
        **{name: None if ms is None else wall_time(ms, zone) for name, ms in times.items()},
        "shut": why_shut(workshop, connection, found),
        "told": _aged(told, device.told_at_ms, workshop.now_ms()),
        "behind": told is not None and told["epoch"] != need_book(connection).epoch,
    }


def _is_out(workshop: Workshop, connection: Connection, found: Found) -> bool:
    return why_shut(workshop, connection, found) is not None


def _is_old(told: dict[str, Any] | None, build: str | None) -> bool:
    return told is not None and build is not None and told["version"] != build


def _told(device: Device) -> dict[str, Any] | None:
    told: dict[str, Any] | None = orjson.loads(device.told) if device.told else None
    return told


def _aged(told: dict[str, Any] | None, at_ms: int | None, now_ms: int) -> dict[str, Any] | None:
    """Return what was told, the age of what waits as it is now."""
    if told is None or told["oldest_ms"] is None or at_ms is None:
        return told
    return {**told, "oldest_ms": told["oldest_ms"] + max(0, now_ms - at_ms)}


def _numbers(device: Device, given: dict[str, Given], *, is_out: bool) -> dict[str, Any] | None:
    """Return the numbers of a tablet: first, last, how many records, and what needs a word."""
    letter, told = device.letter, _told(device)
    if letter is None:
        return None
    borne, given_up = given.get(letter, Given({}, set()))
    said = _said(letter, told) if told else None
    words = explain(borne, frozenset(given_up), said, is_out=is_out)
    first, last = (min(borne), max(borne)) if borne else (0, 0)
    return {
        "first": write_number(letter, first) if borne else None,
        "last": write_number(letter, last) if borne else None,
        "told_last": write_number(letter, said.last) if said and said.last else None,
        "records": sum(map(len, borne.values())),
        "words": [_word(letter, one) for one in words],
    }


def _said(letter: str, told: dict[str, Any]) -> Told:
    """Return what a tablet told of numbers; one of another letter says nothing of this one's."""
    last = 0
    with suppress(Refused):
        its, serial = read_number(told["last_number"] or "")
        last = serial if its == letter else 0
    return Told(last, told["entries"], told["refused"])


def _word(letter: str, one: Numbers) -> dict[str, str]:
    numbers = {"first": one.first, "last": one.last}
    return {"why": one.why, **{name: write_number(letter, n) for name, n in numbers.items()}}
