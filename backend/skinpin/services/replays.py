"""Replays of a book that were made lately: a few are kept, made one at a time, gone at the end.

Each lies in a folder of its own whose lock its process holds: what a killed one left is known by
that nobody holds it.
"""

import contextlib
import shutil
import tempfile
from collections.abc import Callable, Collection, Hashable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from threading import Lock
from typing import BinaryIO, NamedTuple

from sqlalchemy import Engine

from skinpin.domain.errors import Refused
from skinpin.storage.files import FileLayer

MOST_KEPT = 3
"""Each takes as much of the disk as the book, photographs left out."""
MOST_WAITING = 4
"""Each that waits for the one that makes keeps a thread of the server."""
PREFIX = "skinpin-as-at-"


class Made(NamedTuple):
    """A replay as it was made: its key at that moment, and the files it was made without."""

    key: Hashable
    engine: Engine
    lacks: Collection[str] = ()


@dataclass
class Replay:
    """A book of its own in a folder of its own, and how many read it now."""

    folder: Path
    holding: BinaryIO
    engine: Engine
    lacks: Collection[str]
    users: int = 1
    is_kept: bool = True


class Replays:
    """Replays by what they hold, the one used last at the end.

    They lie below `root`; without one in the system's folder for temporary files.
    """

    def __init__(self, root: Path | None = None) -> None:
        self._kept: dict[Hashable, Replay] = {}
        self._lock, self._making = Lock(), Lock()
        self._waiting = 0
        self._root, self._layer = root, FileLayer()

    def take(
        self,
        ask_key: Callable[[], Hashable],
        make: Callable[[Path], Made],
        came: Callable[[Collection[str]], Collection[str]],
    ) -> Replay:
        """Return a replay for use, made where none is kept; it is to be given back.

        `ask_key` is asked again when it is one's turn to make, `came` says which of some files
        are here.

        Raises
        ------
        Refused
            If too many wait already.
        """
        found = self._find(ask_key(), came)
        if found is None:
            with self._turn():
                found = self._find(ask_key(), came) or self._make(make)
        return found

    def sweep(self) -> int:
        """Remove what processes left that are no more, and return how many replays."""
        if self._root is None or not self._root.is_dir():
            return 0
        left = 0
        with self._layer.lock(self._root / "lock"):
            for folder in self._root.glob(f"{PREFIX}*"):
                with contextlib.suppress(FileNotFoundError):  # its process removed it
                    holding = self._layer.hold(folder / "lock")
                    if holding is not None:
                        shutil.rmtree(folder, ignore_errors=True)
                        holding.close()
                        left += 1
        return left

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

    @contextmanager
    def _turn(self) -> Iterator[None]:
        """Wait to be the one that makes."""
        with self._lock:
            if self._waiting > MOST_WAITING:
                raise Refused(
                    "wait",
                    f"{MOST_WAITING} others wait for the book as at a day already.",
                    "Try again in a minute.",
                )
            self._waiting += 1
        try:
            with self._making:
                yield
        finally:
            with self._lock:
                self._waiting -= 1

    def _find(
        self, key: Hashable, came: Callable[[Collection[str]], Collection[str]]
    ) -> Replay | None:
        with self._lock:
            found = self._kept.pop(key, None)
            if found is None:
                return None
            self._kept[key] = found
            found.users += 1
        if not found.lacks or not came(found.lacks):
            return found
        with self._lock:
            if self._kept.get(key) is found:
                del self._kept[key]
            found.is_kept = False
        self.give_back(found)
        return None

    def _make(self, make: Callable[[Path], Made]) -> Replay:
        self._drop(MOST_KEPT - 1)
        folder, holding = self._new_folder()
        try:
            key, engine, lacks = make(folder)
        except BaseException:
            shutil.rmtree(folder, ignore_errors=True)
            holding.close()
            raise
        made = Replay(folder, holding, engine, lacks)
        with self._lock:
            self._kept[key] = made
        return made

    def _new_folder(self) -> tuple[Path, BinaryIO]:
        if self._root is None:
            return self._held_folder()
        self._layer.make_folder(self._root)
        with self._layer.lock(self._root / "lock"):  # no sweep sees it before it is held
            return self._held_folder()

    def _held_folder(self) -> tuple[Path, BinaryIO]:
        folder = Path(tempfile.mkdtemp(prefix=PREFIX, dir=self._root))
        holding = self._layer.hold(folder / "lock")
        assert holding is not None
        return folder, holding

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
    replay.holding.close()
