"""Photographs on their way in by parts: each part is kept as it comes, the last one joins them.

parts/{sha256}        the bytes, every part at its own place
parts/{sha256}.here   the size of the whole, then a line for each part kept: its place, its SHA-256

Nothing here is synced before it is whole, for whoever sends it still holds all of it. What a loss
of power took shows when the parts are read back, at the first look after a start.
"""

import hashlib
import re
from collections.abc import Collection
from contextlib import suppress
from pathlib import Path
from threading import Lock
from typing import BinaryIO, NamedTuple

from skinpin.domain.errors import Refused
from skinpin.storage.photographs import MAX_FILE_BYTES, PhotographFolder, check_sha256, too_large

PART_BYTES = 1024 * 1024
NOTES = ".here"
_LINE = re.compile(rb"([0-9]{1,3}) ([0-9a-f]{64})")


class Part(NamedTuple):
    """Bytes whose SHA-256 was checked as they came."""

    content: bytes | bytearray
    sha256: str


class Kept(NamedTuple):
    """What became of a part: which are still missing, and whether it made the whole."""

    missing: list[int]
    is_new: bool


class Gathering:
    """One photograph of which parts are here."""

    def __init__(self, size_bytes: int) -> None:
        self.size_bytes, self.here = size_bytes, dict[int, str]()
        self.lock, self.is_over = Lock(), False
        # Parts mostly come in order: then the whole need not be read back to be checked, and a
        # thread beside takes one part in while the next is on its way.

    def missing(self) -> list[int]:
        """Return the places of the parts that are not here."""
        return [n for n in range(part_count(self.size_bytes)) if n not in self.here]


class PhotographParts:
    """The parts that lie beside a photograph folder, before they are photographs."""

    def __init__(self, folder: PhotographFolder) -> None:
        self._folder, self._layer, self._root = folder, folder.layer, folder.root / "parts"
        self._layer.make_folder(self._root)
        self._begun: dict[str, Gathering] = {}
        self._lock = Lock()

    def begun(self, sha256: str) -> tuple[int, list[int]] | None:
        """Return the size of a photograph and which parts of it are here; None: it is not begun."""
        gathering = self._find(check_sha256(sha256))
        if gathering is None:
            return None
        with gathering.lock:
            return gathering.size_bytes, sorted(gathering.here)

    def begun_among(self, sha256s: Collection[str]) -> list[str]:
        """Return which photographs have parts here."""
        if not sha256s:
            return []
        here = {name.removesuffix(NOTES) for name in self._layer.names(self._root)}
        return [sha256 for sha256 in sha256s if sha256 in here]

    def join_left(self, sha256: str) -> None:
        """Join parts that were all here when the process ended; what they don't make is dropped."""
        gathering = self._find(check_sha256(sha256))
        if gathering is None:
            return
        with gathering.lock, suppress(Refused):
            if not gathering.is_over and not gathering.missing():
                self._join(sha256, gathering)

    def keep(self, sha256: str, size_bytes: int, n: int, part: Part) -> Kept:
        """Keep one part; the last one makes the photograph.

        Two tablets may send the same photograph at once: whoever comes second finds it here.
        """
        part_length(size_bytes, n)
        while True:
            gathering = self._take(check_sha256(sha256), size_bytes)
            with gathering.lock:
                if self._folder.exists(sha256):
                    self._clear(sha256, gathering)
                    self._folder.hold(sha256)
                    return Kept([], is_new=False)
                if gathering.is_over:
                    continue
                self._write(sha256, gathering, n, part)
                if missing := gathering.missing():
                    return Kept(missing, is_new=False)
                self._join(sha256, gathering)
                return Kept([], is_new=True)

    def sweep(self, before_s: float) -> int:
        """Remove photographs whose last part came before a moment; return how many."""
        names = {name.removesuffix(NOTES) for name in self._layer.names(self._root)}
        removed = 0
        for sha256 in names:
            if self._changed_s(sha256) < before_s:
                gathering = self._find(sha256) or Gathering(1)
                with gathering.lock:
                    self._clear(sha256, gathering)
                removed += 1
        return removed

    def _changed_s(self, sha256: str) -> float:
        paths = [self._path(sha256), self._notes(sha256)]
        here = [self._layer.changed_s(path) for path in paths if self._layer.exists(path)]
        return max(here, default=0.0)

    def _path(self, sha256: str) -> Path:
        return self._root / sha256

    def _notes(self, sha256: str) -> Path:
        return self._root / f"{sha256}{NOTES}"

    def _take(self, sha256: str, size_bytes: int) -> Gathering:
        """Return a photograph's gathering; another size than before begins it anew."""
        found = self._find(sha256)
        if found and found.size_bytes == size_bytes:
            return found
        if found:
            with found.lock:
                self._clear(sha256, found)
        with self._lock:
            return self._begun.setdefault(sha256, Gathering(size_bytes))

    def _find(self, sha256: str) -> Gathering | None:
        with self._lock:
            if sha256 not in self._begun:
                if found := self._read(sha256):
                    self._begun[sha256] = found
                else:
                    self._remove(sha256)
            return self._begun.get(sha256)

    def _read(self, sha256: str) -> Gathering | None:
        """Read what an earlier start left; only parts that still have their SHA-256 are here."""
        if not self._layer.exists(self._notes(sha256)) or not self._layer.exists(
            self._path(sha256)
        ):
            return None
        with self._layer.open(self._notes(sha256)) as file:
            head, *lines = file.read().split(b"\n")
        if not head.isdigit() or not 0 < int(head) <= MAX_FILE_BYTES:
            return None
        gathering = Gathering(int(head))
        with self._layer.open(self._path(sha256)) as file:
            for found in filter(None, map(_LINE.fullmatch, lines)):
                n, part_sha256 = int(found[1]), found[2].decode()
                if _sha256_at(file, gathering.size_bytes, n) == part_sha256:
                    gathering.here[n] = part_sha256
        return gathering

    def _write(self, sha256: str, gathering: Gathering, n: int, part: Part) -> None:
        if gathering.here.get(n) == part.sha256:
            return
        gathering.here.pop(n, None)
        with self._layer.open_parts(self._path(sha256)) as file:
            self._layer.write_at(file, n * PART_BYTES, part.content)
            self._layer.begin_sync(file)
        self._note(sha256, gathering, f"{n} {part.sha256}\n")
        gathering.here[n] = part.sha256

    def _note(self, sha256: str, gathering: Gathering, line: str) -> None:
        with self._layer.open_parts(self._notes(sha256)) as file:
            end = file.seek(0, 2)
            head = "" if end else f"{gathering.size_bytes}\n"
            self._layer.write_at(file, end, f"{head}{line}".encode())

    def _join(self, sha256: str, gathering: Gathering) -> None:
        """Make the photograph; on return no loss of power can take it away."""
        layer, path, target = self._layer, self._path(sha256), self._folder.path(sha256)
        with layer.open_parts(path) as file:
            layer.sync(file)
            if (found := _sha256_of(file)) != sha256:
                self._clear(sha256, gathering)
                raise wrong_sha256(found, sha256, "The parts together have")
        self._folder.send_on(sha256, path)
        layer.rename(path, target)
        layer.sync_folder(target.parent)
        self._clear(sha256, gathering)

    def _clear(self, sha256: str, gathering: Gathering) -> None:
        """Forget a photograph's parts; who still holds the gathering begins anew."""
        gathering.is_over = True
        self._remove(sha256)
        with self._lock:
            if self._begun.get(sha256) is gathering:
                del self._begun[sha256]

    def _remove(self, sha256: str) -> None:
        for path in (self._path(sha256), self._notes(sha256)):
            if self._layer.exists(path):
                self._layer.remove(path)


def part_count(size_bytes: int) -> int:
    """Return in how many parts a photograph comes."""
    return -(-size_bytes // PART_BYTES)


def part_length(size_bytes: int, n: int) -> int:
    """Return how many bytes a part has, or refuse a size or a place that can't be."""
    if size_bytes > MAX_FILE_BYTES:
        raise too_large(size_bytes)
    if size_bytes < 1 or not 0 <= n < part_count(size_bytes):
        raise Refused(
            "wrong_shape",
            f"A photograph of {size_bytes} bytes has no part {n}.",
            f"Parts are counted from 0 and have {PART_BYTES} bytes, the last one the rest.",
        )
    return min(PART_BYTES, size_bytes - n * PART_BYTES)


def wrong_sha256(found: str, asked: str, what: str) -> Refused:
    """Return the refusal of bytes that are not what they were said to be."""
    return Refused(
        "wrong_sha256",
        f"{what} the SHA-256 {found}, not {asked}.",
        "Send it again; it was damaged on the way.",
    )


def _sha256_at(file: BinaryIO, size_bytes: int, n: int) -> str:
    if n >= part_count(size_bytes):
        return ""
    file.seek(n * PART_BYTES)
    return hashlib.sha256(file.read(part_length(size_bytes, n))).hexdigest()


def _sha256_of(file: BinaryIO) -> str:
    """Return the SHA-256 of what is on the disk, whoever else wrote there meanwhile."""
    whole = hashlib.sha256()
    file.seek(0)
    while content := file.read(PART_BYTES):
        whole.update(content)
    return whole.hexdigest()
