"""The recorded releases, and the ways to a book that one of them left."""

import json
import lzma
import shutil
import sqlite3
import tarfile
from base64 import b64decode
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from skinpin.imaging.renderer import Renderer
from skinpin.services.workshop import Workshop
from skinpin.storage.engine import open_engine, writing
from skinpin.storage.migrate import migrate
from skinpin.storage.photographs import PhotographFolder
from skinpin.storage.rebuild import rebuild_if_old
from skinpin_sync.canonical import sha256_hex

from tests.benches import usual_address

FOLDER = Path(__file__).parent / "releases"


@dataclass(frozen=True)
class Release:
    """What was recorded of one release."""

    folder: Path

    @cached_property
    def asked(self) -> list[dict[str, Any]]:
        """What was asked of its server, in order, with what it answered."""
        text = lzma.decompress((self.folder / "session.jsonl.xz").read_bytes()).decode()
        return [json.loads(line) for line in text.split("\n") if line]

    def part(self, *names: str) -> list[dict[str, Any]]:
        """Return what was asked in some parts of the session."""
        return [one for one in self.asked if one["part"] in names]

    def told(self, name: str) -> dict[str, Any]:
        """Return a page of the recording: `release`, or the account `stored` or `whole`."""
        page: dict[str, Any] = json.loads((self.folder / f"{name}.json").read_text())
        return page

    def statements(self) -> str:
        """Return the SQL that makes its database."""
        return lzma.decompress((self.folder / "book.sql.xz").read_bytes()).decode()

    def unpack(self, name: str, target: Path) -> Path:
        """Unpack its backup or page into a folder."""
        with tarfile.open(self.folder / f"{name}.tar.xz") as packed:
            # Early patches of Python 3.11 have no filters and need none: the file is our own.
            packed.extraction_filter = getattr(tarfile, "data_filter", None)
            packed.extractall(target)
        return target


RELEASES = [
    Release(FOLDER / name)
    for name in sorted((one.name for one in FOLDER.iterdir() if one.name.isdigit()), key=int)
]


class Moment:
    """The server's clock: it is set to each request's time, and goes on by itself."""

    def __init__(self, now_ms: int) -> None:
        self.now_ms = now_ms

    def __call__(self) -> int:
        self.now_ms += 1
        return self.now_ms


@contextmanager
def workshop_in(folder: Path, release: Release, address: str = "") -> Iterator[Workshop]:
    """Open a book of today's tables in a folder, at the time of a recording."""
    folder.mkdir(parents=True, exist_ok=True)
    engine = open_engine(address or usual_address(folder))
    migrate(engine)
    photographs = PhotographFolder(folder / "photographs")
    clock = Moment(release.asked[0]["at_ms"])
    with closing(Workshop(engine, photographs, Renderer(), clock)) as workshop:
        with writing(engine) as connection:
            rebuild_if_old(connection, workshop.files)
        yield workshop


def database_of(release: Release, folder: Path) -> Path:
    """Make the database and photographs of a release, as its server left them."""
    folder.mkdir(parents=True)
    with closing(sqlite3.connect(folder / "book.sqlite")) as database:
        database.executescript(release.statements())
    release.unpack("backup", folder / "backup")
    shutil.copytree(folder / "backup/photographs", folder / "photographs")
    photographs = PhotographFolder(folder / "photographs")
    for one in release.part("before"):
        if one["method"] == "PUT" and one["path"].startswith("/api/photographs/"):
            content = bytes_of(one["body"])
            photographs.put_if_absent(sha256_hex(content), content, "recorded")
    return folder / "book.sqlite"


def bytes_of(body: str | dict[str, str] | None) -> bytes:
    """Return the bytes of a recorded body."""
    if isinstance(body, dict):
        return b64decode(body["base64"])
    return (body or "").encode()
