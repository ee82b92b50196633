"""Gathers what the rows of defects are made from, for many defects at once."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import NamedTuple

from skinpin_sync.entry import Entry
from sqlalchemy import Connection

from skinpin.domain.days import Day, days_in
from skinpin.domain.ledger import Key
from skinpin.domain.projection_related import Related
from skinpin.domain.values import Values
from skinpin.domain.verdicts import COUNTS, Pair, Verdict, act_of
from skinpin.storage.links import linked_to
from skinpin.storage.records import StandingRecord, find_records
from skinpin.storage.shelf import Kept, LogShelf, came_ms_of
from skinpin.storage.time_zone import book_zone


class Batch(NamedTuple):
    """What a batch brought: new entries with verdicts, undone acts, records new with it.

    `came_ms` tells by id when those came that are stamped too far ahead to be believed.
    """

    entries: Sequence[Entry]
    verdicts: Mapping[str, Verdict]
    withdrawn: Collection[Key]
    fresh: Collection[str]
    came_ms: Mapping[str, int]


def gather(
    connection: Connection,
    shelf: LogShelf,
    defects: Mapping[str, StandingRecord],
    batch: Batch,
) -> dict[str, Related]:
    """Return for each defect its entries, stamps, photographs, what lies on them, and lines."""
    naming = linked_to(connection, defects, ("defect",))
    kept = _entries(shelf, defects, batch)
    old = (one for name, some in kept.items() if name not in batch.fresh for one in some)
    day = days_in(book_zone(connection), {**batch.came_ms, **came_ms_of(old)})
    records = find_records(connection, {one for some in naming.values() for one in some})
    lying = _on_pictures(connection, records.values())
    stamps = _stamps(shelf, [one.record for one in records.values() if one.kind == "stamp"])
    found = {name: _alone(kept[name], day) for name in defects if name not in naming}
    for name in naming:
        mine = [records[one] for one in sorted(naming.get(name, ())) if one in records]
        photographs = {one.record: one.standing.values for one in mine if one.kind == "photograph"}
        lines = {one.record: one.standing.values for one in mine if one.kind == "rivet_line"}
        stamped = [kept for one in mine if one.kind == "stamp" for kept in stamps[one.record]]
        own = kept[name]
        found[name] = Related(
            entries=[(one.entry, one.verdict) for one in own],
            stamps=_once((one.entry, one.verdict) for one in stamped),
            withdrawn={act_of(one.entry) for one in (*own, *stamped) if one.withdrawn},
            photographs=photographs,
            marks=_of_kind("mark", photographs, lying),
            scales=_of_kind("scale", photographs, lying),
            measurements=_of_kind("measurement", photographs, lying),
            lines=lines,
            day=day,
        )
    return found


def _alone(own: Sequence[Kept], day: Day) -> Related:
    """Return what there is of a defect that nothing names, as of most new ones."""
    pairs = [(one.entry, one.verdict) for one in own]
    withdrawn = {act_of(one.entry) for one in own if one.withdrawn}
    return Related(pairs, withdrawn=withdrawn, day=day)


def _entries(
    shelf: LogShelf, defects: Mapping[str, StandingRecord], batch: Batch
) -> dict[str, list[Kept]]:
    """Return all entries of each defect; those of a record that is new are at hand."""
    kept: dict[str, list[Kept]] = {name: [] for name in defects}
    old = [name for name in defects if name not in batch.fresh]
    for one in shelf.of_records(old):
        kept[one.entry.record].append(one)
    verdicts, withdrawn = batch.verdicts, batch.withdrawn
    for entry in batch.entries:
        if entry.record in batch.fresh and entry.record in kept:
            undone = act_of(entry) in withdrawn if withdrawn else False
            one = Kept(entry, verdicts.get(entry.id, COUNTS), undone, batch.came_ms.get(entry.id))
            kept[entry.record].append(one)
    for some in kept.values():
        if len(some) > 1:
            some.sort(key=lambda one: one.entry.id)
    return kept


def _of_kind(
    kind: str, photographs: Iterable[str], lying: Mapping[str, Sequence[StandingRecord]]
) -> dict[str, Values]:
    return {
        one.record: one.standing.values
        for photograph in photographs
        for one in lying.get(photograph, ())
        if one.kind == kind
    }


def _on_pictures(
    connection: Connection, records: Iterable[StandingRecord]
) -> dict[str, list[StandingRecord]]:
    photographs = [one.record for one in records if one.kind == "photograph"]
    naming = linked_to(connection, photographs, ("photograph",))
    found = find_records(connection, {one for some in naming.values() for one in some})
    return {
        photograph: [found[one] for one in sorted(some) if one in found]
        for photograph, some in naming.items()
    }


def _stamps(shelf: LogShelf, records: Collection[str]) -> dict[str, list[Kept]]:
    """Return for each stamp its entries and the others of their acts."""
    if not records:
        return {}
    own = shelf.of_records(records)
    mates: dict[Key, list[Kept]] = {}
    for one in shelf.kept_acts({act_of(one.entry) for one in own}):
        mates.setdefault(act_of(one.entry), []).append(one)
    found: dict[str, list[Kept]] = {record: [] for record in records}
    for one in own:
        found[one.entry.record] += mates[act_of(one.entry)]
    return found


def _once(pairs: Iterable[Pair]) -> list[Pair]:
    by_id = {pair[0].id: pair for pair in pairs}
    return [by_id[id] for id in sorted(by_id)]
