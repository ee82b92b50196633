"""The moment an entry is shown under: by corrected time, in the workshop's time zone."""

from collections.abc import Callable, Mapping
from datetime import UTC, datetime, tzinfo

from skinpin_sync.clock import decode
from skinpin_sync.entry import Entry

Day = Callable[[Entry], str]
Moment = Callable[[Entry], tuple[str, str]]
"""Day and time of day of an entry: ("2025-11-03", "10:14")."""


def days_in(zone: tzinfo, came_ms: Mapping[str, int] | None = None) -> Day:
    """Return what tells the day of an entry, as 2025-11-03.

    An id is stamped with time that was put right by the server; the raw time stays in the entry.

    Parameters
    ----------
    zone
        The workshop's.
    came_ms
        By id when those entries arrived that are stamped too far ahead to be believed.
    """
    at = _moments(zone, came_ms or {})
    return lambda entry: at(entry).date().isoformat()


def moments_in(zone: tzinfo, came_ms: Mapping[str, int] | None = None) -> Moment:
    """Return what tells day and time of an entry; the arguments are those of `days_in`."""
    at = _moments(zone, came_ms or {})

    def moment(entry: Entry) -> tuple[str, str]:
        when = at(entry)
        return when.date().isoformat(), when.strftime("%H:%M")

    return moment


def _moments(zone: tzinfo, came_ms: Mapping[str, int]) -> Callable[[Entry], datetime]:
    def at(entry: Entry) -> datetime:
        at_ms = came_ms.get(entry.id)
        at_ms = decode(entry.id).last_ms if at_ms is None else at_ms
        return datetime.fromtimestamp(at_ms / 1000, zone)

    return at


day_stamped = days_in(UTC)
moment_stamped = moments_in(UTC)
