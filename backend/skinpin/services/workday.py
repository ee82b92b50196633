"""The workshop's day: its date and wall time in its own time zone."""

from datetime import datetime, tzinfo

from sqlalchemy import Connection

from skinpin.domain.errors import Refused
from skinpin.services.workshop import Workshop
from skinpin.storage.time_zone import book_zone, zone_or_none


def zone_named(name: str) -> tzinfo:
    """Return a time zone by its IANA name, or refuse it."""
    zone = zone_or_none(name)
    if zone is None:
        raise Refused(
            "wrong_shape",
            f"'{name}' is no time zone.",
            "Give the name of a place as Europe/London.",
        )
    return zone


def workshop_zone(connection: Connection) -> tzinfo:
    """Return the time zone of the book, UTC while none stands."""
    return book_zone(connection)


def workshop_day(workshop: Workshop, connection: Connection) -> str:
    """Return the workshop's date today, as 2025-11-03."""
    return wall_time(workshop.now_ms(), workshop_zone(connection))[:10]


def wall_time(now_ms: int, zone: tzinfo) -> str:
    """Return local time with its offset.

    >>> from zoneinfo import ZoneInfo
    >>> wall_time(1762157730250, ZoneInfo("Europe/London"))
    '2025-11-03T08:15:30.250+00:00'
    """
    return datetime.fromtimestamp(now_ms / 1000, zone).isoformat(timespec="milliseconds")
