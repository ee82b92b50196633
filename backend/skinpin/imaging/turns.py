"""Work on pictures that is done one at a time, with few who wait: a wait holds a thread."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager

from skinpin.domain.errors import Refused

MOST_WAITING = 2
WAIT_S = 30.0


class Turns:
    """One at work and at most two who wait; whoever comes then is refused at once."""

    def __init__(self, busy: str, wait_s: float = WAIT_S) -> None:
        self._busy, self._wait_s = busy, wait_s
        self._lock, self._one = threading.Lock(), threading.Lock()
        self._inside = 0

    @contextmanager
    def take(self) -> Iterator[None]:
        """Wait for the turn and hold it.

        Raises
        ------
        Refused
            `wait`: two wait already, or the turn did not come in time.
        """
        with self._lock:
            if self._inside > MOST_WAITING:
                raise self._refusal()
            self._inside += 1
        try:
            if not self._one.acquire(timeout=self._wait_s):
                raise self._refusal()
            try:
                yield
            finally:
                self._one.release()
        finally:
            with self._lock:
                self._inside -= 1

    def _refusal(self) -> Refused:
        return Refused("wait", self._busy, "Try again in a minute.")
