"""The log: entries as they came, in the order in which this server took them."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import Any, NamedTuple

import orjson
from skinpin_sync.clock import MAX_AHEAD_MS
from skinpin_sync.entry import Entry
from skinpin_sync.exchange import Cursor, cursor_verdict, page_length
from sqlalchemy import Connection, bindparam, func, insert, select, update

from skinpin.domain.errors import Refused
from skinpin.domain.verdicts import Verdict
from skinpin.storage.many import insert_new_rows, insert_rows, rows_among
from skinpin.storage.tables import book, entry, refused_entry
from skinpin.storage.verdicts import write_verdict

PAGE_MARGIN = 100


class BookRow(NamedTuple):
    """The book and where it stands; `rules` names the code its derived tables were made by."""

    id: str
    epoch: str
    seq: int
    rules: str


class Page(NamedTuple):
    """A page of the log: its head without server time, and its lines."""

    head: dict[str, Any]
    lines: list[bytes]


def find_book(connection: Connection) -> BookRow | None:
    """Return the book, if one was created here."""
    row = connection.execute(select(book.c.id, book.c.epoch, book.c.seq, book.c.rules)).first()
    return BookRow(*row) if row else None


def create_book(connection: Connection, id: str, epoch: str, rules: str) -> None:
    """Create the book; a second one is refused by its key."""
    connection.execute(insert(book).values(key=1, id=id, epoch=epoch, seq=0, rules=rules))


_LOCKED = (
    update(book).values(seq=book.c.seq).returning(book.c.id, book.c.epoch, book.c.seq, book.c.rules)
)


def lock_book(connection: Connection) -> BookRow:
    """Return the book and hold it until the end of the transaction: pushes go one by one."""
    row = connection.execute(_LOCKED).first()
    if row is None:
        raise Refused("no_book", "There is no book here yet.", "Set it up on the first screen.")
    return BookRow(*row)


def set_epoch(connection: Connection, epoch: str, drawn_ms: int | None = None) -> None:
    """Give the book a new epoch; `drawn_ms` is when, if a device's cursor was the reason."""
    drawn = {} if drawn_ms is None else {"epoch_drawn_ms": drawn_ms}
    connection.execute(update(book).values(epoch=epoch, **drawn))


def epoch_drawn_ms(connection: Connection) -> int | None:
    """Return when a device's cursor was last the reason for a new epoch."""
    found: int | None = connection.scalar(select(book.c.epoch_drawn_ms))
    return found


def set_rules(connection: Connection, rules: str) -> None:
    """Note by which code the derived tables were made."""
    connection.execute(update(book).values(rules=rules))


_HELD = select(entry.c.id, entry.c.seq, entry.c.sha256)


def held_lines(connection: Connection, ids: Collection[str]) -> dict[str, tuple[int, str]]:
    """Return seq and SHA-256 of those ids that are in the log."""
    found = rows_among(connection, _HELD, entry.c.id, ids)
    return {id: (seq, sha256) for id, seq, sha256 in found}


class Arrival(NamedTuple):
    """A line that is new here, under the seq it gets.

    `came_ms` is when it came, of one stamped too far ahead to be believed.
    """

    seq: int
    entry: Entry
    line: bytes
    sha256: str
    came_ms: int | None = None


def ahead_marked(arrivals: Iterable[Arrival], now_ms: int) -> list[Arrival]:
    """Return arrivals, with the time noted on those that are stamped too far ahead."""
    ahead = f"{now_ms + MAX_AHEAD_MS:013d}"
    if all(one.entry.id < ahead for one in arrivals):
        return list(arrivals)
    return [one._replace(came_ms=now_ms) if one.entry.id[:13] > ahead else one for one in arrivals]


def append(
    connection: Connection,
    arrivals: Sequence[Arrival],
    verdicts: Mapping[str, Verdict],
    now_ms: int,
) -> None:
    """Store new lines with their verdicts and move the counter on."""
    if arrivals:
        rows = [_row(one, verdicts.get(one.entry.id), now_ms) for one in arrivals]
        insert_rows(connection, entry, rows)
        connection.execute(update(book).values(seq=arrivals[-1].seq))


def change_verdicts(connection: Connection, verdicts: Mapping[str, Verdict]) -> None:
    """Replace the verdicts of stored entries."""
    rows = [
        {"of": id, "verdict": write_verdict(verdict), "code": verdict.code}
        for id, verdict in verdicts.items()
    ]
    if rows:
        connection.execute(update(entry).where(entry.c.id == bindparam("of")), rows)


def _row(arrival: Arrival, verdict: Verdict | None, now_ms: int) -> tuple[Any, ...]:
    """Return an entry's row, its values in the order of the table's columns."""
    seq, one, line, sha256, came_ms = arrival
    return (
        *(seq, one.id, one.id[-8:], one.n, one.act.id, one.record, one.kind, one.device),
        *(line.decode(), sha256, now_ms, came_ms is not None),
        *((write_verdict(verdict), verdict.code) if verdict else ("", "")),
    )


class Turned(NamedTuple):
    """A line turned away whose id could be read."""

    id: str
    n: int
    sha256: str
    code: str


def keep_refused(connection: Connection, turned: Iterable[Turned], now_ms: int) -> None:
    """Keep of refused lines what chains are checked by."""
    rows = [(one.id, one.sha256, one.id[-8:], one.n, one.code, now_ms) for one in turned]
    insert_new_rows(connection, refused_entry, rows)


def id_at(connection: Connection, seq: int) -> str | None:
    """Return the id of the entry at a seq."""
    return connection.scalar(select(entry.c.id).where(entry.c.seq == seq))


def ids_upto(connection: Connection, seq: int) -> list[str]:
    """Return the ids of the entries up to a seq, sorted."""
    return sorted(connection.scalars(select(entry.c.id).where(entry.c.seq <= seq)))


def verdict_on(connection: Connection, row: BookRow, cursor: Cursor) -> str:
    """Say what a fetch with this cursor gets: page, older_epoch or new_epoch."""
    return cursor_verdict(row.epoch, id_at(connection, cursor.seq), cursor)


def page(connection: Connection, row: BookRow, after: Cursor, limit: int) -> Page:
    """Return the lines after a cursor; an act stored together is not split."""
    rows = _rows_after(connection, after.seq, limit + PAGE_MARGIN)
    count = page_length([one.act for one in rows], limit)
    while count == len(rows) and len(rows) == limit + PAGE_MARGIN:
        limit += PAGE_MARGIN
        rows = _rows_after(connection, after.seq, limit + PAGE_MARGIN)
        count = page_length([one.act for one in rows], limit)
    taken = rows[:count]
    ahead = {one.id: one.received_at_ms for one in taken if one.ahead}
    to, at = (taken[-1].seq, taken[-1].id) if taken else (after.seq, after.at)
    head = _head(row, count=count, to=to, at=at) | ({"ahead": ahead} if ahead else {})
    return Page(head, [one.line.encode() for one in taken])


def no_page(row: BookRow) -> Page:
    """Return the answer to a cursor of another epoch: begin again."""
    return Page(_head(row, count=0, to=0, at=""), [])


def _head(row: BookRow, *, count: int, to: int, at: str) -> dict[str, Any]:
    head = {"book": row.id, "epoch": row.epoch, "seq": row.seq}
    return {**head, "count": count, "to": to, "at": at}


def _rows_after(connection: Connection, seq: int, limit: int) -> Sequence[Any]:
    columns = (entry.c.seq, entry.c.id, entry.c.act, entry.c.line, entry.c.ahead)
    asked = select(*columns, entry.c.received_at_ms).where(entry.c.seq > seq)
    return connection.execute(asked.order_by(entry.c.seq).limit(limit)).all()


class LastEntry(NamedTuple):
    """The end of a chain."""

    id: str
    n: int
    sha256: str


def last_of_server(connection: Connection, writer: str) -> LastEntry | None:
    """Return the last entry of the server's present writer, or of those before it."""
    columns = select(entry.c.id, entry.c.n, entry.c.sha256).where(entry.c.device == "server")
    latest = columns.order_by(entry.c.seq.desc()).limit(1)
    mine = connection.execute(latest.where(entry.c.writer == writer)).first()
    row = mine or connection.execute(latest).first()
    return LastEntry(*row) if row else None


def open_ends(connection: Connection) -> list[str]:
    """Return the last ids of the chains of all devices, of forks and before gaps too.

    A device enrolled again goes on with its chain under another name: each name has its end.
    """
    following = func.lead(entry.c.n).over(partition_by=entry.c.writer, order_by=entry.c.n)
    columns = (entry.c.id, entry.c.n, entry.c.sha256, entry.c.device, following.label("next_n"))
    each = select(*columns).subquery()
    is_last = each.c.next_n.is_(None) | (each.c.next_n != each.c.n + 1)
    asked = select(each.c.id, each.c.sha256, each.c.device).where(is_last).order_by(each.c.id)
    firsts = connection.execute(select(entry.c.line, entry.c.device).where(entry.c.n == 1))
    gone_on = {(orjson.loads(line).get("prev"), device) for line, device in firsts}
    found = connection.execute(asked)
    return [id for id, sha256, device in found if (sha256, device) not in gone_on]


def latest_id(connection: Connection, before: str) -> str | None:
    """Return the greatest id stamped before another."""
    asked = select(func.max(entry.c.id)).where(entry.c.id < before)
    found: str | None = connection.scalar(asked)
    return found


_OF_BOOK = (
    select(entry.c.id, entry.c.line)
    .where(entry.c.record == "book", entry.c.kind == "book", entry.c.seq <= bindparam("upto"))
    .order_by(entry.c.seq)
)


def root_id(connection: Connection, upto: int) -> str | None:
    """Return the id of the entry that created the book, among those up to a seq."""
    for id, line in connection.execute(_OF_BOOK, {"upto": upto}):
        if "seen" not in orjson.loads(line):
            return str(id)
    return None
