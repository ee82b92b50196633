"""Exchange, the server's half: lines that come, pages that go; nothing here sends.

PROTOCOL.md has the messages; the client's half is typescript/exchange.ts.
"""

import json
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, NamedTuple

from .canonical import MAX_INTEGER, PLAIN, Codec, RefusedLine, canonical, not_canonical, sha256_hex
from .chain import Link
from .clock import ID_PATTERN
from .entry import Entry, from_line


class Cursor(NamedTuple):
    """How far a client has fetched: the epoch, a seq and the id of the entry there."""

    epoch: str
    seq: int
    at: str


class Read(NamedTuple):
    """A line as it came: its entry, or why it is refused."""

    line: bytes
    sha256: str
    entry: Entry | None
    refusal: RefusedLine | None


class Result(NamedTuple):
    """What becomes of a line: stored, duplicate or refused."""

    id: str | None
    result: str
    code: str = ""
    reason: str = ""


def page_length(acts: Sequence[str], limit: int) -> int:
    """Return how many of the rows, given by their acts, make a page that splits no act."""
    count = min(limit, len(acts))
    while 0 < count < len(acts) and acts[count] == acts[count - 1]:
        count += 1
    return count


def read_lines(body: bytes, codec: Codec = PLAIN) -> list[Read]:
    """Return the lines of a body; a body that does not end with a line end is cut short."""
    if body and not body.endswith(b"\n"):
        raise RefusedLine(
            "cut_short", "The last line has no line end; it was cut short.", "Send it again."
        )
    return [_read(line, codec) for line in body.split(b"\n")[:-1]]


def _read(line: bytes, codec: Codec) -> Read:
    try:
        return Read(line, sha256_hex(line), from_line(line, codec), None)
    except RefusedLine as refusal:
        return Read(line, sha256_hex(line), None, refusal)


def judge(reads: Iterable[Read], held: Mapping[str, str]) -> list[Result]:
    """Return what becomes of each line; `held` is the SHA-256 of the ids already stored."""
    known = dict(held)
    return [_judge_one(read, known) for read in reads]


def _judge_one(read: Read, known: dict[str, str]) -> Result:
    if read.entry is None:
        lost = refused_link(read)
        refusal = read.refusal or not_canonical("The line could not be read.")
        return Result(lost.id if lost else None, "refused", refusal.code, refusal.message)
    id = read.entry.id
    if id not in known:
        known[id] = read.sha256
        return Result(id, "stored")
    if known[id] == read.sha256:
        return Result(id, "duplicate")
    reason = f"Entry {id} is here with other bytes; the first was kept, this one was not."
    return Result(id, "refused", "other_bytes", reason)


def refused_link(read: Read) -> Link | None:
    """Return what a chain check can use of a refused line, if its id and number can be read."""
    try:
        value = json.loads(read.line)
        id, n = value["id"], value["n"]
    except (ValueError, TypeError, KeyError, RecursionError):
        return None
    if not isinstance(id, str) or not ID_PATTERN.fullmatch(id) or type(n) is not int:
        return None
    return Link(id, n, None, read.sha256) if 1 <= n <= MAX_INTEGER else None


def to_page(head: Mapping[str, Any], lines: Sequence[bytes]) -> bytes:
    """Return the body of a page or stick file: the head with the count of lines, and the lines."""
    return b"\n".join([canonical({**head, "count": len(lines)}), *lines, b""])


def cursor_verdict(epoch: str, id_at_after: str | None, query: Cursor) -> str:
    """Return what the server answers a cursor: page, older_epoch or new_epoch."""
    if query.epoch != epoch and (query.epoch or query.seq):
        return "older_epoch"
    return "page" if query.seq == 0 or query.at == id_at_after else "new_epoch"
