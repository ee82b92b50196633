"""Keeps the row of every defect up with what stands."""

from collections.abc import Collection, Iterable

from sqlalchemy import Connection

from skinpin.storage.files_named import NamedFiles
from skinpin.storage.records import StandingRecord


def keep_rows(
    connection: Connection,
    now: Iterable[StandingRecord],
    files: NamedFiles,
    again: Collection[str],
) -> None:
    """Make the rows anew that changed records or files take part in."""
