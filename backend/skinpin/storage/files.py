"""Every call that writes files of a book, in one small place that tests can stand in for."""

import fcntl
import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO


class FileLayer:
    """The disk."""

    def make_folder(self, path: Path) -> None:
        """Make a folder and those above it; each name is durable on return."""
        missing = [one for one in (path, *path.parents) if not one.exists()]
        for one in reversed(missing):
            one.mkdir(exist_ok=True)
            self.sync_folder(one.parent)

    def make_folders(self, parent: Path, names: Sequence[str]) -> None:
        """Make folders in one that is there, those that lack; all names are durable on return."""
        missing = [name for name in names if not (parent / name).is_dir()]
        for name in missing:
            (parent / name).mkdir(exist_ok=True)
        if missing:
            self.sync_folder(parent)

    def open_new(self, path: Path) -> BinaryIO:
        """Open a file that must not exist yet."""
        return open(path, "xb")

    def write(self, file: BinaryIO, part: bytes) -> None:
        """Add bytes to an open file."""
        file.write(part)

    def begin_sync(self, file: BinaryIO) -> None:
        """Let the disk begin with what was written so far, where the system can be asked to."""
        if hasattr(os, "posix_fadvise"):
            # Linux begins to write what it is told will not be needed; nothing is waited for.
            os.posix_fadvise(file.fileno(), 0, 0, os.POSIX_FADV_DONTNEED)

    def sync(self, file: BinaryIO) -> None:
        """Return when the file's bytes are on the disk."""
        file.flush()
        os.fsync(file.fileno())

    def rename(self, old: Path, new: Path) -> None:
        """Give a file another name, replacing what was there."""
        os.replace(old, new)

    def sync_folder(self, path: Path) -> None:
        """Return when the folder's names are on the disk."""
        handle = os.open(path, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)

    def remove(self, path: Path) -> None:
        """Remove a file, if it is there."""
        path.unlink(missing_ok=True)

    def exists(self, path: Path) -> bool:
        """Say whether a file is there."""
        return path.is_file()

    def open(self, path: Path) -> BinaryIO:
        """Open a file to read it."""
        return open(path, "rb")

    def open_parts(self, path: Path) -> BinaryIO:
        """Open a file that is written in parts, in any order; an empty one where there is none."""
        return os.fdopen(os.open(path, os.O_RDWR | os.O_CREAT, 0o666), "r+b")

    def write_at(self, file: BinaryIO, at: int, part: bytes | bytearray) -> None:
        """Write bytes at their own place, and hand them to the system."""
        file.seek(at)
        file.write(part)
        file.flush()

    @contextmanager
    def lock(self, path: Path) -> Iterator[None]:
        """Hold a file's lock during the block, alone among all threads and processes.

        The file stays: who waits for one that is taken away would hold nothing.
        """
        handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o666)
        try:
            fcntl.flock(handle, fcntl.LOCK_EX)
            yield
        finally:
            os.close(handle)

    def hold(self, path: Path) -> BinaryIO | None:
        """Take a file's lock until what is returned is closed; None: somebody holds it."""
        file = self.open_parts(path)
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            file.close()
            return None
        return file

    def changed_s(self, path: Path) -> float:
        """Return when a file was last written, in seconds of the computer's clock."""
        return path.stat().st_mtime

    def names(self, path: Path) -> Iterator[str]:
        """List the files of a folder, if it is there."""
        if path.is_dir():
            yield from sorted(os.listdir(path))


def put_in_place(layer: FileLayer, target: Path, content: bytes) -> None:
    """Write a file whole or not at all, in place of what was there; durable on return."""
    beside = target.with_name(f"{target.name}.part")
    layer.remove(beside)
    try:
        with layer.open_new(beside) as file:
            layer.write(file, content)
            layer.sync(file)
        layer.rename(beside, target)
        layer.sync_folder(target.parent)
    finally:
        layer.remove(beside)
