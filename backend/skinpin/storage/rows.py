"""Keeps the row of every defect up with what stands."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from typing import Any

import orjson
from sqlalchemy import Connection, select

from skinpin.domain.projection import defect_row
from skinpin.domain.projection_related import Related
from skinpin.domain.same_as import chain_lacks, other_of
from skinpin.storage.documents import Documents
from skinpin.storage.links import linked_to
from skinpin.storage.many import among, delete_where, insert_new_rows, upsert_rows
from skinpin.storage.numbers import keep_number_shared, numbers_borne
from skinpin.storage.records import StandingRecord, find_records
from skinpin.storage.relations import Batch, gather
from skinpin.storage.shelf import LogShelf
from skinpin.storage.tables import defect, missing_file

Row = dict[str, Any]


def keep_rows(
    connection: Connection,
    shelf: LogShelf,
    now: Collection[StandingRecord],
    touched: Collection[str],
    batch: Batch,
    documents: Documents,
    files: Collection[str],
) -> None:
    """Make the rows anew that changed records or files take part in.

    `touched` are records that changed ones name or named; `files` are those that came.
    """
    names = _touched(connection, now, touched, files)
    if not names:
        return
    defects = _standing(connection, now, names)
    related = gather(connection, shelf, defects, batch)
    documents.load(connection, defects.values())
    rows = {name: _row(defects[name], related[name], documents) for name in defects}
    # Only by mistake does a record change its kind; what was a defect's row then goes.
    gone = {one.record for one in now if one.kind != "defect"} - set(batch.fresh)
    old = (rows.keys() | gone) - set(batch.fresh)
    borne = numbers_borne(connection, old)
    delete_where(connection, defect, defect.c.record, gone)
    _follow_chains(connection, rows, defects, related, documents)
    keys = keep_number_shared(connection, rows, borne)
    _write(connection, rows, old, documents, keys)


def read_row(text: str) -> Row:
    """Return a row kept as JSON."""
    row: Row = orjson.loads(text)
    return row


def _touched(
    connection: Connection,
    now: Iterable[StandingRecord],
    touched: Collection[str],
    files: Collection[str],
) -> set[str]:
    """Return the defects whose rows may change: by themselves, or by what names them."""
    names = {one.record for one in now} | set(touched)
    # A mark names a photograph, and that the defect.
    photographs = find_records(connection, touched)
    named = {to for one in photographs.values() if one.kind == "photograph" for to in _named(one)}
    names |= named
    if "book" in names:  # its time zone makes the days
        names |= {name for (name,) in connection.execute(select(defect.c.record))}
    airframes = [one.record for one in now if one.kind == "airframe"]
    names |= _defects_of(connection, airframes)
    if files:
        lacking = select(missing_file.c.record).where(
            among(connection, missing_file.c.sha256, files)
        )
        names |= {name for (name,) in connection.execute(lacking)}
    return _with_chains(connection, names)


def _named(one: StandingRecord) -> set[str]:
    values = (fields.get("defect") for fields in one.standing.values.values())
    return {value for value in values if isinstance(value, str)}


def _defects_of(connection: Connection, airframes: Collection[str]) -> set[str]:
    if not airframes:
        return set()
    asked = select(defect.c.record).where(among(connection, defect.c.airframe, airframes))
    return {name for (name,) in connection.execute(asked)}


def _with_chains(connection: Connection, names: set[str]) -> set[str]:
    """Add the records that are the same as one of these, and so on."""
    found, new = set(names), set(names)
    while new:
        behind = linked_to(connection, new, ("same_as",))
        new = {one for some in behind.values() for one in some} - found
        found |= new
    return found


def _standing(
    connection: Connection, now: Iterable[StandingRecord], names: set[str]
) -> dict[str, StandingRecord]:
    here = {one.record: one for one in now}
    others = find_records(connection, names - here.keys())
    both = {**others, **here}
    return {name: both[name] for name in sorted(names & both.keys()) if both[name].kind == "defect"}


def _row(one: StandingRecord, related: Related, documents: Documents) -> Row:
    values = one.standing.values
    definition = documents.definition(one.record)
    standard = documents.standard(one.record, values, related.lines)
    return defect_row(one.record, one.standing, related, definition, standard)


def _follow_chains(
    connection: Connection,
    rows: dict[str, Row],
    defects: Mapping[str, StandingRecord],
    related: Mapping[str, Related],
    documents: Documents,
) -> None:
    """Make the rows anew that stand as *Same as*, with the chains they belong to."""
    aside = [name for name, row in rows.items() if row["own_state"] == "Same as"]
    if not aside:
        return
    others = {name: other_of(row) for name, row in rows.items()}
    absent: set[str] = set()
    while lacking := {one for name in aside for one in chain_lacks(name, others)} - absent:
        found = _stored_rows(connection, lacking)
        others |= {name: other_of(row) for name, row in found.items()}
        absent |= lacking - found.keys()
    for name in aside:
        chain = replace(related[name], others=others)
        rows[name] = _row(defects[name], chain, documents)


def _stored_rows(connection: Connection, names: Collection[str]) -> dict[str, Row]:
    asked = select(defect.c.record, defect.c.row).where(among(connection, defect.c.record, names))
    return {name: read_row(text) for name, text in connection.execute(asked)}


def _write(
    connection: Connection,
    rows: Mapping[str, Row],
    old: Collection[str],
    documents: Documents,
    keys: Mapping[str, str],
) -> None:
    columns = [_columns(name, row, keys.get(name)) for name, row in rows.items()]
    upsert_rows(connection, defect, columns)
    delete_where(connection, missing_file, missing_file.c.record, old)
    insert_new_rows(connection, missing_file, documents.missing)


def _columns(name: str, row: Row, number: str | None) -> tuple[Any, ...]:
    return (
        name,
        _text(row["airframe"]),
        number,
        _text(row["state"]),
        row["grade"],
        _text(row["zone"]),
        _text(row["kind"]),
        _text(row["stage"]),
        orjson.dumps(row).decode(),
    )


def _text(value: Any) -> str | None:
    """Return a value as a column holds it: a database takes no text with a zero character."""
    if not isinstance(value, str):
        return None
    return value.replace("\0", "") if "\0" in value else value
