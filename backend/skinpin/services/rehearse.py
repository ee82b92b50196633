"""A restore rehearsal: the newest backup put into a scratch book and compared, then thrown away."""

from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, NamedTuple

from skinpin.domain.errors import Refused
from skinpin.services.check_nightly import checks
from skinpin.services.restore import Compared, restore
from skinpin.services.workshop import DAY_MS, Workshop
from skinpin.storage.backups import BackupFolder
from skinpin.storage.engine import open_engine
from skinpin.storage.kept import count_kinds
from skinpin.storage.migrate import migrate
from skinpin.storage.photographs import PhotographFolder

BACKUP_WARNS_DAYS = 7
REHEARSAL_WARNS_DAYS = 30


class Rehearsal(NamedTuple):
    """What a rehearsal found."""

    backup: str
    made: str
    day: str
    compared: list[Compared]
    kinds: dict[str, int]
    """How many records of each kind came out."""

    @property
    def agrees(self) -> bool:
        """Say whether everything came out as it went in."""
        return all(one.agrees for one in self.compared)

    def page(self) -> str:
        """Return the page to print and file."""
        wide = max(len(one.what) for one in self.compared)
        lines = [
            f"{one.what:<{wide}}  {one.expected}  "
            + ("agrees" if one.agrees else f"DIFFERS: {one.found}")
            for one in self.compared
        ]
        verdict = "The restore agrees." if self.agrees else "THE RESTORE DIFFERS."
        head = f"Restore rehearsal of {self.day}\nBackup {self.backup}, made {self.made}\n"
        return "\n".join((head, *lines, "", *_kinds(self.kinds), "", verdict))


WORDS = {
    "coverage": "bays looked at",
    "defect": "defects: the lines of the defect book",
    "pair": "pairs decided about",
    "person": "people",
}
"""Kinds whose name alone says too little."""


def _kinds(kinds: dict[str, int]) -> list[str]:
    """Return the records by kind, for most of them are no defects."""
    head = "A record is whatever has a history of its own. The records by kind:"
    wide = max((len(f"{count:,}") for count in kinds.values()), default=1)
    named = {kind: WORDS.get(kind, kind.replace("_", " ") + "s") for kind in kinds}
    return [head, *(f"  {count:>{wide},}  {named[kind]}" for kind, count in kinds.items())]


def rehearse(workshop: Workshop, root: Path, scratch: Path | None = None) -> Rehearsal:
    """Restore the newest backup into a scratch book beside nothing else, and compare."""
    backups = BackupFolder(root)
    with TemporaryDirectory(prefix="skinpin-rehearsal-", dir=scratch) as folder:
        trial = _scratch(workshop, Path(folder))
        try:
            compared = restore(trial, root)
            with trial.reading() as connection:
                kinds = count_kinds(connection)
        finally:
            trial.engine.dispose()
    name = backups.names()[-1]
    made = backups.manifest(name)["made"]
    found = Rehearsal(name, made, _day(workshop.now_ms()), compared, kinds)
    rows = [{**one._asdict(), "agrees": one.agrees} for one in compared]
    page = {"at_ms": workshop.now_ms(), "agrees": found.agrees, "compared": rows}
    backups.note_rehearsal(name, page)
    return found


def _scratch(workshop: Workshop, folder: Path) -> Workshop:
    engine = open_engine(f"sqlite:///{folder / 'book.sqlite'}")
    migrate(engine)
    photographs = PhotographFolder(folder / "photographs")
    return Workshop(engine, photographs, workshop.renderer, workshop.now_ms, workshop.random)


def _day(now_ms: int) -> str:
    return datetime.fromtimestamp(now_ms / 1000, UTC).date().isoformat()


def keeping(workshop: Workshop, root: Path) -> dict[str, Any]:
    """Return how old the last backup and the last good rehearsal are, in whole days, or null.

    And what the last checks of the book found (`check_nightly.checks`). `backup_due` and
    `rehearsal_due` say that a warning is in place. Damaged ones don't count.
    """
    backups = BackupFolder(root)
    made, good = [], []
    for name in backups.names():
        with suppress(Refused):
            made.append(backups.manifest(name)["made_ms"])
            page = backups.rehearsal(name)
            if page and page["agrees"]:
                good.append(page["at_ms"])
    backup, rehearsal = _age(workshop, made), _age(workshop, good)
    return {
        "backup_days": backup,
        "rehearsal_days": rehearsal,
        "backup_due": backup is None or backup >= BACKUP_WARNS_DAYS,
        "rehearsal_due": rehearsal is None or rehearsal >= REHEARSAL_WARNS_DAYS,
        **checks(workshop, backups),
    }


def _age(workshop: Workshop, at_ms: list[int]) -> int | None:
    return (workshop.now_ms() - max(at_ms)) // DAY_MS if at_ms else None
