"""The log as the ledger of verdicts asks it."""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from typing import Any, NamedTuple

import orjson
from skinpin_sync.chain import Link, reached
from skinpin_sync.entry import Entry, known_entry
from sqlalchemy import Connection, bindparam, select

from skinpin.domain.fields import is_judged
from skinpin.domain.ledger import Key
from skinpin.domain.verdicts import Known, Pair, Verdict, act_of, index_of
from skinpin.storage.log import Arrival
from skinpin.storage.many import among, delete_where, insert_new_rows, rows_among
from skinpin.storage.tables import entry, named, refused_entry, withdrawn_act
from skinpin.storage.verdicts import read_verdict

REFUSED = "refused:"
"""Begins what stands, among ids that came or changed, for a writer of whom a line was refused."""

Grade = Callable[[Mapping[str, Sequence[Any]], Sequence[Any]], int | None]
_WITHDRAWN = (withdrawn_act.c.act == entry.c.act) & (withdrawn_act.c.writer == entry.c.writer)
_KEPT = select(
    *(entry.c.line, entry.c.verdict, entry.c.ahead, entry.c.received_at_ms),
    withdrawn_act.c.act.is_not(None).label("withdrawn"),
)


_NAMED = select(named.c.id).limit(1)
_HERE = select(entry.c.id).where(entry.c.seq <= bindparam("upto")).limit(1)
_LEFT = _HERE.where(entry.c.code == "leaver")


def stored_entry(line: str) -> Entry:
    """Return the entry of a stored line, which was checked when it came."""
    return known_entry(orjson.loads(line))


class Kept(NamedTuple):
    """An entry with its verdict, and whether its act was undone.

    `came_ms` is when it came, of one stamped too far ahead to be believed.
    """

    entry: Entry
    verdict: Verdict
    withdrawn: bool
    came_ms: int | None = None


def came_ms_of(kept: Iterable[Kept]) -> dict[str, int]:
    """Return by id when those entries came that are stamped too far ahead."""
    return {one.entry.id: one.came_ms for one in kept if one.came_ms is not None}


def _kept(row: Any) -> Kept:
    came_ms = row.received_at_ms if row.ahead else None
    verdict = read_verdict(row.verdict)
    return Kept(stored_entry(row.line), verdict, bool(row.withdrawn), came_ms)


class LogShelf:
    """The stored log up to a seq; what was stored later is not there yet."""

    def __init__(self, connection: Connection, upto: int) -> None:
        self._connection, self._upto = connection, upto

    def kept(self, wanted: Any) -> list[Kept]:
        """Return the entries that meet a condition."""
        both = entry.outerjoin(withdrawn_act, _WITHDRAWN)
        asked = _KEPT.select_from(both).where(wanted, entry.c.seq <= self._upto)
        return [_kept(row) for row in self._connection.execute(asked)]

    def by_id(self, ids: Collection[str]) -> list[Kept]:
        """Return those of the entries that are here."""
        return self.kept(among(self._connection, entry.c.id, ids)) if ids else []

    def of_records(self, records: Collection[str]) -> list[Kept]:
        """Return all entries of records."""
        return self.kept(among(self._connection, entry.c.record, records)) if records else []

    def load(self, ids: Collection[str]) -> Mapping[str, Pair | None]:
        """Return entries by id, None where not here; of those that wait also their whole act."""
        found: dict[str, Pair | None] = dict.fromkeys(ids)
        here = self.by_id(ids)
        waiting = {act_of(one.entry) for one in here if one.verdict.plain == "waits"}
        for one in (*here, *self.kept_acts(waiting)):
            found[one.entry.id] = (one.entry, one.verdict)
        return found

    def acts(self, keys: Collection[Key]) -> Mapping[Key, Sequence[Entry]]:
        """Return the entries here of acts, by (writer, act id)."""
        found: dict[Key, list[Entry]] = {}
        for one in self.kept_acts(keys):
            found.setdefault(act_of(one.entry), []).append(one.entry)
        return found

    def kept_acts(self, keys: Collection[Key]) -> list[Kept]:
        """Return the entries here of acts."""
        if not keys:
            return []
        wanted = among(self._connection, entry.c.act, {act for _, act in keys})
        return [one for one in self.kept(wanted) if act_of(one.entry) in keys]

    def indexed(self, ids: Collection[str]) -> Collection[Entry]:
        """Return the judged entries that have one of the ids in their `index_of`."""
        if not ids:
            return []
        writers = {id.removeprefix(REFUSED) for id in ids if id.startswith(REFUSED)}
        broken = self._waiting_for_act(writers)
        asked = select(named.c.entry).where(among(self._connection, named.c.id, ids)).distinct()
        found = self.by_id([id for (id,) in self._connection.execute(asked)])
        return [*(one.entry for one in found), *broken]

    def person(self, person: str) -> Sequence[Pair]:
        """Return the judged entries of a person's record with their verdicts."""
        kept = self.kept((entry.c.record == person) & (entry.c.kind == "person"))
        return [(one.entry, one.verdict) for one in kept if is_judged(one.entry)]

    def held(self, devices: Collection[str]) -> Collection[Entry]:
        """Return the entries of devices that wait with the code `leaver`."""
        whose = among(self._connection, entry.c.device, devices)
        return [one.entry for one in self.kept((entry.c.code == "leaver") & whose)]

    def _waiting_for_act(self, writers: Collection[str]) -> list[Entry]:
        """Return the entries of writers that wait for the rest of their act."""
        if not writers:
            return []
        whose = among(self._connection, entry.c.writer, writers)
        return [one.entry for one in self.kept((entry.c.code == "act") & whose)]

    def is_touched(
        self, ids: Collection[str], acts: Collection[str], devices: Collection[str]
    ) -> bool:
        """Say whether entries with these ids, acts and devices change any verdict here."""
        connection, here = self._connection, {"upto": self._upto}
        return bool(
            rows_among(connection, _NAMED, named.c.id, ids)
            or rows_among(connection, _HERE, entry.c.act, acts, here)
            or rows_among(connection, _LEFT, entry.c.device, devices, here)
        )

    def links(self, devices: Collection[str]) -> list[Link]:
        """Return the chains of devices."""
        whose = among(self._connection, entry.c.device, devices)
        asked = select(entry.c.line, entry.c.sha256).where(whose, entry.c.seq <= self._upto)
        return [
            Link(value["id"], value["n"], value.get("prev"), sha256, value["device"])
            for line, sha256 in self._connection.execute(asked)
            for value in [orjson.loads(line)]
        ]

    def refused_numbers(self, writer: str) -> set[int]:
        """Return the numbers of a writer's entries that were refused at the door."""
        asked = select(refused_entry.c.n).where(refused_entry.c.writer == writer)
        return {n for (n,) in self._connection.execute(asked)}


def keep_named(
    connection: Connection, verdicts: Iterable[tuple[Entry, Verdict]], again: Collection[str]
) -> None:
    """Keep under which ids judged entries must be found; `again` are those kept before."""
    delete_where(connection, named, named.c.entry, again)
    rows = [(id, one.id) for one, verdict in verdicts for id in index_of(one, verdict)]
    insert_new_rows(connection, named, rows)


class Rules:
    """What judging may ask of this book beyond the entries."""

    def __init__(
        self, shelf: LogShelf, arrivals: Sequence[Arrival], root: str | None, grade_of: Grade
    ) -> None:
        self._shelf, self._root, self._grade_of = shelf, root, grade_of
        self._arrived = [
            Link(one.entry.id, one.entry.n, one.entry.prev, one.sha256, one.entry.device)
            for one in arrivals
        ]
        self._reached: dict[tuple[str, ...], set[str]] = {}
        self._refused: dict[str, set[int]] = {}

    def known(self) -> Known:
        """Return the rules without entries."""
        return Known(
            {},
            reached=self._is_reached,
            grade_of=self._grade_of,
            root=self._root,
            refused=self._is_refused,
        )

    def _is_reached(self, one: Entry, ends: Sequence[str]) -> bool:
        key = tuple(ends)
        if key not in self._reached:
            devices = {kept.entry.device for kept in self._shelf.by_id(key)}
            devices |= {link.device for link in self._arrived if link.id in key and link.device}
            links = [*self._shelf.links(devices), *self._arrived]
            self._reached[key] = reached(links, key)
        return one.id in self._reached[key]

    def _is_refused(self, writer: str, n: int) -> bool:
        if writer not in self._refused:
            self._refused[writer] = self._shelf.refused_numbers(writer)
        return n in self._refused[writer]
