"""Replays of a book that were made lately: a few are kept, made one at a time, gone at the end."""

import shutil
import tempfile
from collections.abc import Callable, Hashable
from dataclasses import dataclass
from pathlib import Path
from threading import Lock

from sqlalchemy import Engine

MOST_KEPT = 3
"""Each takes as much of the disk as the book, photographs left out."""


@dataclass
class Replay:
    """A book of its own in a folder of its own, and how many read it now."""

    folder: Path
    engine: Engine
    users: int = 1
    is_kept: bool = True


class Replays:
    """Replays by what they hold, the one used last at the end."""

    def __init__(self) -> None:
        self._kept: dict[Hashable, Replay] = {}
        self._lock, self._making = Lock(), Lock()

    def take(self, key: Hashable, make: Callable[[Path], Engine]) -> Replay:
        """Return a replay for use, made where none is kept; it is to be given back."""
        found = self._find(key)
        if found is None:
            with self._making:
                found = self._find(key) or self._make(key, make)
        return found

    def give_back(self, replay: Replay) -> None:
        """End a use; the last one of a replay that is kept no more removes it."""
        with self._lock:
            replay.users -= 1
            is_over = not replay.is_kept and replay.users == 0
        if is_over:
            _remove(replay)

    def close(self) -> None:
        """Remove every replay; one that is being read goes when it is given back."""
        self._drop(0)

    def _find(self, key: Hashable) -> Replay | None:
        with self._lock:
            found = self._kept.pop(key, None)
            if found is not None:
                self._kept[key] = found
                found.users += 1
            return found

    def _make(self, key: Hashable, make: Callable[[Path], Engine]) -> Replay:
        self._drop(MOST_KEPT - 1)
        folder = Path(tempfile.mkdtemp(prefix="skinpin-as-at-"))
        try:
            made = Replay(folder, make(folder))
        except BaseException:
            shutil.rmtree(folder, ignore_errors=True)
            raise
        with self._lock:
            self._kept[key] = made
        return made

    def _drop(self, most: int) -> None:
        with self._lock:
            oldest = list(self._kept)[: max(len(self._kept) - most, 0)]
            dropped = [self._kept.pop(key) for key in oldest]
            for one in dropped:
                one.is_kept = False
            unused = [one for one in dropped if one.users == 0]
        for one in unused:
            _remove(one)


def _remove(replay: Replay) -> None:
    replay.engine.dispose()
    shutil.rmtree(replay.folder, ignore_errors=True)
