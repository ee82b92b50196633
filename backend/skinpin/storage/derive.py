"""Takes entries in and keeps everything derived up with them, in one transaction."""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence

from skinpin_sync.entry import Entry
from sqlalchemy import Connection, select

from skinpin.domain.fields import is_judged
from skinpin.domain.ledger import Change, Key, settle
from skinpin.domain.verdicts import Verdict, act_of, unreached
from skinpin.storage.documents import Documents
from skinpin.storage.files_named import NamedFiles
from skinpin.storage.links import keep_links
from skinpin.storage.log import Arrival, ahead_marked, append, change_verdicts, root_id
from skinpin.storage.many import insert_new_rows, rows_among
from skinpin.storage.relations import Batch
from skinpin.storage.rows import keep_rows
from skinpin.storage.shelf import REFUSED, LogShelf, Rules, keep_named
from skinpin.storage.standings import counting, keep_standings, records_awaiting
from skinpin.storage.tables import entry, withdrawn_act

Store = Callable[[Mapping[str, Verdict]], None]


def take_in(
    connection: Connection,
    arrivals: Sequence[Arrival],
    files: NamedFiles,
    now_ms: int,
    refused_writers: Collection[str] = (),
) -> None:
    """Store new lines and derive what follows from them.

    `refused_writers` are those of whom a line was just refused: an act may be broken by it.
    """
    arrivals = ahead_marked(arrivals, now_ms)

    def store(verdicts: Mapping[str, Verdict]) -> None:
        append(connection, arrivals, verdicts, now_ms)

    again = [REFUSED + writer for writer in refused_writers]
    if arrivals or again:
        _derive(connection, arrivals, files, store, again)


def derive_again(connection: Connection, arrivals: Sequence[Arrival], files: NamedFiles) -> None:
    """Derive what follows from lines that are stored already, as when all is rebuilt."""

    def store(verdicts: Mapping[str, Verdict]) -> None:
        change_verdicts(connection, verdicts)

    _derive(connection, arrivals, files, store, ())


def file_came(connection: Connection, sha256: str, files: NamedFiles, seq: int) -> None:
    """Judge again what waited for a file, and make the rows anew that it changes."""
    nothing: Sequence[Arrival] = []
    _derive(connection, nothing, files, lambda verdicts: None, [sha256], seq)


def _derive(
    connection: Connection,
    arrivals: Sequence[Arrival],
    files: NamedFiles,
    store: Store,
    again: Collection[str],
    seq: int | None = None,
) -> None:
    entries = [one.entry for one in arrivals]
    before_seq = arrivals[0].seq - 1 if arrivals else seq or _last_seq(connection)
    shelf = LogShelf(connection, before_seq)
    rules = Rules(shelf, arrivals, root_id(connection, before_seq), files.grade_of)
    changes = settle(entries, shelf, rules.known(), again) if _asks(shelf, entries, again) else {}
    new = {id: one.now for id, one in changes.items() if one.before is None}
    store(new)
    shelf = LogShelf(connection, arrivals[-1].seq if arrivals else before_seq)
    old = [one for one in changes.values() if one.before is not None]
    change_verdicts(connection, {one.entry.id: one.now for one in old})
    keep_named(
        connection,
        [(one.entry, one.now) for one in changes.values()],
        [one.entry.id for one in old],
    )
    flipped = _keep_withdrawn(connection, shelf, changes.values())
    unsure = {one.entry.record for one in old}
    unsure |= {one.record for act in shelf.acts(flipped).values() for one in act}
    unsure |= records_awaiting(connection, [one.id for one in entries])
    withdrawn = _withdrawn_among(connection, {act_of(one) for one in entries})
    now, before = keep_standings(connection, shelf, entries, counting(new, withdrawn), unsure)
    touched = keep_links(connection, now, before)
    fresh = {one.record for one in now if one.record not in before}
    came_ms = {one.entry.id: one.came_ms for one in arrivals if one.came_ms is not None}
    batch = Batch(entries, new, withdrawn, fresh, came_ms)
    keep_rows(connection, shelf, now, touched, batch, Documents(files), again)


def _asks(shelf: LogShelf, entries: Sequence[Entry], again: Collection[str]) -> bool:
    """Say whether anything is to be judged: a batch of mere captures seldom asks for it."""
    if again or any(map(is_judged, entries)):
        return True
    devices = {one.device for one in entries}
    ids = {one.id for one in entries} | set(map(unreached, devices))
    return shelf.is_touched(ids, {one.act.id for one in entries}, devices)


def _last_seq(connection: Connection) -> int:
    return connection.scalar(select(entry.c.seq).order_by(entry.c.seq.desc()).limit(1)) or 0


def _keep_withdrawn(connection: Connection, shelf: LogShelf, changes: Iterable[Change]) -> set[Key]:
    """Keep which acts are undone and return those for which it may have changed."""
    asked = set()
    for one in changes:
        before = one.before.withdraws if one.before else None
        if before != one.now.withdraws:
            writer = act_of(one.entry)[0]
            asked |= {(writer, act) for act in (before, one.now.withdraws) if act}
    for key in asked:
        _keep_one_withdrawn(connection, shelf, key)
    return asked


def _keep_one_withdrawn(connection: Connection, shelf: LogShelf, key: Key) -> None:
    writer, act = key
    is_key = (withdrawn_act.c.writer == writer) & (withdrawn_act.c.act == act)
    connection.execute(withdrawn_act.delete().where(is_key))
    ids = [one.id for one in shelf.acts([key]).get(key, ())]
    undoing = shelf.load([one.id for one in shelf.indexed(ids)])
    pairs = [pair for pair in undoing.values() if pair]
    if any(act_of(one)[0] == writer and verdict.withdraws == act for one, verdict in pairs):
        insert_new_rows(connection, withdrawn_act, [key])


_WITHDRAWN = select(withdrawn_act.c.writer, withdrawn_act.c.act)


def _withdrawn_among(connection: Connection, keys: Collection[Key]) -> set[Key]:
    acts = {act for _, act in keys}
    found = rows_among(connection, _WITHDRAWN, withdrawn_act.c.act, acts)
    return {(writer, act) for writer, act in found} & set(keys)
