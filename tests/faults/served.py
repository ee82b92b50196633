"""The server as it is installed, with backups that never end and, if asked, a disk that fills up.

Started as `python -m tests.faults.served serve --data FOLDER --port N`.
"""

import json
import os
import sys
from pathlib import Path
from typing import Any, BinaryIO

from skinpin.cli import main
from skinpin.services import nightly
from skinpin.storage.files import FileLayer
from sqlalchemy import event
from sqlalchemy.pool import Pool

ROOM = "FAULT_ROOM"
"""Names a file with the room there is, that stands in where no small disk is to be had:
`{"bytes": of all files together, "pages": of the database}`; more room is made by writing it anew.
"""


def back_up_always() -> None:
    """Have the nightly backup due at every look, and looks that follow each other."""
    nightly.LOOK_EVERY_S = 0.02
    nightly.Nightly.__init__.__defaults__ = (nightly.LOOK_EVERY_S,)
    nightly.is_due = lambda workshop, root: True
    nightly.log.exception = lambda *said: None  # a backup of the same second is refused


class Room:
    """What is left of a disk that is none."""

    def __init__(self, told: Path) -> None:
        self._told, self._used_bytes = told, 0

    def take(self, part: bytes | bytearray) -> None:
        """Take the room of some bytes, or refuse them as a full disk does."""
        if self._used_bytes + len(part) > self._read()["bytes"]:
            raise OSError(28, "No space left on device")
        self._used_bytes += len(part)

    def limit(self, raw: Any, *others: Any) -> None:
        """Let a connection's database grow to its pages and no further."""
        raw.execute(f"PRAGMA max_page_count={self._read()['pages']}").fetchall()

    def _read(self) -> dict[str, int]:
        found: dict[str, int] = json.loads(self._told.read_text())
        return found


def fill_up(room: Room) -> None:
    """Have files and database refuse what is over the room there is."""
    layer: Any = FileLayer
    write, write_at = FileLayer.write, FileLayer.write_at

    def limited(self: FileLayer, file: BinaryIO, part: bytes) -> None:
        room.take(part)
        write(self, file, part)

    def limited_at(self: FileLayer, file: BinaryIO, at: int, part: bytes | bytearray) -> None:
        room.take(part)
        write_at(self, file, at, part)

    layer.write, layer.write_at = limited, limited_at
    event.listen(Pool, "checkout", room.limit)


if __name__ == "__main__":
    back_up_always() if "FAULT_BACKUPS" in os.environ else None
    if told := os.environ.get(ROOM):
        fill_up(Room(Path(told)))
    main(sys.argv[1:])
