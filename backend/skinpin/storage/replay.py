"""A book as it stood at a moment: the entries that had come by then, everything derived anew."""

from collections.abc import Iterator
from typing import Any

from sqlalchemy import Connection, func, select, update

from skinpin.storage.files_named import NamedFiles
from skinpin.storage.kept import put_rows, rows_of
from skinpin.storage.photographs import SHA256
from skinpin.storage.rebuild import rebuild
from skinpin.storage.tables import (
    book,
    entry,
    missing_file,
    named,
    photograph_file,
    refused_entry,
)


def replay(source: Connection, target: Connection, upto_ms: int, files: NamedFiles) -> int:
    """Fill an empty database with what a book had received by a moment; return its last seq."""
    last = 0

    def entries() -> Iterator[dict[str, Any]]:
        nonlocal last
        for row in rows_of(source, entry):
            if row["received_at_ms"] <= upto_ms:
                last = row["seq"]
                yield row

    put_rows(target, book, rows_of(source, book))
    put_rows(target, photograph_file, rows_of(source, photograph_file))
    refused = (row for row in rows_of(source, refused_entry) if row["received_at_ms"] <= upto_ms)
    put_rows(target, refused_entry, refused)
    put_rows(target, entry, entries())
    target.execute(update(book).values(seq=last))
    rebuild(target, files)
    return last


def position(source: Connection, upto_ms: int) -> tuple[Any, ...]:
    """Return what tells the replay up to a moment from that of another book or other entries.

    Files are not in it: photographs change nothing of it, what does is said by `lacking`.
    """
    came = entry.c.received_at_ms <= upto_ms
    turned = refused_entry.c.received_at_ms <= upto_ms
    asked = (
        select(book.c.id, book.c.epoch),
        select(func.max(entry.c.seq), func.count(), func.max(entry.c.id)).where(came),
        select(func.count()).select_from(refused_entry).where(turned),
    )
    return tuple(tuple(row) for one in asked for row in source.execute(one))


def lacking(replayed: Connection) -> frozenset[str]:
    """Return the definitions and standards a replay was made without: with one it is another."""
    here = set(replayed.scalars(select(photograph_file.c.sha256)))
    asked = set(replayed.scalars(select(missing_file.c.sha256).distinct()))
    asked |= {id for id in replayed.scalars(select(named.c.id).distinct()) if SHA256.fullmatch(id)}
    return frozenset(asked - here)
