"""The folder of backups: one folder a backup, and one store of photographs for all of them.

2025-11-03T081530Z/manifest.json, entry.jsonl, …   complete, or named `making-…`
photographs/                                       by SHA-256, each copied once
"""

import fcntl
import hashlib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import orjson

from skinpin.domain.errors import Refused
from skinpin.storage.files import FileLayer
from skinpin.storage.kept import Counted
from skinpin.storage.photographs import PhotographFolder

MANIFEST = "manifest.json"
SEAL = "manifest.json.sha256"
MAKING = "making-"
REHEARSED = "rehearsed.json"


class BackupFolder:
    """Backups of one book."""

    def __init__(self, root: Path, layer: FileLayer | None = None) -> None:
        self.root, self.layer = root, layer or FileLayer()

    def photographs(self) -> PhotographFolder:
        """Return the store of photographs, made if it lacks."""
        return PhotographFolder(self.root / "photographs", self.layer)

    def names(self) -> list[str]:
        """Return the complete backups, the oldest first."""
        if not self.root.is_dir():
            return []
        return sorted(one.parent.name for one in self.root.glob(f"2*/{MANIFEST}"))

    @contextmanager
    def alone(self) -> Iterator[None]:
        """Hold the folder for one backup; a second one at the same time is refused."""
        with (self.root / "lock").open("w") as lock:
            try:
                fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError as error:
                raise Refused(
                    "backup_under_way",
                    f"A backup into {self.root} is under way.",
                    "Wait until it is done.",
                ) from error
            yield

    def begin(self, name: str) -> Path:
        """Return a fresh folder to write a backup into."""
        making = self.root / f"{MAKING}{name}"
        self.layer.make_folder(making)
        for left in self.layer.names(making):
            self.layer.remove(making / left)
        return making

    def finish(self, name: str, manifest: dict[str, Any]) -> Path:
        """Seal a backup and give it its name; from then on it is complete."""
        making = self.root / f"{MAKING}{name}"
        text = orjson.dumps(manifest, option=orjson.OPT_INDENT_2 | orjson.OPT_SORT_KEYS)
        written = self.write_lines(making / MANIFEST, [text + b"\n"])
        self.write_lines(making / SEAL, [f"{written.sha256}  {MANIFEST}\n".encode()])
        target = self.root / name
        if target.exists():
            raise Refused("file_there", f"{target} is there already.", "Try again in a second.")
        self.layer.sync_folder(making)
        self.layer.rename(making, target)
        self.layer.sync_folder(self.root)
        return target

    def sweep(self) -> None:
        """Remove what an interrupted backup left behind."""
        for left in self.root.glob(f"{MAKING}*"):
            for file in self.layer.names(left):
                self.layer.remove(left / file)
            left.rmdir()

    def write_lines(self, file: Path, lines: Iterable[bytes]) -> Counted:
        """Write lines durably and return how many, with the SHA-256 of all."""
        digest, count = hashlib.sha256(), 0
        with self.layer.open_new(file) as out:
            for line in lines:
                self.layer.write(out, line)
                digest.update(line)
                count += 1
            self.layer.sync(out)
        return Counted(count, digest.hexdigest())

    def manifest(self, name: str) -> dict[str, Any]:
        """Return the manifest of a backup, whose seal must hold (`sha256sum -c` checks it too)."""
        file = self.root / name / MANIFEST
        try:
            found = hashlib.sha256(file.read_bytes()).hexdigest()
            sealed = (self.root / name / SEAL).read_text().split()[:1]
        except (OSError, UnicodeDecodeError) as error:
            raise damaged(file) from error
        if sealed != [found]:
            raise damaged(file)
        return read_object(file)

    def note_rehearsal(self, name: str, page: dict[str, Any]) -> None:
        """Keep what a rehearsal found, beside the backup it was of."""
        self._note(self.root / name / REHEARSED, page)

    def rehearsal(self, name: str) -> dict[str, Any] | None:
        """Return what the last rehearsal of a backup found, if there was one."""
        file = self.root / name / REHEARSED
        return read_object(file) if file.is_file() else None

    def note_check(self, kind: str, page: dict[str, Any]) -> None:
        """Keep what a check of the book found, beside the backups."""
        self._note(self.root / f"{kind}.json", page)

    def check(self, kind: str) -> dict[str, Any] | None:
        """Return what the last check of a kind found; none where none can be read."""
        try:
            return read_object(self.root / f"{kind}.json")
        except Refused:
            return None

    def _note(self, target: Path, page: dict[str, Any]) -> None:
        fresh = target.with_name(f"{target.name}.new")
        self.layer.remove(fresh)
        self.write_lines(fresh, [orjson.dumps(page, option=orjson.OPT_INDENT_2) + b"\n"])
        self.layer.rename(fresh, target)
        self.layer.sync_folder(target.parent)


def read_object(file: Path) -> dict[str, Any]:
    """Return the JSON object of a file of a backup."""
    try:
        value = orjson.loads(file.read_bytes())
    except (OSError, orjson.JSONDecodeError) as error:
        raise damaged(file) from error
    if not isinstance(value, dict):
        raise damaged(file)
    return value


def checked_rows(file: Path, expected: Counted) -> Iterator[dict[str, Any]]:
    """Return the rows of a table's file; one changed byte is refused, at the end at the latest."""
    digest, count = hashlib.sha256(), 0
    try:
        with file.open("rb") as lines:
            for line in lines:
                digest.update(line)
                count += 1
                yield orjson.loads(line)
    except (OSError, orjson.JSONDecodeError) as error:
        raise damaged(file) from error
    if Counted(count, digest.hexdigest()) != expected:
        raise damaged(file)


def damaged(file: Path) -> Refused:
    """Return the refusal of a backup that is not as it was written."""
    return Refused(
        "backup_damaged",
        f"{file} can't be read, or is not as it was written.",
        "Take an older backup.",
    )
