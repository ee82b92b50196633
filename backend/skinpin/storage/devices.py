"""Enrolled devices: whose token is good, when they were last seen, what waits on them."""

from typing import NamedTuple

from sqlalchemy import Connection, bindparam, insert, select, update

from skinpin.storage.secrets import token_sha256
from skinpin.storage.tables import device, record


class Device(NamedTuple):
    """An enrolled device: its name in entries, its tablet record, its letter if it has one.

    `unsent` is what it said last of the entries and files that waited on it; `told` all it said of
    itself, as JSON.
    """

    name: str
    record: str
    letter: str | None
    token_sha256: str
    enrolled_by: str
    enrolled_at_ms: int
    last_seen_ms: int | None = None
    unsent: int | None = None
    told: str | None = None
    told_at_ms: int | None = None


Found = tuple[Device, str | None]

_DEVICES = select(device, record.c.standing).select_from(
    device.outerjoin(record, record.c.record == device.c.record)
)
_BY_TOKEN = _DEVICES.where(device.c.token_sha256 == bindparam("token"))
_BY_RECORD = _DEVICES.where(device.c.record == bindparam("of"))


def keep_device(connection: Connection, one: Device) -> None:
    """Enrol a device."""
    connection.execute(insert(device).values(**one._asdict()))


def find_device(connection: Connection, token: str) -> Found | None:
    """Return the device that holds a token, and what stands of its record, as JSON."""
    row = connection.execute(_BY_TOKEN, {"token": token_sha256(token)}).first()
    return (Device(*row[:-1]), row[-1]) if row else None


def find_device_of(connection: Connection, tablet: str) -> Found | None:
    """Return the device of a tablet's record, and what stands of the record, as JSON."""
    row = connection.execute(_BY_RECORD, {"of": tablet}).first()
    return (Device(*row[:-1]), row[-1]) if row else None


def list_devices(connection: Connection) -> list[Found]:
    """Return every device ever enrolled, in the order of enrolment."""
    asked = _DEVICES.order_by(device.c.enrolled_at_ms, device.c.name)
    return [(Device(*row[:-1]), row[-1]) for row in connection.execute(asked)]


def note_seen(connection: Connection, name: str, now_ms: int, unsent: int | None) -> None:
    """Note that a device was here now; and what waits on it, where it said so."""
    told = {} if unsent is None else {"unsent": unsent}
    statement = update(device).where(device.c.name == name)
    connection.execute(statement.values(last_seen_ms=now_ms, **told))


def note_told(connection: Connection, name: str, now_ms: int, told: str, unsent: int) -> None:
    """Note what a device says of itself."""
    statement = update(device).where(device.c.name == name)
    told_now = {"told": told, "told_at_ms": now_ms, "unsent": unsent, "last_seen_ms": now_ms}
    connection.execute(statement.values(**told_now))


def device_letters(connection: Connection) -> set[str]:
    """Return every letter ever given out here."""
    letters = connection.execute(select(device.c.letter).where(device.c.letter.is_not(None)))
    return {letter for (letter,) in letters}
