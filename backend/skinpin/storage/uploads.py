"""Files on their way in from a desk, piece by piece; kept until they were taken in."""

import shutil
from pathlib import Path

from skinpin.domain.errors import Refused
from skinpin.storage.files import FileLayer


class Uploads:
    """Files by id in one folder; what an earlier start left is removed."""

    def __init__(self, root: Path, layer: FileLayer | None = None) -> None:
        self._root, self._layer = root, layer or FileLayer()
        for name in list(self._layer.names(root)):
            self._layer.remove(root / name)

    def path(self, id: str) -> Path:
        """Where a file lies, here or not."""
        return self._root / f"{id}.zip"

    def begin(self, id: str, size_bytes: int) -> None:
        """Make an empty file, or refuse where the disk has no room for all of it twice."""
        self._layer.make_folder(self._root)
        free = shutil.disk_usage(self._root).free
        if free < 2 * size_bytes:
            raise Refused(
                "disk_full",
                f"The server has {free // 10**6} MB free; the file needs twice its "
                f"{size_bytes // 10**6} MB.",
                "Make room on the server. Nothing was stored, and the file is as it was.",
            )
        with self._layer.open_new(self.path(id)):
            pass

    def add(self, id: str, at: int, piece: bytes) -> int:
        """Put a piece at its place and return the size so far; pieces come one after the other."""
        path = self.path(id)
        here = path.stat().st_size
        if at > here:
            raise Refused(
                "cut_short", f"{here} bytes are here, the piece begins at {at}.", "Go on there."
            )
        with self._layer.open_parts(path) as file:
            self._layer.write_at(file, at, piece)
        return max(here, at + len(piece))

    def remove(self, id: str) -> None:
        """Take a file away."""
        self._layer.remove(self.path(id))
