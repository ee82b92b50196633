"""Tells which reports were left by the process that made them: their beat stands still."""

import time
from collections.abc import Callable, Iterable

from skinpin.storage.report_jobs import Held

LEFT_S = 20.0
"""So long a beat may stand still before its process counts as gone."""
LOOKS_S = 5.0
"""Two looks further apart are no watch: this process slept, or the database was away for all."""


class Standstill:
    """What was seen of others' reports; it reads its own clock alone, no two are compared."""

    def __init__(self, now_s: Callable[[], float] = time.monotonic) -> None:
        self._now_s, self._looked_s = now_s, 0.0
        self._since: dict[tuple[str, str | None, int], float] = {}

    def of(self, running: Iterable[Held]) -> list[Held]:
        """Return those of the reports being made whose beat stands still for too long."""
        now = self._now_s()
        before = self._since if now - self._looked_s <= LOOKS_S else {}
        seen = {(held.asked.id, held.claimed_by, held.beat): held for held in running}
        self._since = {key: before.get(key, now) for key in seen}
        self._looked_s = now
        return [held for key, held in seen.items() if now - self._since[key] >= LEFT_S]
