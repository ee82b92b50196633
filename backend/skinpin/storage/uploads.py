"""Files on their way in from a desk, piece by piece; kept until they were taken in.

{id}.zip    the file, as far as it came
{id}.json   what is said of it, for every server process that is asked
{id}.lock   held by the process that takes it in; the system lets it go with its holder
"""

import contextlib
import json
import re
import shutil
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from skinpin.domain.errors import Refused
from skinpin.storage.files import FileLayer, put_in_place

LOOK_S = 0.3
"""A process that only looks whether a file is held lets it go long before."""
_NOTE = re.compile(r"([0-9a-z]{26})\.json")


class Uploads:
    """Files by id in one folder.

    What an earlier start left is removed; `before_s`: only what was last written before that
    moment, for other servers may be at work on the rest.
    """

    def __init__(
        self, root: Path, layer: FileLayer | None = None, before_s: float | None = None
    ) -> None:
        self._root, self._layer = root, layer or FileLayer()
        for name in list(self._layer.names(root)):
            with contextlib.suppress(FileNotFoundError):  # another server removed it
                if before_s is None or self._layer.changed_s(root / name) < before_s:
                    self._layer.remove(root / name)

    def path(self, id: str) -> Path:
        """Where a file lies, here or not."""
        return self._root / f"{id}.zip"

    def begin(self, id: str, size_bytes: int) -> None:
        """Make an empty file, or refuse where the disk has no room for all of it twice."""
        self._layer.make_folder(self._root)
        free = shutil.disk_usage(self._root).free
        if free < 2 * size_bytes:
            raise Refused(
                "disk_full",
                f"The server has {free // 10**6} MB free; the file needs twice its "
                f"{size_bytes // 10**6} MB.",
                "Make room on the server. Nothing was stored, and the file is as it was.",
            )
        with self._layer.open_new(self.path(id)):
            pass

    def add(self, id: str, at: int, piece: bytes) -> int:
        """Put a piece at its place and return the size so far; pieces come one after the other."""
        path = self.path(id)
        here = path.stat().st_size
        if at > here:
            raise Refused(
                "cut_short", f"{here} bytes are here, the piece begins at {at}.", "Go on there."
            )
        with self._layer.open_parts(path) as file:
            self._layer.write_at(file, at, piece)
        return max(here, at + len(piece))

    def size(self, id: str) -> int:
        """Return how many bytes of a file are here."""
        path = self.path(id)
        return path.stat().st_size if self._layer.exists(path) else 0

    def note(self, id: str, said: dict[str, Any]) -> None:
        """Keep what is said of a file."""
        put_in_place(self._layer, self._said(id), json.dumps(said, ensure_ascii=False).encode())

    def said(self, id: str) -> dict[str, Any] | None:
        """Return what is said of a file, whichever process said it."""
        if not _NOTE.fullmatch(f"{id}.json"):
            return None
        try:
            said: dict[str, Any] = json.loads(self._said(id).read_bytes())
        except FileNotFoundError:
            return None
        return said

    def ids(self) -> list[str]:
        """Return all files that something is said of, the longest untouched first."""
        found = list(filter(None, map(_NOTE.fullmatch, self._layer.names(self._root))))
        aged = []
        for one in found:
            with contextlib.suppress(FileNotFoundError):
                aged.append((self._touched_s(one[1]), one[1]))
        return [id for _, id in sorted(aged)]

    def _touched_s(self, id: str) -> float:
        """When a piece came last, or something was said; the file may be taken away already."""
        said_s = self._layer.changed_s(self._said(id))
        with contextlib.suppress(FileNotFoundError):
            return max(said_s, self._layer.changed_s(self.path(id)))
        return said_s

    @contextmanager
    def held(self, id: str) -> Iterator[bool]:
        """Hold a file during the block; false where a process holds it already."""
        path, until_s = self._root / f"{id}.lock", time.monotonic() + LOOK_S
        while (holding := self._layer.hold(path)) is None and time.monotonic() < until_s:
            time.sleep(LOOK_S / 10)
        try:
            yield holding is not None
        finally:
            if holding is not None:
                holding.close()

    def is_held(self, id: str) -> bool:
        """Say whether a process takes a file in now."""
        holding = self._layer.hold(self._root / f"{id}.lock")
        if holding is not None:
            holding.close()
        return holding is None

    def drop(self, id: str) -> None:
        """Take a file away; what is said of it stays."""
        self._layer.remove(self.path(id))

    def remove(self, id: str) -> None:
        """Take a file away, and what is said of it."""
        for path in (self.path(id), self._said(id), self._root / f"{id}.lock"):
            self._layer.remove(path)

    def _said(self, id: str) -> Path:
        return self._root / f"{id}.json"
