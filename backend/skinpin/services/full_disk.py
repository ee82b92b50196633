"""A full disk is told in one sentence, whichever part of the program meets it."""

from errno import EDQUOT, ENOSPC
from pathlib import Path
from shutil import disk_usage

from sqlalchemy.exc import OperationalError

from skinpin.domain.errors import Refused

LEAST_BYTES = 65_536
"""On a disk with less SQLite can't make its files, and says no more than *disk I/O error*."""


def full_disk(error: BaseException, folder: Path | None = None) -> Refused | None:
    """Return what is said of an error that means a full disk, None of any other.

    With a `folder` an error of the database on a disk without any room is one of them too.
    """
    if isinstance(error, OSError) and error.errno in (ENOSPC, EDQUOT):
        return _full()
    # SQLite says that it is full, PostgreSQL what its system said.
    if not isinstance(error, OperationalError):
        return None
    said = str(error.orig)
    is_said = "full" in said or "No space left" in said
    return _full() if is_said or _is_without_room(folder) else None


def _is_without_room(folder: Path | None) -> bool:
    if folder is None or not folder.is_dir():
        return False
    return disk_usage(folder).free < LEAST_BYTES


def _full() -> Refused:
    return Refused("disk_full", "The server's disk is full; nothing was stored.", "Free space.")
