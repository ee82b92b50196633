"""The folder of reports made, one PDF each; what is said of them is in the table of jobs.

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

    def keep(self, id: str, pdf: bytes) -> None:
        """Keep a report."""
        self._put(self.path(id), pdf)

    def path(self, id: str) -> Path:
        """Where a report lies, here or not."""
        return self._root / f"{id}.pdf"

    def remove(self, id: str) -> None:
        """Take a report away."""
        self._layer.remove(self.path(id))

    def notes(self) -> list[dict[str, Any]]:
        """Return what an earlier version noted of reports; what can't be read is left out."""
        found = []
        for name in self._layer.names(self._root):
            if name.endswith(".json") and NAME.fullmatch(name.removesuffix(".json")):
                with contextlib.suppress(OSError, ValueError):
                    said = json.loads((self._root / name).read_bytes())
                    if isinstance(said, dict) and f"{said.get('id')}.json" == name:
                        found.append(said)
        return found

    def remove_note(self, id: str) -> None:
        """Take such a note away."""
        self._layer.remove(self._root / f"{id}.json")

    def _put(self, target: Path, content: bytes) -> None:
        self._layer.make_folder(self._root)
        put_in_place(self._layer, target, content)
