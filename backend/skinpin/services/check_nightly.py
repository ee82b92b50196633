"""A light check each night: whether all that is counted is there, and a part of it as it came.

The part is another one each night, so that in time all is read again; `check_book` reads all at
once. What either found stays beside the backups and is told to the lead.
"""

from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

from skinpin_sync.canonical import sha256_hex
from sqlalchemy import Connection, func, select

from skinpin.services.workshop import DAY_MS, Workshop
from skinpin.storage.backups import BackupFolder
from skinpin.storage.kept import BATCH
from skinpin.storage.log import find_book
from skinpin.storage.tables import entry, photograph_file

NIGHTLY, WHOLE = "check-nightly", "check-book"
ENTRIES_A_NIGHT, PHOTOGRAPHS_A_NIGHT = 5000, 200
SENTENCES_KEPT = 20


def check_lightly(workshop: Workshop, night: int) -> list[str]:
    """Return a sentence for each thing found missing or changed.

    All entries are counted, and every photograph with a row is looked for in the folder; in front
    of a store its row is trusted. The part that is read again goes by the number of the night.
    """
    with workshop.snapshot() as connection:
        return [
            *_counted(connection),
            *_entries_read(connection, night),
            *_photographs(connection, workshop, night),
        ]


def _counted(connection: Connection) -> Iterator[str]:
    row = find_book(connection)
    seq = row.seq if row else 0
    here = connection.scalar(select(func.count()).select_from(entry)) or 0
    if here != seq:
        yield f"Of {seq} entries in the order of arrival {here} are here."


def _entries_read(connection: Connection, night: int) -> Iterator[str]:
    last = connection.scalar(select(func.max(entry.c.seq))) or 0
    begin = first_of_night(last, ENTRIES_A_NIGHT, night)
    part = (entry.c.seq > begin) & (entry.c.seq <= begin + ENTRIES_A_NIGHT)
    columns = select(entry.c.id, entry.c.line, entry.c.sha256).where(part).order_by(entry.c.seq)
    for id, line, sha256 in connection.execute(columns, execution_options={"yield_per": BATCH}):
        if sha256_hex(line.encode()) != sha256:
            yield f"The entry {id} is not as it came."


def _photographs(connection: Connection, workshop: Workshop, night: int) -> Iterator[str]:
    columns = select(photograph_file.c.sha256).order_by(photograph_file.c.sha256)
    all_rows = list(connection.scalars(columns))
    lost = set(all_rows) - workshop.folder.still_there(all_rows)
    begin = first_of_night(len(all_rows), PHOTOGRAPHS_A_NIGHT, night)
    part = set(all_rows[begin : begin + PHOTOGRAPHS_A_NIGHT])
    for sha256 in sorted(lost | part):
        if not workshop.folder.exists(sha256):
            yield f"The photograph {sha256} is missing."
        elif not workshop.folder.is_whole(sha256):
            yield f"The photograph {sha256} is not as it came."


def first_of_night(count: int, size: int, night: int) -> int:
    """Return where the part of a night begins among so many things.

    >>> [first_of_night(450, 200, night) for night in range(5)]
    [0, 200, 400, 0, 200]
    >>> first_of_night(0, 200, 9)
    0
    """
    return night % max(1, -(-count // size)) * size


def check_of_night(workshop: Workshop, root: Path) -> list[str]:
    """Check lightly and keep what was found."""
    found = check_lightly(workshop, workshop.now_ms() // DAY_MS)
    _note(workshop, root, NIGHTLY, found)
    return found


def note_whole_check(workshop: Workshop, root: Path, found: list[str]) -> None:
    """Keep what `check_book` found; where there is no room, or no backup yet, nothing is kept."""
    if root.is_dir():
        with suppress(OSError):
            _note(workshop, root, WHOLE, found)


def _note(workshop: Workshop, root: Path, kind: str, found: list[str]) -> None:
    told = {"at_ms": workshop.now_ms(), "count": len(found), "found": found[:SENTENCES_KEPT]}
    BackupFolder(root).note_check(kind, told)


def checks(workshop: Workshop, backups: BackupFolder) -> dict[str, Any]:
    """Return how many days ago was checked, how much was found, and the first sentence of it.

    What a check of the whole book found stands until the next one finds it no more.
    """
    told = [page for kind in (WHOLE, NIGHTLY) if (page := backups.check(kind))]
    if not told:
        return {"check_days": None, "check_faults": 0, "check_fault": None}
    worst = max(told, key=lambda page: int(page["count"]))
    return {
        "check_days": (workshop.now_ms() - max(page["at_ms"] for page in told)) // DAY_MS,
        "check_faults": worst["count"],
        "check_fault": next(iter(worst["found"]), None),
    }
