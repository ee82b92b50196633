"""Photographs in an S3-style store, behind the same calls as the folder.

The folder before it takes files in, joins parts and keeps what passed by; it may be emptied while
no server runs. A file counts as here once the store has acknowledged it.
"""

import hashlib
import secrets
from collections.abc import Collection
from pathlib import Path
from typing import BinaryIO

from skinpin.storage.bucket import Bucket
from skinpin.storage.files import FileLayer
from skinpin.storage.photographs import PhotographFolder, check_sha256


class PhotographsInBucket(PhotographFolder):
    """The folder of a server in front of a bucket."""

    is_near = False

    def __init__(self, root: Path, bucket: Bucket, layer: FileLayer | None = None) -> None:
        super().__init__(root, layer)
        self._bucket = bucket

    def send_on(self, sha256: str, file: Path) -> None:
        """Send a whole file to the store before it gets its name in the folder."""
        with self.layer.open(file) as content:
            self._bucket.put(sha256, content.read())

    def exists(self, sha256: str) -> bool:
        """Say whether a file is here: what has its name in the folder is in the store too."""
        return super().exists(sha256) or self._bucket.exists(sha256)

    def still_there(self, sha256s: Collection[str]) -> set[str]:
        """Return all of them: rows are trusted here.

        The folder may be emptied, and to ask the store is one request a file, of thousands an hour
        from each tablet.
        """
        return set(sha256s)

    def hold(self, sha256: str) -> None:
        """Have a file that is in the store in the folder too."""
        self._fetch(sha256)
        super().hold(sha256)

    def open(self, sha256: str) -> BinaryIO:
        """Open a file, fetched first if it did not pass by here."""
        self._fetch(check_sha256(sha256))
        return super().open(sha256)

    def is_whole(self, sha256: str) -> bool:
        """Say whether the store still has the bytes of a file; what lies in the folder is none."""
        content = self._bucket.get(sha256)
        return content is not None and hashlib.sha256(content).hexdigest() == sha256

    def _fetch(self, sha256: str) -> None:
        if super().exists(sha256):
            return
        content = self._bucket.get(sha256)
        if content is None:
            raise FileNotFoundError(f"{sha256} is neither in the folder nor in the store.")
        arriving = self.begin(sha256, secrets.token_hex(8))
        try:
            arriving.write(content)
            arriving.keep(is_sent=True)
        finally:
            arriving.abandon()
