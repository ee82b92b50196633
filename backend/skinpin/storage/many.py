"""Statements over many rows or ids at once, the same for both databases."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from functools import lru_cache
from itertools import chain
from typing import Any

import orjson
from sqlalchemy import (
    ARRAY,
    ColumnElement,
    Connection,
    Select,
    Table,
    Text,
    any_,
    bindparam,
    column,
    func,
    select,
)
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.dialects.postgresql import insert as insert_postgresql
from sqlalchemy.dialects.sqlite import insert as insert_sqlite

Row = Sequence[Any]
AT_ONCE = 100


def among(connection: Connection, wanted: ColumnElement[Any], ids: Collection[str]) -> Any:
    """Return the condition that a column is one of the ids, as one parameter however many."""
    if connection.dialect.name == "sqlite":
        text = bindparam(None, orjson.dumps(list(ids)).decode(), Text, unique=True)
        listed = func.json_each(text).table_valued(column("value", Text))
        return wanted.in_(select(listed.c.value))
    return wanted == any_(bindparam(None, list(ids), ARRAY(Text), unique=True))


def rows_among(
    connection: Connection,
    asked: Select[Any],
    wanted: ColumnElement[Any],
    ids: Collection[str],
    given: Mapping[str, Any] | None = None,
) -> Sequence[Any]:
    """Return what a question, made once for all, answers for the rows whose column is an id.

    The question's own parameters are `given`. Its SQL is written once: to write it anew for
    every batch would cost as much as the answer.
    """
    if not ids:
        return ()
    is_sqlite = connection.dialect.name == "sqlite"
    listed: Any = orjson.dumps(list(ids)).decode() if is_sqlite else list(ids)
    words, own = _question(connection.dialect.name, asked, wanted)
    return connection.exec_driver_sql(words, {**own, "ids": listed, **(given or {})}).all()


@lru_cache
def _question(
    database: str, asked: Select[Any], wanted: ColumnElement[Any]
) -> tuple[str, dict[str, Any]]:
    if database == "sqlite":
        dialect: Any = _dialect(sqlite, "named")
        text = func.json_each(bindparam("ids", type_=Text))
        listed = text.table_valued(column("value", Text))
        whole = asked.where(wanted.in_(select(listed.c.value)))
    else:
        dialect = _dialect(postgresql, "pyformat")
        whole = asked.where(wanted == any_(bindparam("ids", type_=ARRAY(Text))))
    done = whole.compile(dialect=dialect)
    return str(done), {name: own for name, own in done.params.items() if own is not None}


def insert_rows(connection: Connection, table: Table, rows: Sequence[Row]) -> None:
    """Insert rows, each with the values of all columns in their order."""
    _run(connection, table, rows, "")


def upsert_rows(connection: Connection, table: Table, rows: Sequence[Row]) -> None:
    """Insert rows, or replace those with the same primary key."""
    _run(connection, table, rows, "replace")


def insert_new_rows(connection: Connection, table: Table, rows: Sequence[Row]) -> None:
    """Insert rows, leaving those whose key is there already."""
    _run(connection, table, rows, "leave")


def delete_where(
    connection: Connection, table: Table, wanted: ColumnElement[Any], ids: Iterable[str]
) -> None:
    """Delete the rows whose column is one of the ids."""
    if listed := list(ids):
        connection.execute(table.delete().where(among(connection, wanted, listed)))


def _run(connection: Connection, table: Table, rows: Sequence[Row], conflict: str) -> None:
    """Hand rows to the driver as they are: binding each by name costs more than storing it."""
    if not rows:
        return
    if connection.dialect.name == "sqlite":
        whole = len(rows) - len(rows) % AT_ONCE
        for at in range(0, whole, AT_ONCE):
            values = tuple(chain.from_iterable(rows[at : at + AT_ONCE]))
            connection.exec_driver_sql(_statement_for_many(table, conflict), values)
        if left := [*map(tuple, rows[whole:])]:
            one_or_more: Any = left[0] if len(left) == 1 else left
            connection.exec_driver_sql(_statement("sqlite", table, conflict), one_or_more)
        return
    names = table.c.keys()
    named = [dict(zip(names, row, strict=True)) for row in rows]
    connection.exec_driver_sql(_statement("postgresql", table, conflict), named)


@lru_cache
def _statement_for_many(table: Table, conflict: str) -> str:
    """Return SQLite's statement for `AT_ONCE` rows: to run it anew for each costs a tenth more."""
    one = f"({', '.join('?' * len(table.c))})"
    before, values, after = _statement("sqlite", table, conflict).partition(one)
    assert values == one, before
    return f"{before}{', '.join([one] * AT_ONCE)}{after}"


@lru_cache
def _statement(database: str, table: Table, conflict: str) -> str:
    if database == "sqlite":
        insert: Any = insert_sqlite(table)
        dialect: Any = _dialect(sqlite, "qmark")
    else:
        insert, dialect = insert_postgresql(table), _dialect(postgresql, "pyformat")
    insert = insert.values({name: bindparam(name) for name in table.c.keys()})  # noqa: SIM118
    return str(_on_conflict(insert, table, conflict).compile(dialect=dialect))


def _dialect(database: Any, paramstyle: str) -> Any:
    return database.dialect(paramstyle=paramstyle)


def _on_conflict(insert: Any, table: Table, conflict: str) -> Any:
    if not conflict:
        return insert
    key = [one.name for one in table.primary_key]
    changed = {one.name: insert.excluded[one.name] for one in table.c if one.name not in key}
    if conflict == "leave" or not changed:
        return insert.on_conflict_do_nothing()
    return insert.on_conflict_do_update(index_elements=key, set_=changed)
