"""Which files lie in the photograph folder."""

from collections.abc import Collection

from sqlalchemy import Connection, select

from skinpin.storage.many import among, insert_new_rows
from skinpin.storage.tables import missing_file, named, photograph_file


def files_here(connection: Connection, sha256s: Collection[str]) -> set[str]:
    """Return those of the files that lie here whole."""
    asked = select(photograph_file.c.sha256).where(
        among(connection, photograph_file.c.sha256, sha256s)
    )
    return {sha256 for (sha256,) in connection.execute(asked)}


def keep_file(connection: Connection, sha256: str, size_bytes: int, now_ms: int) -> None:
    """Note a file that lies in the folder."""
    insert_new_rows(connection, photograph_file, [(sha256, size_bytes, now_ms)])


def is_awaited(connection: Connection, sha256: str) -> bool:
    """Say whether a verdict waits for a file, or a row was made without it."""
    waits = select(named.c.id).where(named.c.id == sha256)
    lacks = select(missing_file.c.sha256).where(missing_file.c.sha256 == sha256)
    return connection.execute(waits.union_all(lacks).limit(1)).first() is not None
