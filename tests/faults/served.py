"""The server as it is installed, with backups that never end and, if asked, a disk that fills up.

Started as `python -m tests.faults.served serve --data FOLDER --port N`.
"""

import os
import sys
from typing import Any, BinaryIO

from skinpin.cli import main
from skinpin.services import nightly
from skinpin.storage.files import FileLayer

ROOM_BYTES = "FAULT_ROOM_BYTES"
"""How much the file layer takes before its disk is full: stands in where no small one is to be had.
"""


def back_up_always() -> None:
    """Have the nightly backup due at every look, and looks that follow each other."""
    nightly.LOOK_EVERY_S = 0.02
    nightly.Nightly.__init__.__defaults__ = (nightly.LOOK_EVERY_S,)
    nightly.is_due = lambda workshop, root: True
    nightly.log.exception = lambda *said: None  # a backup of the same second is refused


def fill_up(room_bytes: int) -> None:
    """Have the file layer refuse what is over a number of bytes."""
    write, left = FileLayer.write, [room_bytes]

    def limited(self: FileLayer, file: BinaryIO, part: bytes) -> None:
        left[0] -= len(part)
        if left[0] < 0:
            raise OSError(28, "No space left on device")
        write(self, file, part)

    layer: Any = FileLayer
    layer.write = limited


if __name__ == "__main__":
    back_up_always() if "FAULT_BACKUPS" in os.environ else None
    if room := os.environ.get(ROOM_BYTES):
        fill_up(int(room))
    main(sys.argv[1:])
