"""The time zone of the book: its days are the days that rows and histories show."""

from datetime import UTC, tzinfo
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from skinpin_sync.standing import field_values
from sqlalchemy import Connection

from skinpin.storage.records import find_records


def zone_or_none(name: object) -> tzinfo | None:
    """Return a time zone by its IANA name, None where there is none of that name."""
    try:
        return ZoneInfo(str(name))
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return None


def book_zone(connection: Connection) -> tzinfo:
    """Return the time zone of the book, UTC while none stands."""
    found = find_records(connection, ["book"]).get("book")
    names = field_values(found.standing, "time_zone") if found else {}
    zones = (zone_or_none(names[id]) for id in sorted(names))
    return next((zone for zone in zones if zone), UTC)
