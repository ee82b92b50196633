"""The day an entry is shown under: by corrected time, in the workshop's time zone."""

from collections.abc import Callable, Mapping
from datetime import UTC, datetime, tzinfo

from skinpin_sync.clock import decode
from skinpin_sync.entry import Entry

Day = Callable[[Entry], str]


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
    came = came_ms or {}

    def day(entry: Entry) -> str:
        at_ms = came.get(entry.id)
        at_ms = decode(entry.id).last_ms if at_ms is None else at_ms
        return datetime.fromtimestamp(at_ms / 1000, zone).date().isoformat()

    return day


day_stamped = days_in(UTC)
