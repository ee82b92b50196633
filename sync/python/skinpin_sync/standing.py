"""Standing values: what of a record holds now, as a function of the set of its entries.

A value stands until an author who saw it sets the field again. Ids are never compared, so no
clock decides anything; authors who did not see each other both stand.
"""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from typing import Any, NamedTuple

from .entry import Entry

Counted = bool | Collection[str]
"""Whether an entry counts; a collection names the fields that do."""

Values = dict[str, dict[str, Any]]
Edges = Mapping[str, Collection[str]]


class Fault(NamedTuple):
    """An id named in `seen` that is left out: itself, elsewhere or cycle."""

    what: str
    id: str
    field: str
    other: str


class Standing(NamedTuple):
    """What stands of a record, by entry; ids named but not here; what was left out."""

    values: Values
    awaited: tuple[str, ...] = ()
    faults: tuple[Fault, ...] = ()


def standing(
    entries: Iterable[Entry], counts: Callable[[Entry], Counted], elsewhere: Collection[str] = ()
) -> Standing:
    """Return what stands of one record from all its entries.

    `elsewhere` holds ids known to be entries of other records.
    """
    here = {entry.id: entry for entry in entries}
    counted = {id: counts(entry) for id, entry in here.items()}
    values: Values = {}
    faults: set[Fault] = set()
    for field in {field for entry in here.values() for field in entry.set}:
        for id in _stands(field, here, counted, faults):
            values.setdefault(id, {})[field] = here[id].set[field]
    awaited = set[str]()
    for entry in here.values():
        for field, ids in entry.seen.items():
            awaited.update(id for id in ids if id not in here and id not in elsewhere)
            faults.update(Fault("elsewhere", entry.id, field, id) for id in ids if id in elsewhere)
    return Standing(values, tuple(sorted(awaited)), tuple(sorted(faults)))


def counts_for(counted: Counted, field: str) -> bool:
    """Say whether an entry counts for a field."""
    return counted if isinstance(counted, bool) else field in counted


def _stands(
    field: str, here: dict[str, Entry], counted: dict[str, Counted], faults: set[Fault]
) -> list[str]:
    setters = [
        id for id, entry in here.items() if field in entry.set and counts_for(counted[id], field)
    ]
    edges = {id: _named(field, here[id], here, counted) for id in setters}
    loop_of = {id: at for at, loop in enumerate(loops(edges)) for id in loop}
    retired = set()
    for id, named in edges.items():
        for other in named:
            if other == id:
                faults.add(Fault("itself", id, field, other))
            elif id in loop_of and loop_of[id] == loop_of.get(other):
                faults.add(Fault("cycle", id, field, other))
            else:
                retired.add(other)
    return [id for id in setters if id not in retired]


def _named(
    field: str, entry: Entry, here: dict[str, Entry], counted: dict[str, Counted]
) -> set[str]:
    """Return the counting setters an entry names, through entries that do not count."""
    named, passed, open_ids = set(), set(), list(entry.seen.get(field, ()))
    while open_ids:
        id = open_ids.pop()
        other = here.get(id)
        if other is None:
            continue
        if not counts_for(counted[id], field):
            if id not in passed:
                passed.add(id)
                open_ids.extend(other.seen.get(field, ()))
        elif field in other.set:
            named.add(id)
    return named


def loops(edges: Edges) -> list[list[str]]:
    """Return the groups of two or more nodes that reach each other.

    References
    ----------
    Sharir, "A strong-connectivity algorithm and its applications in data flow analysis",
    Computers & Mathematics with Applications 7 (1981).
    """
    back: dict[str, list[str]] = {}
    for node, others in edges.items():
        for other in others:
            back.setdefault(other, []).append(node)
    found, taken = [], set[str]()
    for start in reversed(_finished(edges)):
        group, waiting = [], [start]
        while waiting:
            node = waiting.pop()
            if node not in taken:
                taken.add(node)
                group.append(node)
                waiting.extend(back.get(node, ()))
        if len(group) > 1:
            found.append(sorted(group))
    return sorted(found)


def _finished(edges: Edges) -> list[str]:
    """Return the nodes in the order in which a depth-first walk leaves them."""
    order, entered = [], set[str]()
    for start in edges:
        waiting = [(start, False)]
        while waiting:
            node, is_left = waiting.pop()
            if is_left:
                order.append(node)
            elif node not in entered:
                entered.add(node)
                waiting.append((node, True))
                waiting.extend((other, False) for other in edges.get(node, ()))
    return order


def add(
    before: Standing | None, new_entries: Sequence[Entry], counts: Callable[[Entry], Counted]
) -> Standing | None:
    """Return what stands after new entries of one record, or None: work it out with `standing`.

    Sure only while every id an entry names still stands and nobody named the entry before it
    came. An entry that was in the log before must not be handed in again.
    """
    if before is None and len(new_entries) == 1 and not new_entries[0].seen:
        entry = new_entries[0]
        counted = counts(entry)
        fields = _counting_fields(entry, counted)
        return Standing({entry.id: fields} if fields else {})
    now = before or Standing({})
    values = dict(now.values)
    for entry in new_entries:
        if entry.id in now.awaited or entry.id in values:
            return None
        fields = _counting_fields(entry, counts(entry))
        for field, ids in entry.seen.items():
            if not _retire(values, field, ids, field in fields):
                return None
        if fields:
            values[entry.id] = fields
    left = {id: fields for id, fields in values.items() if fields}
    return Standing(left, now.awaited, now.faults)


def _counting_fields(entry: Entry, counted: Counted) -> dict[str, Any]:
    if counted is True:
        return entry.set
    return {f: value for f, value in entry.set.items() if counts_for(counted, f)}


def _retire(values: Values, field: str, ids: Iterable[str], is_set: bool) -> bool:
    """Take the named ids' values of a field away; say whether each of them was surely here."""
    for id in dict.fromkeys(ids):
        if id not in values or (is_set and field not in values[id]):
            return False
        if is_set:
            values[id] = {f: value for f, value in values[id].items() if f != field}
    return True


def seen_for(now: Standing | None, fields: Iterable[str]) -> dict[str, list[str]]:
    """Return what an author of these fields has seen: the ids that stand for each."""
    seen = {field: sorted(field_values(now, field)) for field in fields}
    return {field: ids for field, ids in seen.items() if ids}


def field_values(now: Standing | None, field: str) -> dict[str, Any]:
    """Return the values that stand for a field, by entry."""
    values = now.values if now else {}
    return {id: values[id][field] for id in sorted(values) if field in values[id]}


def settled(
    values: Mapping[str, Any], equal: Callable[[Any, Any], bool]
) -> list[tuple[Any, list[str]]]:
    """Return the different values with their entries: one is settled, several want a choice."""
    groups: list[tuple[Any, list[str]]] = []
    for id in sorted(values):
        ids = next((ids for value, ids in groups if equal(value, values[id])), None)
        if ids is None:
            groups.append((values[id], [id]))
        else:
            ids.append(id)
    return groups
