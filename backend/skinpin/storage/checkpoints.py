"""Carries SQLite's write-ahead log over into the database file, beside whoever pushes.

A commit is durable once the write-ahead log is; what is left to do makes no answer wait.
"""

import logging
import sqlite3
import threading
import time
from collections.abc import Callable
from pathlib import Path

LEAST_BYTES = 4 * 1024 * 1024
EVERY_S = 1.0
log = logging.getLogger("skinpin")


class Checkpoints:
    """One thread at a time for one database file; an end waits for it.

    Should it never get its turn, SQLite's own checkpoint (`wal_autocheckpoint`) is the ceiling.
    """

    def __init__(self, database: Path, clock: Callable[[], float] = time.monotonic) -> None:
        self._database, self._clock = database, clock
        self._log = database.with_name(f"{database.name}-wal")
        self._thread: threading.Thread | None = None
        self._lock, self._next_s, self._closed = threading.Lock(), 0.0, False

    def after_commit(self) -> bool:
        """Begin a checkpoint if the write-ahead log is long; say whether one was begun."""
        if self._clock() < self._next_s or self._size_bytes() < LEAST_BYTES:
            return False
        with self._lock:
            if self._closed or (self._thread is not None and self._thread.is_alive()):
                return False
            self._next_s = self._clock() + EVERY_S
            self._thread = threading.Thread(target=self._run, name="checkpoint", daemon=True)
            self._thread.start()
        return True

    def close(self) -> None:
        """Begin no more, and wait for the one under way."""
        with self._lock:
            self._closed, thread = True, self._thread
        if thread is not None:
            thread.join()

    def _size_bytes(self) -> int:
        try:
            return self._log.stat().st_size
        except FileNotFoundError:
            return 0

    def _run(self) -> None:
        try:
            # Never make a file that was moved away meanwhile.
            raw = sqlite3.connect(f"{self._database.absolute().as_uri()}?mode=rw", uri=True)
        except sqlite3.Error as error:
            log.warning("The book's database could not be opened for a checkpoint: %s", error)
            return
        try:
            raw.execute("PRAGMA synchronous=FULL")
            raw.execute("PRAGMA wal_checkpoint(PASSIVE)")
        except sqlite3.Error as error:
            # Nothing is lost: the write-ahead log holds it all, and the next try follows.
            log.warning("A checkpoint of the book's database failed: %s", error)
        finally:
            raw.close()
