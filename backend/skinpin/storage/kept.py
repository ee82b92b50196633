"""What a book can't be rebuilt without: the log and what proves people and devices, as rows.

The same rows go into a backup and over to another database; everything else is derived anew.
"""

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, NamedTuple

import orjson
from sqlalchemy import Column, Connection, Table, func, select

from skinpin.storage.many import insert_rows
from skinpin.storage.tables import (
    book,
    device,
    entry,
    person_secret,
    photograph_file,
    record,
    refused_entry,
)

KEPT: Mapping[str, Table] = {
    str(one.name): one
    for one in (book, entry, refused_entry, photograph_file, device, person_secret)
}
BLANK = {"entry": {"verdict": "", "code": ""}, "book": {"rules": ""}}
"""Columns of kept tables that are derived: they are left empty and filled by a rebuild."""

BATCH = 1000


class Counted(NamedTuple):
    """How much there is of a table, and the SHA-256 of its lines."""

    rows: int
    sha256: str


def rows_of(connection: Connection, table: Table) -> Iterator[dict[str, Any]]:
    """Return the rows of a kept table in the order of its key, what is derived left empty."""
    blank = BLANK.get(table.name, {})
    asked = select(table).order_by(*table.primary_key.columns)
    result = connection.execute(asked, execution_options={"yield_per": BATCH})
    for row in result.mappings():
        yield {**row, **blank}


def put_rows(connection: Connection, table: Table, rows: Iterable[Mapping[str, Any]]) -> int:
    """Insert rows of a kept table and return how many.

    A column younger than the rows is left empty.
    """
    empty = {one.name: _empty(one) for one in table.columns}
    count = 0
    for part in _parts(rows):
        whole = [{**empty, **row} for row in part]
        insert_rows(connection, table, [[row[name] for name in empty] for row in whole])
        count += len(part)
    return count


def _empty(one: Column[Any]) -> Any:
    return None if one.nullable else one.type.python_type()


def line_of(row: Mapping[str, Any]) -> bytes:
    """Return a row as one line of JSON."""
    return orjson.dumps(dict(row), option=orjson.OPT_SORT_KEYS) + b"\n"


def standing_digest(connection: Connection) -> Counted:
    """Return how many records there are, and one SHA-256 over what stands of all of them."""
    digest, count = hashlib.sha256(), 0
    asked = select(record.c.record, record.c.kind, record.c.standing).order_by(record.c.record)
    for row in connection.execute(asked, execution_options={"yield_per": BATCH}):
        standing = orjson.dumps(orjson.loads(row.standing), option=orjson.OPT_SORT_KEYS)
        digest.update(b"\t".join((row.record.encode(), row.kind.encode(), standing)) + b"\n")
        count += 1
    return Counted(count, digest.hexdigest())


def count_kinds(connection: Connection) -> dict[str, int]:
    """Return how many records there are of each kind, by kind."""
    asked = select(record.c.kind, func.count()).group_by(record.c.kind).order_by(record.c.kind)
    return {str(kind): int(count) for kind, count in connection.execute(asked)}


def count_rows(connection: Connection, table: Table) -> int:
    """Return how many rows a table has."""
    return connection.scalar(select(func.count()).select_from(table)) or 0


def _parts(rows: Iterable[Mapping[str, Any]]) -> Iterator[list[Mapping[str, Any]]]:
    part: list[Mapping[str, Any]] = []
    for row in rows:
        part.append(row)
        if len(part) == BATCH:
            yield part
            part = []
    if part:
        yield part
