"""Whether this computer is fit to keep a book: one line for each thing, and what to do."""

import importlib.util
import os
import shutil
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, NamedTuple

from skinpin.services.rehearse import keeping
from skinpin.services.workday import wall_time, workshop_zone
from skinpin.services.workshop import Workshop, computer_ms
from skinpin.storage.engine import database_version
from skinpin.storage.log import find_book

LEAST_FREE_BYTES = 5 * 1024**3
"""Some 1,500 photographs of 3 MB; common practice, no source."""
FIRST_SURE_YEAR = 2025
NEEDED = {"typst": "zone reports", "PIL": "small copies of photographs"}


class Checked(NamedTuple):
    """One line: what was looked at, whether it is fit, what was found, what to do."""

    what: str
    fit: bool
    found: str
    todo: str = ""

    def line(self) -> str:
        """Return the line as it is printed."""
        said = f"{'ok  ' if self.fit else 'MEND'}  {self.what}: {self.found}"
        return f"{said} {self.todo}".rstrip() if not self.fit else said


def check_setup(workshop: Workshop, data: Path, backups: Path) -> list[Checked]:
    """Look at the folder, room, clock, database, backups, address and packages."""
    with workshop.reading() as connection:
        book = find_book(connection)
        zone = workshop_zone(connection)
        database = database_version(connection)
    return [
        _folder(data),
        _room(data),
        _clock(),
        Checked("time zone of the book", book is not None, str(zone) if book else "no book yet",
                "Set the book up on the first screen."),
        Checked("database", True, database),
        *_backups(workshop, data, backups),
        Checked("address for tablets", True,
                "tablets other than this computer need https, by a certificate that they trust"),
        *(_package(name, use) for name, use in NEEDED.items()),
        Checked("Node", True, "not needed to serve; only to build"),
    ]  # fmt: skip


def _folder(data: Path) -> Checked:
    fit = os.access(data, os.W_OK | os.X_OK)
    found = f"{data} {'may be written' if fit else 'may not be written'}"
    return Checked("data folder", fit, found, "Give its owner the right to write.")


def _room(data: Path) -> Checked:
    free = shutil.disk_usage(data).free
    found = f"{free / 10**9:.1f} GB free"
    return Checked("room", free >= LEAST_FREE_BYTES, found, "Make room: 5 GB at least.")


def _clock() -> Checked:
    now_ms = computer_ms()
    year = datetime.fromtimestamp(now_ms / 1000, UTC).year
    local = datetime.now().astimezone()
    found = f"{wall_time(now_ms, UTC)[:16].replace('T', ' ')} UTC, here {local:%H:%M %Z}"
    return Checked("clock", year >= FIRST_SURE_YEAR, found, "Set the computer's clock.")


def _backups(workshop: Workshop, data: Path, backups: Path) -> list[Checked]:
    is_there = backups.is_dir()
    other = is_there and backups.stat().st_dev != data.stat().st_dev
    where = "another disk" if other else "the same disk" if is_there else "no disk yet"
    found = f"{backups} is on {where}"
    kept: dict[str, Any] = keeping(workshop, backups)
    return [
        Checked("backup folder", other, found, "Name one on another disk by SKINPIN_BACKUPS."),
        _age("last backup", kept["backup_days"], kept["backup_due"], "skinpin backup"),
        _age("last good rehearsal", kept["rehearsal_days"], kept["rehearsal_due"],
             "skinpin rehearse"),
    ]  # fmt: skip


def _age(what: str, days: int | None, due: bool, verb: str) -> Checked:
    found = "none yet" if days is None else "today" if days == 0 else f"{days} days ago"
    return Checked(what, not due, found, f"Run '{verb}'.")


def _package(name: str, use: str) -> Checked:
    is_here = importlib.util.find_spec(name) is not None
    found = f"for {use}, {'here' if is_here else 'missing'}"
    return Checked(f"package {name.lower()}", is_here, found, "Install Skinpin again.")
