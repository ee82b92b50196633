"""Standing values: what of a record holds now, as a function of the set of its entries.

A value stands until an author who saw it sets the field again. Ids are never compared, so no
clock decides anything; authors who did not see each other both stand.
"""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from .entry import Entry

Counted = bool | Collection[str]
"""Whether an entry counts; a collection names the fields that do."""

Values = dict[str, dict[str, Any]]
Here = Mapping[str, Entry]
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
    setters: dict[str, list[str]] = {}
    for id, entry in here.items():
        for field in _counting_fields(entry, counted[id]):
            setters.setdefault(field, []).append(id)
    for field, ids in setters.items():
        for id in _stands(field, ids, here, counted, faults):
            values.setdefault(id, {})[field] = here[id].set[field]
    awaited = set[str]()
    for entry in here.values():
        for field, named in entry.seen.items():
            awaited.update(id for id in named if id not in here and id not in elsewhere)
            faults.update(
                Fault("elsewhere", entry.id, field, id) for id in named if id in elsewhere
            )
    return Standing(values, tuple(sorted(awaited)), tuple(sorted(faults)))


def counts_for(counted: Counted, field: str) -> bool:
    """Say whether an entry counts for a field."""
    return counted if isinstance(counted, bool) else field in counted


def _counting_fields(entry: Entry, counted: Counted) -> dict[str, Any]:
    if counted is True:
        return entry.set
    return {f: value for f, value in entry.set.items() if counts_for(counted, f)}


def _stands(
    field: str, setters: list[str], here: Here, counted: dict[str, Counted], faults: set[Fault]
) -> list[str]:
    """Return those entries, of all that set a field, that no entry of another group names."""
    edges = _namings(field, setters, here, counted)
    group = {id: loop[0] for loop in loops(edges) for id in loop}
    group = {id: group.get(id, id) for id in edges}
    for id in setters:
        for other in edges[id]:
            if group[other] == group[id]:
                faults.add(Fault("itself" if other == id else "cycle", id, field, other))
    named = _named_by(setters, edges, group)
    return [id for id in setters if named.get(id, set()) <= {group[id]}]


def _namings(field: str, setters: list[str], here: Here, counted: dict[str, Counted]) -> Edges:
    """Return what setters of a field name for it, and what those name that do not count for it."""
    edges: dict[str, list[str]] = {}
    waiting = list(setters)
    while waiting:
        id = waiting.pop()
        if id not in edges:
            edges[id] = [
                other
                for other in here[id].seen.get(field, ())
                if other in here
                and (field in here[other].set or not counts_for(counted[other], field))
            ]
            waiting.extend(edges[id])
    return edges


def _named_by(setters: list[str], edges: Edges, group: dict[str, str]) -> dict[str, set[str]]:
    """Return up to two groups whose setters name an entry, through entries that do not count."""
    found: dict[str, set[str]] = {}
    waiting, sets = [(id, group[id]) for id in setters], set(setters)
    while waiting:
        id, by = waiting.pop()
        for other in edges[id]:
            groups = found.setdefault(other, set())
            if len(groups) < 2 and by not in groups:
                groups.add(by)
                if other not in sets:
                    waiting.append((other, by))
    return found


def loops(edges: Edges) -> list[list[str]]:
    """Return the groups of two or more nodes that reach each other.

    References
    ----------
    Sharir, "A strong-connectivity algorithm and its applications in data flow analysis",
    Computers & Mathematics with Applications 7 (1981).
    """
    # Most writers name older ids alone, and what only leads downwards never comes back.
    if all(other < node for node, others in edges.items() for other in others):
        return []
    back: dict[str, list[str]] = {}
    for node, others in edges.items():
        for other in others:
            back.setdefault(other, []).append(node)
    left = [node for nodes in _walk(edges, edges) for node in nodes]
    return sorted(sorted(group) for group in _walk(back, reversed(left)) if len(group) > 1)


def _walk(edges: Edges, starts: Iterable[str]) -> Iterator[list[str]]:
    """Yield what a depth-first walk newly reaches from each start, in the order it leaves it."""
    entered = set[str]()
    for start in starts:
        left, waiting = [], [(start, False)]
        while waiting:
            node, is_done = waiting.pop()
            if is_done:
                left.append(node)
            elif node not in entered:
                entered.add(node)
                waiting.append((node, True))
                waiting.extend((other, False) for other in edges.get(node, ()))
        yield left


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
            for id in dict.fromkeys(ids):
                if id not in values or (field in fields and field not in values[id]):
                    return None
                if field in fields:
                    values[id] = {f: value for f, value in values[id].items() if f != field}
        if fields:
            values[entry.id] = fields
    left = {id: fields for id, fields in values.items() if fields}
    return Standing(left, now.awaited, now.faults)


def seen_for(now: Standing | None, fields: Iterable[str]) -> dict[str, list[str]]:
    """Return what an author of these fields has seen: the ids that stand for each."""
    seen = {field: sorted(field_values(now, field)) for field in fields}
    return {field: ids for field, ids in seen.items() if ids}


def field_values(now: Standing | None, field: str) -> dict[str, Any]:
    """Return the values that stand for a field, by entry."""
    values = now.values if now else {}
    return {id: values[id][field] for id in sorted(values) if field in values[id]}
