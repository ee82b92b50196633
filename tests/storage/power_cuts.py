"""A disk that loses at a power cut everything that was not synced, and fails at a chosen step."""

import io
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

from skinpin.storage.files import FileLayer


class PowerCut(BaseException):
    """The power went; nothing more runs."""


class Content(io.BytesIO):
    """An open file of the recording disk."""

    def __init__(self, path: Path) -> None:
        super().__init__()
        self.path = path


class CuttingLayer(FileLayer):
    """Keeps names and bytes twice: as programs see them, and as the disk surely holds them.

    `cut_at` is the step before which the power goes; a step is any call that changes the disk.
    """

    def __init__(self, cut_at: int | None = None, error: Exception | None = None) -> None:
        self.seen: dict[Path, bytes] = {}
        self.sure_bytes: dict[Path, bytes] = {}
        self.sure_names: dict[Path, Path] = {}
        self.folders: set[Path] = set()
        self.inodes: dict[Path, Path] = {}
        self.cut_at, self.error, self.steps = cut_at, error, 0

    def _step(self) -> None:
        self.steps += 1
        if self.cut_at is not None and self.steps > self.cut_at:
            raise self.error or PowerCut

    def make_folder(self, path: Path) -> None:
        self._step()
        self.folders.add(path)

    def make_folders(self, parent: Path, names: Sequence[str]) -> None:
        self._step()
        self.folders.update(parent / name for name in names)

    def open_new(self, path: Path) -> BinaryIO:
        self._step()
        assert path not in self.seen
        self.seen[path] = b""
        self.inodes[path] = path
        return Content(path)

    def write(self, file: BinaryIO, part: bytes) -> None:
        self._step()
        assert isinstance(file, Content)
        file.write(part)
        self.seen[file.path] = file.getvalue()

    def sync(self, file: BinaryIO) -> None:
        self._step()
        assert isinstance(file, Content)
        self.sure_bytes[file.path] = file.getvalue()

    def rename(self, old: Path, new: Path) -> None:
        self._step()
        assert new not in self.seen, "a file that is there is never written again"
        self.seen[new] = self.seen.pop(old)
        self.inodes[new] = self.inodes.pop(old)

    def sync_folder(self, path: Path) -> None:
        self._step()
        here = {name: inode for name, inode in self.inodes.items() if name.parent == path}
        gone = [name for name in self.sure_names if name.parent == path and name not in here]
        for name in gone:
            del self.sure_names[name]
        self.sure_names |= here

    def remove(self, path: Path) -> None:
        self._step()
        self.seen.pop(path, None)
        self.inodes.pop(path, None)

    def exists(self, path: Path) -> bool:
        return path in self.seen

    def open(self, path: Path) -> BinaryIO:
        return io.BytesIO(self.seen[path])

    def open_parts(self, path: Path) -> BinaryIO:
        self._step()
        if path not in self.seen:
            self.seen[path] = b""
            self.inodes[path] = path
        file = Content(path)
        file.write(self.seen[path])
        return file

    def write_at(self, file: BinaryIO, at: int, part: bytes) -> None:
        self._step()
        assert isinstance(file, Content)
        file.seek(at)
        file.write(part)
        self.seen[file.path] = file.getvalue()

    def begin_sync(self, file: BinaryIO) -> None:
        pass

    @contextmanager
    def lock(self, path: Path) -> Iterator[None]:
        yield  # its processes take turns

    def names(self, path: Path) -> Iterator[str]:
        yield from sorted(name.name for name in self.seen if name.parent == path)

    def after_cut(self, *, names_kept: bool) -> "CuttingLayer":
        """Return the disk as it starts again.

        A name that was not synced may be there or not; bytes that were not synced are lost
        either way, so a name kept without them is an empty file.
        """
        names = self.inodes if names_kept else self.sure_names
        again = CuttingLayer()
        again.folders = set(self.folders)
        for name, inode in names.items():
            again.seen[name] = self.sure_bytes.get(inode, b"")
            again.inodes[name] = name
            again.sure_bytes[name] = again.seen[name]
            again.sure_names[name] = name
        return again


class FullDisk(FileLayer):
    """The real disk until a number of bytes was written; then it is full."""

    def __init__(self, room_bytes: int) -> None:
        self.room_bytes = room_bytes

    def write(self, file: BinaryIO, part: bytes) -> None:
        self.room_bytes -= len(part)
        if self.room_bytes < 0:
            raise OSError(28, "No space left on device")
        super().write(file, part)

    def write_at(self, file: BinaryIO, at: int, part: bytes) -> None:
        self.room_bytes -= len(part)
        if self.room_bytes < 0:
            raise OSError(28, "No space left on device")
        super().write_at(file, at, part)


def files_below(folder: Path) -> list[str]:
    """Return every file of a real folder but locks, for what must not be left behind."""
    files = [path for path in folder.rglob("*") if path.is_file()]
    return sorted(str(one.relative_to(folder)) for one in files if one.parent.name != "locks")


__all__ = ["CuttingLayer", "FullDisk", "PowerCut", "files_below"]
