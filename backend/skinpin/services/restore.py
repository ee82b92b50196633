"""Putting a backup back, into an empty book only, and rehearsing that it can be done."""

from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

from sqlalchemy import Connection

from skinpin.domain.errors import Refused
from skinpin.services.workshop import Workshop
from skinpin.storage.backups import BackupFolder, checked_rows
from skinpin.storage.kept import KEPT, Counted, count_rows, put_rows, standing_digest
from skinpin.storage.log import find_book, set_epoch
from skinpin.storage.photographs import PhotographFolder
from skinpin.storage.rebuild import rebuild
from skinpin.storage.rules import RULES
from skinpin.storage.tables import photograph_file

Progress = Callable[[int, int], None]


class Compared(NamedTuple):
    """One line of the page: what the backup says, and what came out."""

    what: str
    expected: str
    found: str

    @property
    def agrees(self) -> bool:
        """Say whether both are the same."""
        return self.expected == self.found


def restore(
    workshop: Workshop, root: Path, name: str = "", progress: Progress = lambda done, of: None
) -> list[Compared]:
    """Fill an empty book from a backup, the newest if none is named, and compare.

    The book gets a new epoch: every tablet offers again what it holds.

    Raises
    ------
    Refused
        If there is a book already, or the backup is damaged; nothing is kept then.
    """
    backups = BackupFolder(root)
    folder = backups.root / _chosen(backups, name)
    manifest = backups.manifest(folder.name)
    with workshop.writing() as connection:
        if find_book(connection):
            raise Refused(
                "book_exists",
                "There is a book here already; a restore would mix two.",
                "Give an empty folder with --data.",
            )
        _put_tables(connection, folder, manifest)
        sha256s = [str(row.sha256) for row in connection.execute(photograph_file.select())]
        _put_photographs(workshop, backups.photographs(), sha256s, progress)
        rebuild(connection, workshop.files)
        found = _compare(connection, workshop, manifest)
        set_epoch(connection, workshop.new_id())
    return found


def _chosen(backups: BackupFolder, name: str) -> str:
    names = backups.names()
    if not names or (name and name not in names):
        wanted = f"the backup '{name}'" if name else "a complete backup"
        raise Refused(
            "no_backup",
            f"{backups.root} does not hold {wanted}.",
            "Give the folder that 'skinpin backup' writes into.",
        )
    return name or names[-1]


def _put_tables(connection: Connection, folder: Path, manifest: dict[str, Any]) -> None:
    for name, counted in manifest["tables"].items():
        if name not in KEPT:
            raise Refused(
                "backup_damaged",
                f"The backup names a table '{name}' that this version does not know.",
                "Restore with the version that made it, or a newer one.",
            )
        put_rows(connection, KEPT[name], checked_rows(folder / f"{name}.jsonl", Counted(**counted)))


def _put_photographs(
    workshop: Workshop, store: PhotographFolder, sha256s: list[str], progress: Progress
) -> None:
    """Put those back that are whole; the comparison tells how many are not."""
    for done, sha256 in enumerate(sha256s, 1):
        if store.is_whole(sha256):
            workshop.folder.put_if_absent(sha256, store.read(sha256), workshop.random(8).hex())
        progress(done, len(sha256s))


def _compare(
    connection: Connection, workshop: Workshop, manifest: dict[str, Any]
) -> list[Compared]:
    """Compare what stands now with what stood when the backup was made."""
    rows = [
        Compared(f"rows of {name}", str(counted["rows"]), str(count_rows(connection, KEPT[name])))
        for name, counted in manifest["tables"].items()
    ]
    standing, found = Counted(**manifest["standing"]), standing_digest(connection)
    rows.append(Compared("records", str(standing.rows), str(found.rows)))
    if manifest["rules"] == RULES:  # other rules may keep the same values in another form
        rows.append(Compared("digest of standing values", standing.sha256, found.sha256))
    sha256s = [str(row.sha256) for row in connection.execute(photograph_file.select())]
    whole = sum(workshop.folder.is_whole(sha256) for sha256 in sha256s)
    rows.append(Compared("photographs whole", str(len(sha256s)), str(whole)))
    return rows
