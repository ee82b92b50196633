"""Entries coming in: pushed by devices, or written by this server for a person."""

from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from itertools import count
from typing import Any

import orjson
from skinpin_sync.canonical import MAX_INTEGER, Codec, RefusedLine
from skinpin_sync.chain import Chain, Draft, write_act
from skinpin_sync.clock import (
    MAX_AHEAD_MS,
    Clock,
    decode,
    is_ahead,
    new_clock,
    new_writer,
    receive,
)
from skinpin_sync.entry import MAX_ACT, Entry
from skinpin_sync.exchange import Read, Result, judge, read_lines, refused_link
from sqlalchemy import Connection

from skinpin.domain.errors import Refused
from skinpin.services.workday import wall_time, workshop_zone
from skinpin.services.workshop import Workshop
from skinpin.storage.derive import take_in
from skinpin.storage.log import (
    Arrival,
    BookRow,
    Turned,
    find_book,
    held_lines,
    keep_refused,
    last_of_server,
    latest_id,
    lock_book,
)

MAX_BODY_BYTES = 8 * 1024 * 1024
SCHEMA = 1
SERVER = "server"


def fast_encode(value: Any) -> bytes:
    """Return the canonical bytes of a parsed line; equal to sync's own, and faster."""
    return orjson.dumps(value, option=orjson.OPT_SORT_KEYS)


FAST = Codec(fast_encode, orjson.loads)


def push(workshop: Workshop, book: str, body: bytes) -> dict[str, Any]:
    """Store the lines of a body in one transaction and answer each of them."""
    try:
        reads = read_lines(body, FAST)
    except RefusedLine as refused:
        raise Refused(refused.code, refused.message, refused.hint) from refused
    now_ms = workshop.now_ms()
    with workshop.writing() as connection:
        row = lock_book(connection)
        check_book(row, book)
        held = held_lines(connection, [one.entry.id for one in reads if one.entry])
        results = judge(reads, {id: sha256 for id, (_, sha256) in held.items()})
        arrivals = _arrivals(reads, results, row.seq)
        turned = _turned(reads, results)
        keep_refused(connection, turned, now_ms)
        writers = {one.id[-8:] for one in turned}
        take_in(connection, arrivals, workshop.files, now_ms, writers)
        seqs = {id: seq for id, (seq, _) in held.items()}
        seqs.update((one.entry.id, one.seq) for one in arrivals)
        now = row._replace(seq=row.seq + len(arrivals))
        # What is left to do waits for no disk: another thread does it beside the commit.
        answering = _BESIDE.submit(_answer_all, now, results, seqs, now_ms)
        _BESIDE.submit(_let_go, reads, arrivals)
    return answering.result()


_BESIDE = ThreadPoolExecutor(1, "beside the commit")


def _answer_all(
    row: BookRow, results: Sequence[Result], seqs: Mapping[str, int], now_ms: int
) -> dict[str, Any]:
    ahead = f"{now_ms + MAX_AHEAD_MS:013d}"
    return {
        "book": row.id,
        "epoch": row.epoch,
        "seq": row.seq,
        "server_time": now_ms,
        "results": [_answer(one, seqs, ahead) for one in results],
    }


def _let_go(*some: list[Any]) -> None:
    """Free the objects of a batch, which takes a twentieth of its time."""
    for one in some:
        one.clear()


def need_book(connection: Connection) -> BookRow:
    """Return the book, or refuse while there is none."""
    row = find_book(connection)
    if row is None:
        raise Refused("no_book", "There is no book here yet.", "Set it up on the first screen.")
    return row


def check_book(row: BookRow, book: str) -> None:
    """Refuse a device that holds another book."""
    if row.id != book:
        raise Refused(
            "another_book",
            "This tablet holds another book.",
            f"The server has book {row.id}, the tablet {book[:64] or 'none'}. Enrol it here anew.",
        )


def write_act_here(
    workshop: Workshop, connection: Connection, by: str, drafts: Sequence[Draft]
) -> list[Entry]:
    """Write an act for a person at the server itself, inside a write transaction."""
    row, now_ms = lock_book(connection), workshop.now_ms()
    chain = _server_chain(workshop, connection, now_ms)
    wall = wall_time(now_ms, workshop_zone(connection))
    act = workshop.new_id()
    try:
        _, written = write_act(
            chain, now_ms, drafts, act=act, by=by, device=SERVER, wall=wall, schema=SCHEMA
        )
    except RefusedLine as refused:
        raise Refused(refused.code, refused.message, refused.hint) from refused
    body = b"".join(line + b"\n" for _, line in written)
    reads = read_lines(body, FAST)
    results = [Result(entry.id, "stored") for entry, _ in written]
    take_in(connection, _arrivals(reads, results, row.seq), workshop.files, now_ms)
    return [entry for entry, _ in written]


def _server_chain(workshop: Workshop, connection: Connection, now_ms: int) -> Chain:
    """Return where this server's own chain stands, its clock past all it has received.

    A writer whose clock or number ran away, by whatever was written in its name, is given up.
    """
    last = last_of_server(connection, workshop.writer)
    mine = last is not None and last.id.endswith(workshop.writer)
    if last and mine and (is_ahead(last.id, now_ms) or last.n + MAX_ACT > MAX_INTEGER):
        workshop.writer, mine = new_writer(workshop.random(8)), False
    clock: Clock = decode(last.id) if last and mine else new_clock(workshop.writer)
    limit = f"{now_ms + MAX_AHEAD_MS:013d}"
    latest = latest_id(connection, limit)
    if latest:
        clock = receive(clock, latest, now_ms)
    return Chain(clock, last.n if last and mine else 0, last.sha256 if last else None)


def _arrivals(reads: Sequence[Read], results: Sequence[Result], last_seq: int) -> list[Arrival]:
    seqs = count(last_seq + 1)
    return [
        Arrival(next(seqs), read.entry, read.line, read.sha256)
        for read, result in zip(reads, results, strict=True)
        if result.result == "stored" and read.entry
    ]


def _turned(reads: Sequence[Read], results: Sequence[Result]) -> list[Turned]:
    turned = []
    for read, result in zip(reads, results, strict=True):
        lost = refused_link(read) if result.result == "refused" else None
        if lost:
            turned.append(Turned(lost.id, lost.n, lost.sha256, result.code))
    return turned


def _answer(result: Result, seqs: Mapping[str, int], ahead: str) -> dict[str, Any]:
    if result.result == "refused":
        reason = {"code": result.code, "reason": result.reason}
        return {"id": result.id, "result": "refused", **reason}
    id = result.id
    assert id is not None
    answer: dict[str, Any] = {"id": id, "result": result.result, "seq": seqs[id]}
    if id > ahead and id[:13] > ahead:
        answer["ahead"] = True
    return answer
