"""Benches on PostgreSQL instead of SQLite: `SECOND_DATABASE` is the address of a cluster.

Each folder gets a database of its own. A folder that was copied brings the name of the one it was
copied from, and its database becomes a copy of that.
"""

import hashlib
import os
from pathlib import Path

from sqlalchemy import create_engine, text

NOTE = "second-database"
ENGLISH = "TEMPLATE template0 LOCALE_PROVIDER icu ICU_LOCALE 'en-US'"


def second_database(folder: Path) -> str:
    """Return the address of a folder's database, made if it lacks; nothing where none is asked."""
    cluster = os.environ.get("SECOND_DATABASE", "")
    if not cluster:
        return ""
    name = f"book_{hashlib.sha256(str(folder.resolve()).encode()).hexdigest()[:24]}"
    note = folder / NOTE
    before = note.read_text() if note.exists() else ""
    if before != name:
        make(cluster, name, f"TEMPLATE {before}" if before else ENGLISH)
        note.write_text(name)
    return f"{cluster}/{name}"


def make(cluster: str, name: str, how: str) -> None:
    """Make a database."""
    engine = create_engine(f"{cluster}/postgres", isolation_level="AUTOCOMMIT")
    with engine.connect() as connection:
        connection.execute(text(f"DROP DATABASE IF EXISTS {name}"))
        connection.execute(text(f"CREATE DATABASE {name} {how}"))
    engine.dispose()
