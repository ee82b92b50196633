"""Which entries of a book count, kept up as entries arrive, in whatever order they come."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple, Protocol

from skinpin_sync.entry import Entry

from .fields import is_judged
from .judging import judge_act
from .verdicts import (
    COUNTS,
    Known,
    Needs,
    Pair,
    Verdict,
    act_of,
    confirms_of,
    index_of,
    role_of,
    unreached,
)

WAITING = Verdict("waits", "new", "Not judged yet.", plain="waits")
Key = tuple[str, str]


class Shelf(Protocol):
    """Where a book's entries and verdicts lie. Every question is about many things at once."""

    def load(self, ids: Collection[str]) -> Mapping[str, Pair | None]:
        """Return entries by id, None where not here; of those that wait also their whole act."""

    def acts(self, keys: Collection[Key]) -> Mapping[Key, Sequence[Entry]]:
        """Return the entries here of acts, by (writer, act id)."""

    def indexed(self, ids: Collection[str]) -> Collection[Entry]:
        """Return the judged entries that have one of the ids in their `index_of`."""

    def person(self, person: str) -> Sequence[Pair]:
        """Return the judged entries of a person's record with their verdicts."""

    def held(self, devices: Collection[str]) -> Collection[Entry]:
        """Return the entries of devices that wait with the code `leaver`."""


class Change(NamedTuple):
    """A verdict that changed; `before` is None for an entry that has just arrived."""

    entry: Entry
    before: Verdict | None
    now: Verdict


class Judged(NamedTuple):
    """The verdicts of a whole book, and the acts that were undone."""

    verdicts: dict[str, Verdict]
    withdrawn: frozenset[Key]


def settle(
    arrived: Sequence[Entry], shelf: Shelf, known: Known, again: Collection[str] = ()
) -> dict[str, Change]:
    """Return the verdicts that arriving entries make or change, captures left out.

    Parameters
    ----------
    arrived
        New entries; whether the shelf holds them already does not matter.
    known
        The rules at hand (`reached`, `grade_of`, `root`, `refused`); its entries are not read.
    again
        Further ids that came or changed, such as the sha256 of a standard's file.
    """
    return _Round(arrived, shelf, known).run(again)


class _Round:
    def __init__(self, arrived: Sequence[Entry], shelf: Shelf, known: Known) -> None:
        self.arrived = {entry.id: entry for entry in arrived}
        self.shelf = shelf
        self.pairs: dict[str, Pair | None] = {
            entry.id: (entry, WAITING if is_judged(entry) else COUNTS) for entry in arrived
        }
        self.people: dict[str, list[Pair]] = {}
        self.known = replace(known, entries=self.pairs, people=self.people)
        self.changes: dict[str, Change] = {}
        self.waiting: set[Key] = set()
        self.acts: dict[Key, list[Entry]] = {}
        self.index: dict[str, list[Entry]] = {}
        for entry in arrived:
            for id in index_of(entry, COUNTS) if is_judged(entry) else ():
                self.index.setdefault(id, []).append(entry)

    def run(self, again: Collection[str]) -> dict[str, Change]:
        self._want(self.arrived.values())
        devices = {entry.device for entry in self.arrived.values()}
        self._want(self.shelf.indexed([*self.arrived, *again, *map(unreached, devices)]))
        self._want(self.shelf.held(devices))
        while self.waiting:
            acts = self._take()
            changed = [entry for act in acts for entry in self._judge(act)]
            self._want_dependents(changed)
        return self.changes

    def _want(self, entries: Iterable[Entry]) -> None:
        self.waiting.update(act_of(entry) for entry in entries)

    def _take(self) -> list[list[Entry]]:
        """Return the acts to be judged, the earliest first, with what they name brought."""
        keys = [key for key in self.waiting if key not in self.acts]
        found = {key: {one.id: one for one in act} for key, act in self.shelf.acts(keys).items()}
        for entry in self.arrived.values():
            if act_of(entry) in self.waiting and act_of(entry) not in self.acts:
                found.setdefault(act_of(entry), {})[entry.id] = entry
        self.acts |= {key: list(found.get(key, {}).values()) for key in keys}
        acts = [self.acts[key] for key in self.waiting]
        acts = [act for act in acts if any(is_judged(one) for one in act)]
        self.waiting = set()
        judged = [one for act in acts for one in act if is_judged(one)]
        self._load({id for one in judged for id in (one.id, *index_of(one, COUNTS))})
        return sorted(acts, key=lambda act: min(one.id for one in act))

    def _load(self, ids: Collection[str]) -> None:
        missing = [id for id in ids if id not in self.pairs]
        if missing:
            self.pairs |= dict.fromkeys(missing)
            for id, pair in self.shelf.load(missing).items():
                if self.pairs.get(id) is None:
                    self.pairs[id] = pair

    def _load_person(self, person: str) -> list[Pair]:
        mine = (one for one in self.arrived.values() if one.record == person and is_judged(one))
        ids = {entry.id for entry, _ in self.shelf.person(person)} | {one.id for one in mine}
        self._load(ids)
        self.people[person] = [pair for id in sorted(ids) if (pair := self.pairs[id])]
        return self.people[person]

    def _judge(self, act: list[Entry]) -> list[Entry]:
        """Judge an act and return its entries whose verdict changed."""
        verdicts = judge_act(act, self.known)
        while isinstance(verdicts, Needs):
            self._load(verdicts.ids)
            for person in verdicts.people:
                self._load_person(person)
            verdicts = judge_act(act, self.known)
        return [one for one in act if is_judged(one) and self._put(one, verdicts[one.id])]

    def _put(self, entry: Entry, verdict: Verdict) -> bool:
        pair = self.pairs[entry.id]
        before = pair[1] if pair else WAITING
        if before == verdict:
            return False
        self.pairs[entry.id] = (entry, verdict)
        first = None if entry.id in self.arrived else before
        if entry.id in self.changes:
            first = self.changes[entry.id].before
        self.changes[entry.id] = Change(entry, first, verdict)
        self.people.pop(entry.record, None)
        return True

    def _want_dependents(self, changed: Sequence[Entry]) -> None:
        """Take up again whoever named these, relied on a role they end, or is confirmed."""
        confirmed = {id for entry in changed for id in confirms_of(entry)}
        people = {entry.record for entry in changed if role_of(entry)}
        pairs = [pair for person in people for pair in self._load_person(person)]
        roles = {entry.id for entry, _ in pairs if role_of(entry)}
        ids = {entry.id for entry in changed} | roles
        if not ids:
            return
        self._want(self.shelf.indexed(ids))
        self._want(one for id in ids for one in self.index.get(id, ()))
        self._load(confirmed)
        self._want(pair[0] for id in confirmed if (pair := self.pairs[id]))


def judge_all(entries: Iterable[Entry], known: Known) -> Judged:
    """Return the verdicts of a whole book: what `settle` must come to in any order."""
    book = {entry.id: entry for entry in entries}
    pairs = _Pairs(
        (id, (one, WAITING if is_judged(one) else COUNTS)) for id, one in sorted(book.items())
    )
    whole = replace(known, entries=pairs, people=_People(pairs))
    acts: dict[Key, list[Entry]] = {}
    for id in sorted(book):
        acts.setdefault(act_of(book[id]), []).append(book[id])
    judged = [act for act in acts.values() if any(is_judged(one) for one in act)]
    while sum(_judge_again(act, whole, pairs) for act in judged):
        pass
    verdicts = {id: pair[1] for id, pair in pairs.items() if pair}
    return Judged(verdicts, withdrawn(pair for pair in pairs.values() if pair))


def _judge_again(act: Sequence[Entry], whole: Known, pairs: "_Pairs") -> bool:
    """Judge an act by what is known by now; say whether a verdict changed."""
    verdicts = judge_act(act, whole)
    if isinstance(verdicts, Needs):
        raise LookupError(f"A whole book can't lack anything, but {verdicts} was asked for.")
    changed = [one for one in act if pairs[one.id] != (one, verdicts[one.id])]
    pairs.update({one.id: (one, verdicts[one.id]) for one in changed})
    return bool(changed)


class _Pairs(dict[str, Pair | None]):
    """All there is: an id that is not here is known not to be."""

    def __missing__(self, id: str) -> None:
        return None

    def __contains__(self, id: object) -> bool:
        return True


class _People(dict[str, list[Pair]]):
    def __init__(self, pairs: _Pairs) -> None:
        super().__init__()
        self.pairs = pairs
        self.ids: dict[str, list[str]] = {}
        for id, pair in pairs.items():
            if pair and pair[0].kind == "person" and is_judged(pair[0]):
                self.ids.setdefault(pair[0].record, []).append(id)

    def __missing__(self, person: str) -> list[Pair]:
        return [pair for id in self.ids.get(person, ()) if (pair := self.pairs[id])]

    def __contains__(self, person: object) -> bool:
        return True


def withdrawn(pairs: Iterable[Pair]) -> frozenset[Key]:
    """Return the acts that counting undos take back, by (writer, act id)."""
    taken = ((act_of(one)[0], verdict.withdraws) for one, verdict in pairs)
    return frozenset((writer, act) for writer, act in taken if act)
