"""Photographs in parts of 1 MiB: a broken line costs one part, not the photograph."""

import hashlib
from collections.abc import Sequence
from typing import NamedTuple

from skinpin.domain.errors import Refused
from skinpin.services.photographs import note_file
from skinpin.services.workshop import DAY_MS, Workshop, computer_ms
from skinpin.storage.photograph_parts import Kept, Part, part_length, wrong_sha256
from skinpin.storage.photographs import check_sha256

SWEEP_AFTER_DAYS = 7
"""How long parts wait for the rest of their photograph."""


class Here(NamedTuple):
    """What is here of a photograph: all of it, or some parts of a size once told, or nothing."""

    whole: bool
    size_bytes: int | None
    here: list[int]


def parts_here(workshop: Workshop, sha256: str) -> Here:
    """Say which parts of a photograph are here; what lies here whole gets its row if it lacks."""
    workshop.parts.join_left(sha256)
    if workshop.folder.exists(check_sha256(sha256)):
        workshop.folder.hold(sha256)
        size_bytes = _note(workshop, sha256)
        return Here(whole=True, size_bytes=size_bytes, here=[])
    begun = workshop.parts.begun(sha256)
    return Here(False, *begun) if begun else Here(whole=False, size_bytes=None, here=[])


def begun_among(workshop: Workshop, sha256s: Sequence[str]) -> list[str]:
    """Say of photographs that are missing which have parts here: only those need be asked about."""
    return workshop.parts.begun_among(sha256s)


class PartUpload:
    """One part on its way in, from the first byte to the answer."""

    def __init__(
        self, workshop: Workshop, sha256: str, size_bytes: int, n: int, part_sha256: str
    ) -> None:
        self._workshop, self._sha256 = workshop, check_sha256(sha256)
        self._size_bytes, self._n, self._part_sha256 = size_bytes, n, check_sha256(part_sha256)
        self._length = part_length(size_bytes, n)
        self._content, self._hash = bytearray(), hashlib.sha256()

    def write(self, some: bytes) -> None:
        """Take the next bytes, or refuse a part that is longer than was told."""
        self._content += some
        self._hash.update(some)
        if len(self._content) > self._length:
            raise Refused(
                "too_large",
                f"Part {self._n} has more than the {self._length} bytes that were told.",
                "Tell the size of the whole photograph, and send it in parts of 1 MiB.",
            )

    def finish(self) -> Kept:
        """Keep the part; after the last one nothing can take the photograph away."""
        if len(self._content) < self._length:
            raise Refused(
                "cut_short",
                f"Part {self._n} ends after {len(self._content)} of {self._length} bytes.",
                "Send it again.",
            )
        if (found := self._hash.hexdigest()) != self._part_sha256:
            raise wrong_sha256(found, self._part_sha256, f"Part {self._n} has")
        part, parts = Part(self._content, self._part_sha256, self._hash), self._workshop.parts
        kept = parts.keep(self._sha256, self._size_bytes, self._n, part)
        if not kept.missing:
            _note(self._workshop, self._sha256)
        return kept


def sweep_parts(workshop: Workshop, now_ms: int | None = None) -> int:
    """Remove parts that waited for days; by the computer's clock, which dates the files."""
    now = computer_ms() if now_ms is None else now_ms
    return workshop.parts.sweep((now - SWEEP_AFTER_DAYS * DAY_MS) / 1000)


def _note(workshop: Workshop, sha256: str) -> int:
    size_bytes = workshop.folder.path(sha256).stat().st_size
    note_file(workshop, sha256, size_bytes)
    return size_bytes
