"""Keeps what stands of every record up with the log."""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence

from skinpin_sync.entry import Entry
from skinpin_sync.standing import Counted, Standing, add, standing
from sqlalchemy import Connection, select

from skinpin.domain.fields import counted_fields, record_kind
from skinpin.domain.ledger import Key
from skinpin.domain.verdicts import COUNTS, Verdict, act_of
from skinpin.storage.many import delete_where, insert_new_rows, rows_among, upsert_rows
from skinpin.storage.records import StandingRecord, find_records, write_standing
from skinpin.storage.shelf import LogShelf
from skinpin.storage.tables import awaited, record

Counts = Callable[[Entry], Counted]


_AWAITING = select(awaited.c.record)


def records_awaiting(connection: Connection, ids: Collection[str]) -> set[str]:
    """Return the records that name one of the ids and lacked it so far."""
    return {name for (name,) in rows_among(connection, _AWAITING, awaited.c.id, ids)}


def counting(verdicts: Mapping[str, Verdict], withdrawn: Collection[Key]) -> Counts:
    """Return what counts of arriving entries."""

    def counts(one: Entry) -> Counted:
        is_withdrawn = act_of(one) in withdrawn if withdrawn else False
        return counted_fields(one, verdicts.get(one.id, COUNTS).counts, is_withdrawn)

    return counts


def keep_standings(
    connection: Connection,
    shelf: LogShelf,
    arrived: Sequence[Entry],
    counts: Counts,
    again: Collection[str],
) -> tuple[list[StandingRecord], dict[str, StandingRecord]]:
    """Work out and keep what stands of the records touched, and return it with what stood.

    `again` are records to be worked out from the log, whose `shelf` holds what arrived.
    """
    by_record: dict[str, list[Entry]] = {}
    for one in arrived:
        by_record.setdefault(one.record, []).append(one)
    before = find_records(connection, by_record.keys() | set(again))
    now: list[StandingRecord] = []
    unsure = set(again)
    for name, entries in by_record.items():
        if name in unsure:
            continue
        held, kind = before.get(name), entries[0].kind
        is_one = (held is None or held.kind == kind) and all(one.kind == kind for one in entries)
        after = add(held.standing if held else None, entries, counts) if is_one else None
        if after is None:
            unsure.add(name)
        else:
            now.append(StandingRecord(name, kind, after))
    now += _from_log(shelf, unsure)
    _write(connection, now, before)
    return now, before


def _from_log(shelf: LogShelf, names: Collection[str]) -> list[StandingRecord]:
    by_record: dict[str, list[Entry]] = {}
    counted: dict[str, Counted] = {}
    for kept in shelf.of_records(names):
        by_record.setdefault(kept.entry.record, []).append(kept.entry)
        counted[kept.entry.id] = counted_fields(kept.entry, kept.verdict.counts, kept.withdrawn)
    foreign = {id for entries in by_record.values() for id in _seen(entries)} - counted.keys()
    elsewhere = {one.entry.id for one in shelf.by_id(foreign)} | counted.keys()
    return [_work_out(name, some, counted, elsewhere) for name, some in by_record.items()]


def _work_out(
    name: str, entries: Sequence[Entry], counted: Mapping[str, Counted], elsewhere: set[str]
) -> StandingRecord:
    kind = record_kind((one, counted[one.id]) for one in entries)
    now = standing(
        entries,
        lambda one: counted[one.id] if one.kind == kind else False,
        elsewhere - {one.id for one in entries},
    )
    return StandingRecord(name, kind, now)


def _seen(entries: Iterable[Entry]) -> set[str]:
    return {id for one in entries for ids in one.seen.values() for id in ids}


def _write(
    connection: Connection, now: list[StandingRecord], before: Mapping[str, StandingRecord]
) -> None:
    rows = [(one.record, one.kind, write_standing(one.standing)) for one in now]
    upsert_rows(connection, record, rows)
    changed = [one for one in now if one.standing.awaited != _awaited(before.get(one.record))]
    had = [one.record for one in changed if one.record in before]
    delete_where(connection, awaited, awaited.c.record, had)
    lacking = [(id, one.record) for one in changed for id in one.standing.awaited]
    insert_new_rows(connection, awaited, lacking)


def _awaited(held: StandingRecord | None) -> tuple[str, ...]:
    return held.standing.awaited if held else Standing({}).awaited
