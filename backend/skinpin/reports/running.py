"""A report that is being made: how far it is, and the way to end it."""

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import NamedTuple

from skinpin.domain.errors import Refused


class Step(NamedTuple):
    """What is being done now: done of so many."""

    doing: str
    done: int
    of: int


class Running:
    """Told by who makes a report, asked and ended by anybody else; safe between threads."""

    def __init__(self, tell: Callable[[Step], None] | None = None) -> None:
        self._lock = threading.Lock()
        self._tell = tell
        self._ended = False
        self._kill: Callable[[], None] | None = None
        self.step = Step("waiting", 0, 0)

    def now(self, doing: str, done: int = 0, of: int = 0) -> None:
        """Say what is being done; raises where the report was cancelled."""
        with self._lock:
            self.step = Step(doing, done, of)
            ended = self._ended
        if ended:
            raise cancelled()
        if self._tell is not None:
            self._tell(self.step)

    def end(self) -> None:
        """Cancel: nothing more is begun, and a child process at work is ended."""
        with self._lock:
            self._ended = True
            kill = self._kill
        if kill is not None:
            kill()

    @contextmanager
    def ends(self, kill: Callable[[], None]) -> Iterator[None]:
        """Let `end` call `kill` during the block; raises where the report was cancelled."""
        with self._lock:
            self._kill = kill
            ended = self._ended
        if ended:
            kill()
        try:
            yield
        finally:
            with self._lock:
                self._kill = None
                ended = self._ended
            if ended:
                raise cancelled()


def cancelled() -> Refused:
    """Return the refusal of a report that somebody cancelled."""
    return Refused("cancelled", "The report was cancelled.", "Make it again when it is wanted.")
