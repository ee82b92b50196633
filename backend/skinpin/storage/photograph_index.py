"""Which files lie in the photograph folder."""

from collections.abc import Collection

from sqlalchemy import Connection, select

from skinpin.storage.many import among
from skinpin.storage.tables import photograph_file

_KEPT = (
    "INSERT INTO photograph_file (sha256, size_bytes, received_at_ms) VALUES ({0}, {0}, {0})"
    " ON CONFLICT (sha256) DO UPDATE SET sha256 = excluded.sha256"
    " RETURNING EXISTS (SELECT 1 FROM named WHERE id = {0})"
    " OR EXISTS (SELECT 1 FROM missing_file WHERE sha256 = {0})"
)
"""Changes nothing of a file that is known. One statement, for every photograph pays for it."""


def files_here(connection: Connection, sha256s: Collection[str]) -> set[str]:
    """Return those of the files that once came here whole; the folder may have lost one since."""
    asked = select(photograph_file.c.sha256).where(
        among(connection, photograph_file.c.sha256, sha256s)
    )
    return {sha256 for (sha256,) in connection.execute(asked)}


def keep_file(connection: Connection, sha256: str, size_bytes: int, now_ms: int) -> bool:
    """Note a file that lies in the folder; say whether a verdict or a row waits for it."""
    asked = _KEPT.format("?" if connection.dialect.name == "sqlite" else "%s")
    given = (sha256, size_bytes, now_ms, sha256, sha256)
    return bool(connection.exec_driver_sql(asked, given).scalar_one())
