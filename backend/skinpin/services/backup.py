"""A backup: one consistent look at the kept tables, and every photograph not there yet."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from importlib.metadata import version
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, select

from skinpin.domain.errors import Refused
from skinpin.services.workshop import Workshop
from skinpin.storage.backups import BackupFolder
from skinpin.storage.files import FileLayer
from skinpin.storage.kept import KEPT, line_of, rows_of, standing_digest
from skinpin.storage.log import BookRow, find_book, id_at
from skinpin.storage.tables import photograph_file

Progress = Callable[[int, int], None]


@dataclass(frozen=True)
class Backup:
    """A backup just made."""

    folder: Path
    entries: int
    photographs: int
    copied: int
    lacking: list[str]


def back_up(
    workshop: Workshop,
    root: Path,
    progress: Progress = lambda done, of: None,
    layer: FileLayer | None = None,
) -> Backup:
    """Write a backup into the folder of backups; work at the book may go on meanwhile.

    Photographs are copied first time only: those of earlier backups are named, not copied.
    """
    backups = BackupFolder(root, layer)
    backups.layer.make_folder(root)
    with backups.alone():
        return _back_up(workshop, backups, progress)


def _back_up(workshop: Workshop, backups: BackupFolder, progress: Progress) -> Backup:
    backups.sweep()
    name = _name(workshop.now_ms())
    making = backups.begin(name)
    with workshop.snapshot() as connection:
        row = find_book(connection)
        if row is None:
            raise Refused("no_book", "There is no book here yet.", "Set it up first.")
        manifest = _write_tables(connection, backups, making) | _head(workshop, connection, row)
        photographs = [sha256 for (sha256,) in connection.execute(select(photograph_file.c.sha256))]
    copied, lacking = _copy_photographs(workshop, backups, photographs, progress)
    folder = backups.finish(name, {**manifest, "photographs_lacking": lacking})
    return Backup(folder, manifest["seq"], len(photographs), copied, lacking)


def _name(now_ms: int) -> str:
    return datetime.fromtimestamp(now_ms / 1000, UTC).strftime("%Y-%m-%dT%H%M%SZ")


def _write_tables(connection: Connection, backups: BackupFolder, making: Path) -> dict[str, Any]:
    tables = {}
    for name, table in KEPT.items():
        lines = (line_of(row) for row in rows_of(connection, table))
        tables[name] = backups.write_lines(making / f"{name}.jsonl", lines)._asdict()
    return {"tables": tables, "standing": standing_digest(connection)._asdict()}


def _head(workshop: Workshop, connection: Connection, row: BookRow) -> dict[str, Any]:
    made = datetime.fromtimestamp(workshop.now_ms() / 1000, UTC).isoformat(timespec="seconds")
    head = {"made": made, "made_ms": workshop.now_ms(), "version": version("skinpin")}
    at = id_at(connection, row.seq)
    return {
        **head,
        "book": row.id,
        "epoch": row.epoch,
        "seq": row.seq,
        "at": at,
        "rules": row.rules,
    }


def _copy_photographs(
    workshop: Workshop, backups: BackupFolder, sha256s: list[str], progress: Progress
) -> tuple[int, list[str]]:
    """Copy what is not whole in the store yet; return how many, and which the book lacks.

    A photograph that is missing or damaged must not keep the log from being backed up.
    """
    store, copied, lacking = backups.photographs(), 0, []
    for done, sha256 in enumerate(sha256s, 1):
        if not store.is_whole(sha256):
            if workshop.folder.is_whole(sha256):
                store.layer.remove(store.path(sha256))
                content = workshop.folder.read(sha256)
                store.put_if_absent(sha256, content, workshop.random(8).hex())
                copied += 1
            else:
                lacking.append(sha256)
        progress(done, len(sha256s))
    return copied, lacking
