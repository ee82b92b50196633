"""Statements over many ids at once, the same for both databases."""

from collections.abc import Collection, Iterable
from typing import Any

import orjson
from sqlalchemy import (
    ARRAY,
    ColumnElement,
    Connection,
    Table,
    Text,
    any_,
    bindparam,
    column,
    func,
    select,
)
from sqlalchemy.dialects.postgresql import insert as insert_postgresql
from sqlalchemy.dialects.sqlite import insert as insert_sqlite


def among(connection: Connection, wanted: ColumnElement[Any], ids: Collection[str]) -> Any:
    """Return the condition that a column is one of the ids, as one parameter however many."""
    if connection.dialect.name == "sqlite":
        text = bindparam(None, orjson.dumps(list(ids)).decode(), Text, unique=True)
        listed = func.json_each(text).table_valued(column("value", Text))
        return wanted.in_(select(listed.c.value))
    return wanted == any_(bindparam(None, list(ids), ARRAY(Text), unique=True))


def upsert(connection: Connection, table: Table, rows: list[dict[str, Any]]) -> None:
    """Insert rows, or replace those with the same primary key."""
    if not rows:
        return
    key = [one.name for one in table.primary_key]
    insert = _insert(connection)(table)
    changed = {one.name: insert.excluded[one.name] for one in table.c if one.name not in key}
    if changed:
        statement = insert.on_conflict_do_update(index_elements=key, set_=changed)
    else:
        statement = insert.on_conflict_do_nothing()
    connection.execute(statement, rows)


def insert_new(connection: Connection, table: Table, rows: list[dict[str, Any]]) -> None:
    """Insert rows, leaving those whose key is there already."""
    if rows:
        connection.execute(_insert(connection)(table).on_conflict_do_nothing(), rows)


def delete_where(
    connection: Connection, table: Table, wanted: ColumnElement[Any], ids: Iterable[str]
) -> None:
    """Delete the rows whose column is one of the ids."""
    if listed := list(ids):
        connection.execute(table.delete().where(among(connection, wanted, listed)))


def _insert(connection: Connection) -> Any:
    return insert_sqlite if connection.dialect.name == "sqlite" else insert_postgresql
