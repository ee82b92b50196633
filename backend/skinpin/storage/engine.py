"""The database engine: durable on every commit, one writer at a time on SQLite."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from weakref import WeakKeyDictionary

from psycopg.abc import Buffer
from psycopg.types.string import StrDumperUnknown
from sqlalchemy import Connection, Engine, create_engine, event

from skinpin.storage import types  # noqa: F401  (registers the STRICT type map)
from skinpin.storage.checkpoints import Checkpoints

_PRAGMAS = (
    "page_size=8192",  # of a new file; one that is there keeps its own
    "journal_mode=WAL",
    "synchronous=FULL",
    "foreign_keys=ON",
    "busy_timeout=10000",
    "cache_size=-65536",
    "wal_autocheckpoint=32000",
    "temp_store=MEMORY",  # what a statement over many rows could undo went through a file
)


def open_engine(address: str) -> Engine:
    """Open a SQLAlchemy address, with the habits of its database."""
    if address.startswith("postgresql://"):
        address = address.replace("postgresql://", "postgresql+psycopg://", 1)
    engine = create_engine(address, pool_size=8, max_overflow=40)
    if engine.dialect.name == "sqlite":
        event.listen(engine, "connect", _set_up_sqlite)
        event.listen(engine, "begin", _begin_sqlite)
        _watch(engine)
    else:
        event.listen(engine, "connect", _set_up_postgresql)
    return engine


_CHECKPOINTS: WeakKeyDictionary[Engine, Checkpoints] = WeakKeyDictionary()


def _watch(engine: Engine) -> None:
    """Have checkpoints of a database file made beside its writers until the engine is disposed."""
    database = engine.url.database
    if database and database != ":memory:":
        one = _CHECKPOINTS[engine] = Checkpoints(Path(database))
        event.listen(engine, "engine_disposed", lambda engine: one.close())


def _set_up_sqlite(raw: sqlite3.Connection, record: Any) -> None:
    # The driver's own BEGIN is deferred; ours is chosen in _begin_sqlite.
    raw.isolation_level = None
    for pragma in _PRAGMAS:
        raw.execute(f"PRAGMA {pragma}")


class _WithoutZero(StrDumperUnknown):
    """Writes U+FFFD for the zero character, the one that PostgreSQL takes in no text.

    Entries keep theirs: their lines spell it out. Only what is looked up by, or derived, meets it.
    """

    def dump(self, obj: str) -> Buffer | None:
        return super().dump(obj.replace("\0", "\ufffd") if "\0" in obj else obj)


def _set_up_postgresql(raw: Any, record: Any) -> None:
    raw.adapters.register_dumper(str, _WithoutZero)


def _begin_sqlite(connection: Connection) -> None:
    # A deferred transaction that reads, then writes, is refused at once when another
    # writer committed in between; an immediate one waits for its turn.
    write = connection.get_execution_options().get("write", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if write else "BEGIN")


_WRITERS = 0x534B494E
"""The one lock of a book's writers on PostgreSQL: it is of the database, whoever connects."""


@contextmanager
def reading(engine: Engine) -> Iterator[Connection]:
    """Open a read transaction; nothing is kept."""
    with engine.connect() as connection:
        yield connection


@contextmanager
def writing(engine: Engine) -> Iterator[Connection]:
    """Open a write transaction, committed at the end of the block or rolled back by an error."""
    with writing_beside(engine) as connection:
        if engine.dialect.name == "postgresql":
            # As on SQLite writers go one by one, in every server process: what one looked up
            # stays true until it is written, and there is no second lock to wait for in a ring.
            connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_WRITERS})")
        yield connection


@contextmanager
def writing_beside(engine: Engine) -> Iterator[Connection]:
    """Open a write transaction of one statement, which on PostgreSQL waits for no other writer."""
    with engine.connect().execution_options(write=True) as connection, connection.begin():
        yield connection
    if engine in _CHECKPOINTS:
        _CHECKPOINTS[engine].after_commit()


@contextmanager
def snapshot(engine: Engine) -> Iterator[Connection]:
    """Open a read transaction that sees one moment of the book, however long it is read."""
    with engine.connect() as connection:
        if engine.dialect.name == "postgresql":
            connection = connection.execution_options(isolation_level="REPEATABLE READ")
        yield connection


def database_version(connection: Connection) -> str:
    """Return which database is behind a connection, and its version."""
    name = connection.dialect.name
    version = ".".join(map(str, connection.dialect.server_version_info or ()))
    return f"{name} {version}".strip()
