"""Which files lie in the photograph folder."""

from collections.abc import Collection

from sqlalchemy import Connection, select

from skinpin.storage.many import among, insert_new_rows
from skinpin.storage.tables import photograph_file

_AWAITED = (
    "SELECT 1 FROM named WHERE id = {mark}"
    " UNION ALL SELECT 1 FROM missing_file WHERE sha256 = {mark} LIMIT 1"
)


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
    mark = "?" if connection.dialect.name == "sqlite" else "%s"
    asked = _AWAITED.format(mark=mark)
    return connection.exec_driver_sql(asked, (sha256, sha256)).first() is not None
