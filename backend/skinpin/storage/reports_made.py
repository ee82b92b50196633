"""The folder of reports made: for each one the PDF and what is said of it, until there is no room.

They can be made again from the book, so the oldest make way.
"""

import contextlib
import json
import re
from pathlib import Path
from typing import Any

from skinpin.storage.files import FileLayer, put_in_place

KEPT = 60
NAME = re.compile(r"[0-9a-z]{26}")


class ReportsMade:
    """Reports by id."""

    def __init__(self, root: Path, layer: FileLayer | None = None) -> None:
        self._root, self._layer = root, layer or FileLayer()

    def note(self, id: str, said: dict[str, Any]) -> None:
        """Keep what is said of a report, in place of what was said before."""
        self._put(self._root / f"{id}.json", json.dumps(said, ensure_ascii=False).encode())

    def keep(self, id: str, pdf: bytes) -> None:
        """Keep a report."""
        self._put(self.path(id), pdf)

    def path(self, id: str) -> Path:
        """Where a report lies, here or not."""
        return self._root / f"{id}.pdf"

    def all(self) -> list[dict[str, Any]]:
        """Return what is said of every report, in no order; what can't be read is left out."""
        found = []
        for name in self._layer.names(self._root):
            if name.endswith(".json") and NAME.fullmatch(name.removesuffix(".json")):
                with contextlib.suppress(OSError, ValueError):
                    found.append(json.loads((self._root / name).read_bytes()))
        return [one for one in found if isinstance(one, dict)]

    def remove(self, id: str) -> None:
        """Take a report away."""
        self._layer.remove(self.path(id))
        self._layer.remove(self._root / f"{id}.json")

    def _put(self, target: Path, content: bytes) -> None:
        self._layer.make_folder(self._root)
        put_in_place(self._layer, target, content)
