"""Copying a book whole to another database and another place of photographs, and proving it.

The copy is the same book in the same epoch: tablets go on with it as if nothing had happened. So
from then on only one of the two may be served.
"""

import hashlib
from collections.abc import Callable

from sqlalchemy import Connection, Table, select

from skinpin.domain.errors import Refused
from skinpin.services.restore import Compared
from skinpin.services.workshop import Workshop
from skinpin.storage.kept import KEPT, Counted, line_of, put_rows, rows_of, standing_digest
from skinpin.storage.log import find_book
from skinpin.storage.rebuild import rebuild
from skinpin.storage.tables import photograph_file

Progress = Callable[[int, int], None]


def transfer(
    source: Workshop, target: Workshop, progress: Progress = lambda done, of: None
) -> list[Compared]:
    """Copy a book into an empty place and compare every table, what stands and every hash.

    The copy is a book only once all of it agrees: else nothing is kept there but photographs that
    are whole, and it may be tried again. Nobody may write to the source meanwhile: what comes
    after the first look is not copied.
    """
    try:
        with source.snapshot() as before, target.writing() as after:
            found = _copy(source, before, target, after, progress)
            if not all(one.agrees for one in found):
                raise _DiffersError(found)  # before the end of the block, which would keep it
    except _DiffersError as differs:
        return differs.found
    return found


class _DiffersError(Exception):
    def __init__(self, found: list[Compared]) -> None:
        super().__init__("the copy differs")
        self.found = found


def _copy(
    source: Workshop, before: Connection, target: Workshop, after: Connection, progress: Progress
) -> list[Compared]:
    _check_places(before, after)
    for table in KEPT.values():
        put_rows(after, table, rows_of(before, table))
    sha256s = list(before.scalars(select(photograph_file.c.sha256)))
    lost = []
    for done, sha256 in enumerate(sha256s, 1):
        if source.folder.is_whole(sha256):
            content = source.folder.read(sha256)
            target.folder.put_if_absent(sha256, content, target.random(8).hex())
        else:
            lost.append(Compared(f"photograph {sha256}", "whole", "not whole in the source"))
        progress(done, len(sha256s))
    rebuild(after, target.files)
    return [*_compare(before, after), *lost, _photographs(target, sha256s)]


def _check_places(before: Connection, after: Connection) -> None:
    if find_book(before) is None:
        raise Refused(
            "no_book", "There is no book here yet.", "Name the folder of one with --data."
        )
    if find_book(after):
        raise Refused(
            "book_exists",
            "There is a book there already; a transfer would mix two.",
            "Give an empty folder or database.",
        )


def _compare(before: Connection, after: Connection) -> list[Compared]:
    found = []
    for name, table in KEPT.items():
        one, other = _digest(before, table), _digest(after, table)
        found.append(Compared(f"rows of {name}", str(one.rows), str(other.rows)))
        found.append(Compared(f"digest of {name}", one.sha256, other.sha256))
    one, other = standing_digest(before), standing_digest(after)
    found.append(Compared("records", str(one.rows), str(other.rows)))
    found.append(Compared("digest of standing values", one.sha256, other.sha256))
    return found


def _digest(connection: Connection, table: Table) -> Counted:
    digest, count = hashlib.sha256(), 0
    for row in rows_of(connection, table):
        digest.update(line_of(row))
        count += 1
    return Counted(count, digest.hexdigest())


def _photographs(target: Workshop, sha256s: list[str]) -> Compared:
    """Read every photograph the source has a row of again, where it was copied to."""
    there = sum(target.folder.is_whole(sha256) for sha256 in sha256s)
    return Compared("photographs whole", str(len(sha256s)), str(there))
