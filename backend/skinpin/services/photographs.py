"""Files in and out: photographs and whatever else entries name by SHA-256."""

import hashlib
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from skinpin.domain.errors import Refused
from skinpin.services.workshop import Workshop
from skinpin.storage.derive import file_came
from skinpin.storage.log import lock_book
from skinpin.storage.photograph_index import files_here, keep_file
from skinpin.storage.photographs import RENDITION_SIZES_PX, Arriving, check_sha256

MAX_ASKED = 5000
KINDS = {
    b"\xff\xd8\xff": "image/jpeg",
    b"\x89PNG\r\n\x1a\n": "image/png",
    b"RIFF": "image/webp",
}


HEIC_BRANDS = {b"heic", b"heix", b"hevc", b"hevx", b"heim", b"heis", b"mif1", b"msf1"}
"""ISO/IEC 23008-12, annex B (from memory): the first brand of the file."""


class Found(NamedTuple):
    """A file to hand out."""

    path: Path
    media_type: str


def missing(workshop: Workshop, sha256s: Sequence[str]) -> list[str]:
    """Return which files are not here: those with no row, and those whose file was lost since."""
    if len(sha256s) > MAX_ASKED:
        raise Refused(
            "too_large",
            f"{len(sha256s)} files were asked for at once; the limit is {MAX_ASKED}.",
            "Ask in several steps.",
        )
    asked = [check_sha256(one) for one in sha256s]
    with workshop.reading() as connection:
        noted = files_here(connection, asked)
    here = workshop.folder.still_there(noted)
    return [one for one in dict.fromkeys(asked) if one not in here]


class Upload:
    """One file on its way in, from the first byte to the answer."""

    def __init__(self, workshop: Workshop, sha256: str) -> None:
        self._workshop, self._sha256 = workshop, check_sha256(sha256)
        self._arriving: Arriving | None = None
        self.is_here = workshop.folder.exists(sha256)

    def write(self, part: bytes) -> None:
        """Take the next bytes; those of a file that is here already are let go."""
        if self.is_here:
            return
        if self._arriving is None:
            self._begin()
        assert self._arriving is not None
        self._arriving.write(part)

    def finish(self) -> bool:
        """Keep the file and return whether it is new; after this nothing can take it away."""
        if self.is_here:
            self._workshop.folder.hold(self._sha256)
            size_bytes = self._workshop.folder.path(self._sha256).stat().st_size
        else:
            if self._arriving is None:
                self._begin()
            assert self._arriving is not None
            self._arriving.keep()
            size_bytes = self._arriving.size_bytes
        note_file(self._workshop, self._sha256, size_bytes)
        return not self.is_here

    def abandon(self) -> None:
        """Leave nothing behind, if the file was not kept."""
        if self._arriving is not None:
            self._arriving.abandon()

    def _begin(self) -> None:
        folder, token = self._workshop.folder, self._workshop.random(8).hex()
        self._arriving = folder.begin(self._sha256, token)


def keep_bytes(workshop: Workshop, content: bytes) -> str:
    """Keep a file whose bytes are at hand and return its SHA-256."""
    sha256 = hashlib.sha256(content).hexdigest()
    upload = Upload(workshop, sha256)
    try:
        upload.write(content)
        upload.finish()
    finally:
        upload.abandon()
    return sha256


def find_file(workshop: Workshop, sha256: str) -> Found:
    """Return a file as it came."""
    _need(workshop, sha256)
    with workshop.folder.open(sha256) as file:
        begin = file.read(16)
    kind = next((kind for start, kind in KINDS.items() if begin.startswith(start)), "")
    if begin[4:8] == b"ftyp" and begin[8:12] in HEIC_BRANDS:
        kind = "image/heic"
    if begin[:1] == b"{":
        kind = "application/json"
    return Found(workshop.folder.path(sha256), kind or "application/octet-stream")


def find_rendition(workshop: Workshop, sha256: str, size_px: int) -> Found:
    """Return a picture with its longest side cut to a size, made when first asked for."""
    if size_px not in RENDITION_SIZES_PX:
        raise Refused(
            "wrong_shape",
            f"There is no rendition of {size_px} px.",
            f"Ask for one of {', '.join(map(str, RENDITION_SIZES_PX))}.",
        )
    _need(workshop, sha256)
    path = workshop.folder.rendition_path(sha256, size_px)
    if not workshop.folder.layer.exists(path):
        make_renditions(workshop, sha256)
    return Found(path, "image/jpeg")


def make_renditions(workshop: Workshop, sha256: str) -> None:
    """Make and cache all renditions of a picture in one decoding."""
    folder = workshop.folder
    made = workshop.renderer.render(folder.read(sha256), list(RENDITION_SIZES_PX))
    for size_px, picture in made.pictures.items():
        folder.cache_rendition(sha256, size_px, picture, workshop.random(8).hex())


def _need(workshop: Workshop, sha256: str) -> None:
    if not workshop.folder.exists(check_sha256(sha256)):
        raise Refused(
            "no_such_photograph",
            f"The file {sha256} is not here yet.",
            "It comes when the tablet that took it sends it.",
        )


def note_file(workshop: Workshop, sha256: str, size_bytes: int) -> None:
    """Write the row of a file that lies in the folder, and what waited for it."""
    with workshop.noting() as connection:
        if keep_file(connection, sha256, size_bytes, workshop.now_ms()):
            row = lock_book(connection)
            file_came(connection, sha256, workshop.files, row.seq)
            workshop.let_in.clear()
