"""The real disk, and beside it what a power cut would leave: names and bytes that were synced.

`CuttingLayer` keeps files in memory for one room; this one lets any code read the files as usual.
"""

import itertools
from pathlib import Path
from typing import BinaryIO

from skinpin.storage.files import FileLayer

from tests.storage.power_cuts import PowerCut


class RecordingDisk(FileLayer):
    """Passes every call on; `cut_at` is the step before which the power goes.

    What is called synced is only noted so: this process does not lose the power.
    A run of writes to one file is one step: where a cut falls among them changes nothing.
    """

    def __init__(self, cut_at: int | None = None) -> None:
        self.cut_at, self.steps, self._numbers = cut_at, 0, itertools.count()
        self.named: dict[Path, int] = {}
        self.sure_named: dict[Path, int] = {}
        self.sure_bytes: dict[int, bytes] = {}
        self._last: Path | None = None

    def _step(self, path: Path | None = None) -> None:
        if path is not None and path == self._last:
            return
        self._last = path
        self.steps += 1
        if self.cut_at is not None and self.steps > self.cut_at:
            raise PowerCut

    def open_new(self, path: Path) -> BinaryIO:
        self._step()
        self.named[path] = next(self._numbers)
        return super().open_new(path)

    def open_parts(self, path: Path) -> BinaryIO:
        self._step()
        self.named.setdefault(path, next(self._numbers))
        return super().open_parts(path)

    def write(self, file: BinaryIO, part: bytes) -> None:
        self._step(Path(file.name))
        super().write(file, part)

    def write_at(self, file: BinaryIO, at: int, part: bytes | bytearray) -> None:
        self._step(Path(file.name))
        super().write_at(file, at, part)

    def begin_sync(self, file: BinaryIO) -> None:
        pass

    def sync(self, file: BinaryIO) -> None:
        self._step()
        file.flush()
        self.sure_bytes[self.named[Path(file.name)]] = Path(file.name).read_bytes()

    def rename(self, old: Path, new: Path) -> None:
        """Move a file, or a folder with all that is in it."""
        self._step()
        super().rename(old, new)
        for name in [name for name in self.named if name == old or old in name.parents]:
            self.named[new / name.relative_to(old)] = self.named.pop(name)

    def sync_folder(self, path: Path) -> None:
        self._step()
        here = {name: inode for name, inode in self.named.items() if name.parent == path}
        # A folder that was moved here takes along what was durable inside it.
        known = set(self.sure_named.values())
        inside = [name for name in self.named if path in name.parents and name.parent != path]
        moved = {name: self.named[name] for name in inside if self.named[name] in known}
        gone = set(here.values()) | set(moved.values())
        still = {name: inode for name, inode in self.sure_named.items() if inode not in gone}
        kept = {
            name: inode
            for name, inode in still.items()
            if name.parent != path or name in here or name in self.named
        }
        self.sure_named = kept | here | moved

    def remove(self, path: Path) -> None:
        self._step()
        super().remove(path)
        self.named.pop(path, None)

    def after_cut(self, root: Path, again: Path, *, names_kept: bool) -> None:
        """Write what is left of a folder into another; bytes that were not synced are lost."""
        for name, inode in (self.named if names_kept else self.sure_named).items():
            if root in name.parents:
                target = again / name.relative_to(root)
                target.parent.mkdir(parents=True, exist_ok=True)
                target.write_bytes(self.sure_bytes.get(inode, b""))
