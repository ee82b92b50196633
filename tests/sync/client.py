"""The client's half of the exchange, for a workshop in memory: held to the vectors of both."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, NamedTuple

from skinpin_sync.canonical import RefusedLine, parse
from skinpin_sync.exchange import Cursor

MAX_BATCH = 500
MAX_BATCH_BYTES = 2**20
MAX_EPOCHS = 3


class Outbox(NamedTuple):
    """What a client remembers of the server.

    `sent` holds what the server stored beyond the cursor: an id that no page brings back went
    missing there and is sent again. `refused` holds {code, reason} by id.
    """

    book: str
    cursor: Cursor = Cursor("", 0, "")
    unsent: tuple[str, ...] = ()
    sent: tuple[str, ...] = ()
    refused: Mapping[str, Mapping[str, str]] = {}
    ask_files: bool = False


class Held(NamedTuple):
    """An entry a client holds, as far as a batch must know it."""

    id: str
    act: str
    size_bytes: int


class Mark(NamedTuple):
    """What a round must change, or the run ends."""

    cursor: Cursor
    unsent: int
    sent: int
    ask_files: bool


def by_act(acts: Iterable[str]) -> list[list[int]]:
    """Return the places of each act's entries, acts in the order of their first entry."""
    places: dict[str, list[int]] = {}
    for place, act in enumerate(acts):
        places.setdefault(act, []).append(place)
    return list(places.values())


def batches(
    held: Sequence[Held], max_entries: int = MAX_BATCH, max_bytes: int = MAX_BATCH_BYTES
) -> list[list[str]]:
    """Return the ids in batches to send; an act is never split, so a batch may be longer."""
    found: list[list[str]] = []
    entries, size_bytes = max_entries, 0
    for places in by_act(one.act for one in held):
        act_bytes = sum(held[place].size_bytes + 1 for place in places)
        if entries + len(places) > max_entries or size_bytes + act_bytes > max_bytes:
            found.append([])
            entries = size_bytes = 0
        found[-1] += [held[place].id for place in places]
        entries, size_bytes = entries + len(places), size_bytes + act_bytes
    return found


def from_page(body: bytes) -> tuple[dict[str, Any], list[bytes]]:
    """Return the head and the lines of a page; one that was cut short is refused whole."""
    first, *lines = body.split(b"\n")
    head = parse(first) if lines else None
    if not isinstance(head, dict) or head.get("count") != len(lines) - 1 or lines[-1]:
        raise RefusedLine(
            "cut_short", "The page has more or fewer lines than it says.", "Fetch it again."
        )
    return head, lines[:-1]


def head_verdict(outbox: Outbox, head: Mapping[str, Any]) -> str:
    """Return what an answer asks of a client: go_on, another_book or new_epoch."""
    if head["book"] != outbox.book:
        return "another_book"
    return "go_on" if outbox.cursor.epoch in ("", head["epoch"]) else "new_epoch"


def new_epoch(outbox: Outbox, epoch: str, held: Iterable[str]) -> Outbox:
    """Return the outbox that offers everything held again, entries and files, from the start."""
    return Outbox(outbox.book, Cursor(epoch, 0, ""), tuple(held), ask_files=True)


def queue(outbox: Outbox, ids: Iterable[str]) -> Outbox:
    """Return the outbox with new entries to send."""
    return outbox._replace(unsent=tuple(dict.fromkeys((*outbox.unsent, *ids))))


def merge_answer(outbox: Outbox, sent_ids: Sequence[str], answer: Mapping[str, Any]) -> Outbox:
    """Return the outbox after the answer to a batch; its results stand in the order sent."""
    results = answer["results"]
    if len(results) != len(sent_ids):
        message = f"{len(sent_ids)} lines were sent and {len(results)} answered."
        raise RefusedLine("cut_short", message, "Send them again.")
    pairs = list(zip(sent_ids, results, strict=True))
    refused = {id: {"code": one["code"], "reason": one["reason"]}
               for id, one in pairs if one["result"] == "refused"}  # fmt: skip
    safe = {id: one["seq"] for id, one in pairs if one["result"] in ("stored", "duplicate")}
    beyond = (id for id, seq in safe.items() if seq > outbox.cursor.seq)
    return outbox._replace(
        cursor=outbox.cursor._replace(epoch=outbox.cursor.epoch or answer["epoch"]),
        unsent=tuple(id for id in outbox.unsent if id not in safe and id not in refused),
        sent=tuple(dict.fromkeys((*outbox.sent, *beyond))),
        refused={**outbox.refused, **refused},
    )


def take_page(outbox: Outbox, head: Mapping[str, Any], ids: Iterable[str]) -> Outbox:
    """Return the outbox after a page; `ids` are those of its lines that are held here as sent."""
    here = set(ids)
    sent = tuple(id for id in outbox.sent if id not in here)
    unsent = tuple(id for id in outbox.unsent if id not in here)
    if head["to"] >= head["seq"]:
        sent, unsent = (), tuple(dict.fromkeys((*unsent, *sent)))
    cursor = Cursor(head["epoch"], head["to"], head["at"])
    return outbox._replace(cursor=cursor, unsent=unsent, sent=sent)


def next_step(outbox: Outbox, server_seq: int | None) -> str:
    """Return what to do next: send, fetch, files or rest; the server's seq is None at the start."""
    if outbox.unsent:
        return "send"
    if server_seq != outbox.cursor.seq or outbox.sent:
        return "fetch"
    return "files" if outbox.ask_files else "rest"


def mark(outbox: Outbox) -> Mark:
    """Return what must change from round to round."""
    return Mark(outbox.cursor, len(outbox.unsent), len(outbox.sent), outbox.ask_files)


def stop_reason(marks: Sequence[Mark]) -> str | None:
    """Return why a run with work left must end, from the marks after each of its rounds."""
    if len(marks) > 1 and marks[-1] == marks[-2]:
        return (
            f"Two rounds changed nothing; {marks[-1].unsent} entries are unsent. Try again later."
        )
    epochs = len({one.cursor.epoch for one in marks} - {""})
    if epochs > MAX_EPOCHS:
        return f"The server began {epochs} epochs in one run. Check the server's disk and backup."
    return None
