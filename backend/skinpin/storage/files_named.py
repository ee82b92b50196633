"""Definitions and standards: files beside the photographs that rules are read from."""

import json
from collections.abc import Mapping, Sequence
from typing import Any

from skinpin.domain.errors import Refused
from skinpin.domain.grading import Grading, compile_standard
from skinpin.domain.grading_doubt import grade_with_doubt
from skinpin.domain.grading_standard import Compiled
from skinpin.domain.kinds import HIGHEST
from skinpin.storage.photographs import SHA256, PhotographFolder

MOST_BYTES = 8 * 1024 * 1024
MOST_KEPT = 64


class NamedFiles:
    """JSON files by SHA-256, read once: a file never changes."""

    def __init__(self, folder: PhotographFolder) -> None:
        self._folder = folder
        self._read: dict[str, Mapping[str, Any]] = {}
        self._standards: dict[str, Compiled] = {}

    def find(self, sha256: str) -> Mapping[str, Any] | None:
        """Return a file's object, None while it is not here or is none."""
        if sha256 not in self._read:
            found = self._load(sha256)
            if found is None:
                return None
            if len(self._read) >= MOST_KEPT:
                self._read.clear()
            self._read[sha256] = found
        return self._read[sha256]

    def pinned(self, pin: Any) -> Mapping[str, Any] | None:
        """Return the file that a value {name, issue, sha256} pins."""
        sha256 = pin.get("sha256") if isinstance(pin, dict) else None
        return self.find(sha256) if isinstance(sha256, str) else None

    def _load(self, sha256: str) -> Mapping[str, Any] | None:
        if not SHA256.fullmatch(sha256) or not self._folder.exists(sha256):
            return None
        with self._folder.open(sha256) as file:
            content = file.read(MOST_BYTES + 1)
        try:
            value = json.loads(content) if len(content) <= MOST_BYTES else None
        except (ValueError, RecursionError):
            return None
        return value if isinstance(value, dict) else None

    def standard(self, pin: Any) -> Compiled | None:
        """Return the standard of acceptance that a value pins, made ready to grade by."""
        source = self.pinned(pin)
        if source is None:
            return None
        sha256 = str(pin["sha256"])
        if sha256 not in self._standards:
            try:
                self._standards[sha256] = compile_standard(source)
            except (Refused, LookupError, TypeError, ValueError, AttributeError):
                # Whatever a file says, it must not keep the book from being derived.
                return None
        return self._standards[sha256]

    def grade_of(self, values: Mapping[str, Sequence[Any]], pins: Sequence[Any]) -> int | None:
        """Return the highest grade that values can give under the pinned standards.

        None while a standard is not here.
        """
        standards = [self.standard(pin) for pin in pins]
        given = {
            f"{place}:{field}": {field: value}
            for field, some in values.items()
            for place, value in enumerate(some)
        }
        gradings = [grade_with_doubt(given, one) for one in standards if one]
        if not standards or len(gradings) < len(standards):
            return None
        return max(map(highest_possible, gradings))


def highest_possible(grading: Grading) -> int:
    """Return the highest grade a grading leaves open; what no row speaks of may be anything."""
    if grading.grade is None and not grading.could_be:
        return HIGHEST
    return max((grading.grade or 0, *grading.could_be))
