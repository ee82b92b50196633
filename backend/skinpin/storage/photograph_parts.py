"""Photographs on their way in by parts: each part is kept as it comes, the last one joins them.

parts/{sha256}        the bytes, every part at its own place
parts/{sha256}.here   the size of the whole, then a line for each part: its place, its SHA-256
locks/{2 digits}      one file for all photographs that begin so; who writes holds its lock

Several server processes may take parts of one photograph. The notes are what holds between them:
they only grow, a part is noted after its bytes lie there, and one that is noted is struck out
(`-` for its SHA-256) before other bytes go in its place. So of what a process noted itself, it
knows from the notes alone whether the bytes are still its own.

Nothing here is synced before it is whole, for whoever sends it still holds all of it. What a loss
of power took shows when the parts are read back, at the first look after a start.
"""

import hashlib
import re
from collections.abc import Collection, Iterator
from concurrent.futures import Future
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO, NamedTuple

from skinpin.domain.errors import Refused
from skinpin.storage.photographs import MAX_FILE_BYTES, PhotographFolder, check_sha256, too_large

if TYPE_CHECKING:
    from hashlib import _Hash

PART_BYTES = 1024 * 1024
NOTES = ".here"
GONE = "-"
MOST_KNOWN = 1000
"""So many photographs under way a process keeps in mind; others are read back."""
_LINE = re.compile(rb"([0-9]{1,3}) ([0-9a-f]{64}|-)")


class Part(NamedTuple):
    """Bytes whose SHA-256 was checked as they came; `digest` is what found it, if it is at hand."""

    content: bytes | bytearray
    sha256: str
    digest: "_Hash | None" = None


class Kept(NamedTuple):
    """What became of a part: which are still missing, and whether it made the whole."""

    missing: list[int]
    is_new: bool


class Gathering:
    """One photograph of which parts are here, as its notes say that this process last read."""

    def __init__(self, size_bytes: int, notes: bytes = b"") -> None:
        self.size_bytes, self.notes = size_bytes, notes
        self.noted, self.here = set[int](), dict[int, str]()
        # Parts mostly come in order: then the whole need not be read back to be checked, and a
        # thread beside takes one part in while the next is on its way.
        self.whole, self.upto = hashlib.sha256(), 0
        self.hashing: Future[None] | None = None

    def missing(self) -> list[int]:
        """Return the places of the parts that are not here."""
        return [n for n in range(part_count(self.size_bytes)) if n not in self.here]

    def follow(self, notes: bytes) -> None:
        """Take in what others noted since; notes are the whole of them."""
        for n, sha256 in _lines(notes[len(self.notes) :]):
            if n < part_count(self.size_bytes):
                self.strike(n)
                self.noted.add(n)
                if sha256 != GONE:
                    self.here[n] = sha256
        self.notes = notes

    def strike(self, n: int) -> None:
        """Forget a part, and what was hashed beyond it."""
        self.here.pop(n, None)
        if n < self.upto:
            self.whole, self.upto, self.hashing = hashlib.sha256(), 0, None


class PhotographParts:
    """The parts that lie beside a photograph folder, before they are photographs."""

    def __init__(self, folder: PhotographFolder) -> None:
        self._folder, self._layer = folder, folder.layer
        self._root, self._locks = folder.root / "parts", folder.root / "locks"
        for one in (self._root, self._locks):
            self._layer.make_folder(one)
        self._known: dict[str, Gathering] = {}  # each read and written under its lock alone

    def begun(self, sha256: str) -> tuple[int, list[int]] | None:
        """Return the size of a photograph and which parts of it are here; None: it is not begun."""
        with self._locked(sha256):
            gathering = self._look(sha256)
            return (gathering.size_bytes, sorted(gathering.here)) if gathering else None

    def begun_among(self, sha256s: Collection[str]) -> list[str]:
        """Return which photographs have parts here."""
        if not sha256s:
            return []
        here = {name.removesuffix(NOTES) for name in self._layer.names(self._root)}
        return [sha256 for sha256 in sha256s if sha256 in here]

    def join_left(self, sha256: str) -> None:
        """Join parts that were all here when a process ended; what they don't make is dropped."""
        with self._locked(sha256), suppress(Refused):
            gathering = self._look(sha256)
            if gathering and not gathering.missing():
                if self._folder.exists(sha256):
                    self._clear(sha256)
                else:
                    self._join(sha256, gathering)

    def keep(self, sha256: str, size_bytes: int, n: int, part: Part) -> Kept:
        """Keep one part; the last one makes the photograph.

        Two tablets may send the same photograph at once: whoever comes second finds it here.
        """
        part_length(size_bytes, n)
        with self._locked(sha256):
            if self._folder.exists(sha256):
                self._clear(sha256)
                self._folder.hold(sha256)
                return Kept([], is_new=False)
            gathering = self._look(sha256)
            if gathering is None or gathering.size_bytes != size_bytes:
                self._clear(sha256)
                gathering = self._know(sha256, Gathering(size_bytes))
            self._write(sha256, gathering, n, part)
            if missing := gathering.missing():
                return Kept(missing, is_new=False)
            self._join(sha256, gathering)
            return Kept([], is_new=True)

    def sweep(self, before_s: float) -> int:
        """Remove photographs whose last part came before a moment; return how many."""
        removed = 0
        for sha256 in {name.removesuffix(NOTES) for name in self._layer.names(self._root)}:
            with self._locked(sha256):
                if self._changed_s(sha256) < before_s:
                    self._clear(sha256)
                    removed += 1
        return removed

    @contextmanager
    def _locked(self, sha256: str) -> Iterator[None]:
        with self._layer.lock(self._locks / check_sha256(sha256)[:2]):
            yield

    def _changed_s(self, sha256: str) -> float:
        paths = [self._path(sha256), self._notes(sha256)]
        here = [self._layer.changed_s(path) for path in paths if self._layer.exists(path)]
        return max(here, default=0.0)

    def _path(self, sha256: str) -> Path:
        return self._root / sha256

    def _notes(self, sha256: str) -> Path:
        return self._root / f"{sha256}{NOTES}"

    def _look(self, sha256: str) -> Gathering | None:
        """Return what is here of a photograph; what was begun and can't be read is removed."""
        path, notes = self._path(sha256), b""
        if self._layer.exists(self._notes(sha256)) and self._layer.exists(path):
            with self._layer.open(self._notes(sha256)) as file:
                notes = file.read()
        known = self._known.get(sha256)
        if known and known.notes and notes.startswith(known.notes):
            known.follow(notes)
            return known
        found = self._read(sha256, notes)
        if found is None:
            self._clear(sha256)
            return None
        return self._know(sha256, found)

    def _know(self, sha256: str, gathering: Gathering) -> Gathering:
        for other in list(self._known)[: len(self._known) + 1 - MOST_KNOWN]:
            self._known.pop(other, None)
        self._known[sha256] = gathering
        return gathering

    def _read(self, sha256: str, notes: bytes) -> Gathering | None:
        """Read what others left; only parts that still have their SHA-256 are here."""
        head = notes.split(b"\n", 1)[0]
        if not head.isdigit() or not 0 < int(head) <= MAX_FILE_BYTES:
            return None
        gathering = Gathering(int(head))
        gathering.follow(notes)
        with self._layer.open(self._path(sha256)) as file:
            for n, part_sha256 in list(gathering.here.items()):
                if _sha256_at(file, gathering.size_bytes, n) != part_sha256:
                    gathering.strike(n)
        return gathering

    def _write(self, sha256: str, gathering: Gathering, n: int, part: Part) -> None:
        if gathering.here.get(n) == part.sha256:
            return
        gathering.strike(n)
        if n in gathering.noted:
            self._note(sha256, gathering, n, GONE)
        with self._layer.open_parts(self._path(sha256)) as file:
            self._layer.write_at(file, n * PART_BYTES, part.content)
            self._layer.begin_sync(file)
        self._note(sha256, gathering, n, part.sha256)
        gathering.here[n] = part.sha256
        self._hash(gathering, n, part)

    def _hash(self, gathering: Gathering, n: int, part: Part) -> None:
        """Take a part that came in its order into the hash of the whole."""
        if n != gathering.upto or len(part.content) != part_length(gathering.size_bytes, n):
            return
        gathering.upto += 1
        if n == 0 and part.digest:
            gathering.whole = part.digest.copy()
        else:  # one thread takes them in, so that they stay in order
            hashing = self._folder.hasher.submit(gathering.whole.update, part.content)
            gathering.hashing = hashing

    def _note(self, sha256: str, gathering: Gathering, n: int, part_sha256: str) -> None:
        """Add a line; what comes before it ends it, for the last one may have been cut off."""
        with self._layer.open_parts(self._notes(sha256)) as file:
            end = file.seek(0, 2)
            head = "" if end else f"{gathering.size_bytes}"
            line = f"{head}\n{n} {part_sha256}".encode()
            self._layer.write_at(file, end, line)
        gathering.noted.add(n)
        gathering.notes += line

    def _join(self, sha256: str, gathering: Gathering) -> None:
        """Make the photograph; on return no loss of power can take it away."""
        layer, path, target = self._layer, self._path(sha256), self._folder.path(sha256)
        with layer.open_parts(path) as file:
            layer.sync(file)
            if (found := _sha256_of(file, gathering)) != sha256:
                self._clear(sha256)
                raise wrong_sha256(found, sha256, "The parts together have")
        self._folder.send_on(sha256, path)
        layer.rename(path, target)
        layer.sync_folder(target.parent)
        self._clear(sha256)

    def _clear(self, sha256: str) -> None:
        """Forget a photograph's parts."""
        self._known.pop(sha256, None)
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
    file.seek(n * PART_BYTES)
    return hashlib.sha256(file.read(part_length(size_bytes, n))).hexdigest()


def _sha256_of(file: BinaryIO, gathering: Gathering) -> str:
    """Return the SHA-256 of the whole: what was hashed as it came, and the rest from the disk."""
    if gathering.hashing is not None:
        gathering.hashing.result()
    whole = gathering.whole.copy()
    file.seek(min(gathering.upto * PART_BYTES, gathering.size_bytes))
    while content := file.read(PART_BYTES):
        whole.update(content)
    return whole.hexdigest()


def _lines(notes: bytes) -> Iterator[tuple[int, str]]:
    for found in filter(None, map(_LINE.fullmatch, notes.split(b"\n"))):
        yield int(found[1]), found[2].decode()
