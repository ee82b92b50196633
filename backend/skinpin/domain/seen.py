"""What an author had before them: the entries named in `seen` and `relies`, and the way back."""

from collections.abc import Iterable, Sequence
from typing import Any

from skinpin_sync.entry import Entry

from .verdicts import NAMES_NOTHING, Known, Missing, Pair, plainly_counts, state_of


class Look:
    """One act and what its entries name; nothing else is ever looked at."""

    def __init__(self, act: Sequence[Entry], known: Known) -> None:
        self.act = act
        self.known = known

    def pair(self, id: str) -> Pair | None:
        """Return an entry with its verdict, None where the book has no such entry yet."""
        if id not in self.known.entries:
            raise Missing([id])
        return self.known.entries[id]

    def named(self, entry: Entry, field: str) -> list[Entry]:
        """Return the counting entries of the record seen for a field.

        Naming one that does not count names what that one saw.
        """
        found, passed, waiting = {}, set(), list(entry.seen.get(field, ()))
        self._want(waiting)
        while waiting:
            id = waiting.pop()
            pair = self.pair(id)
            if pair is None or id in passed or not _is_same_record(pair[0], entry):
                continue
            passed.add(id)
            other, verdict = pair
            if plainly_counts(other, verdict, field):
                if field in other.set:
                    found[id] = other
            elif verdict.code not in NAMES_NOTHING:
                waiting.extend(other.seen.get(field, ()))
        return [found[id] for id in sorted(found)]

    def _want(self, ids: Iterable[str]) -> None:
        missing = [id for id in ids if id not in self.known.entries]
        if missing:
            raise Missing(missing)

    def values(self, entry: Entry, field: str) -> list[Any]:
        """Return the values of a field, its own or those seen; null is no value."""
        if field in entry.set:
            values = [entry.set[field]]
        else:
            values = [other.set[field] for other in self.named(entry, field)]
        return [value for value in values if value is not None]

    def relied(self, kind: str) -> list[Entry]:
        """Return the counting entries of a kind that the act relies on, and its own."""
        ids = {id for entry in self.act for id in entry.relies} - {one.id for one in self.act}
        self._want(ids)
        found = {entry.id: entry for entry in self.act if entry.kind == kind}
        for id in ids:
            pair = self.pair(id)
            if pair and pair[0].kind == kind and pair[1].plain == "counts":
                found[id] = pair[0]
        return [found[id] for id in sorted(found)]

    def undone(self, undo: Entry) -> list[Entry]:
        """Return the moves before the one an undo takes back."""
        pair = self.pair(state_of(undo)["undoes"])
        return self.named(pair[0], "state") if pair else []

    def not_undone(self, moves: Iterable[Entry]) -> list[Entry]:
        """Return the moves that hold when every undo is followed back."""
        found, passed, waiting = {}, set(), list(moves)
        while waiting:
            move = waiting.pop()
            if move.id in passed:
                continue
            passed.add(move.id)
            if state_of(move).get("move") == "undo":
                waiting.extend(self.undone(move))
            else:
                found[move.id] = move
        return [found[id] for id in sorted(found)]

    def led_here(self, moves: Iterable[Entry]) -> list[Entry]:
        """Return the moves that truly led to a state: through undo, back and choose."""
        found, passed, waiting = {}, set(), list(moves)
        while waiting:
            move = waiting.pop()
            if move.id in passed:
                continue
            passed.add(move.id)
            word, to = state_of(move).get("move"), state_of(move).get("to")
            if word == "undo":
                waiting.extend(self.undone(move))
            elif word == "back":
                aside = self.led_here(self.named(move, "state"))
                waiting.extend(one for left in aside for one in self.named(left, "state"))
            elif word == "choose":
                chosen = self.named(move, "state")
                waiting.extend(one for one in chosen if state_of(one).get("to") == to)
            else:
                found[move.id] = move
        return [found[id] for id in sorted(found)]

    def before(self, move: Entry) -> list[Entry]:
        """Return the moves that led to where a move's state was left from."""
        to = state_of(move).get("to")
        led = [one for one in self.led_here([move]) if state_of(one).get("to") == to]
        found = {one.id: one for each in led for one in self.named(each, "state")}
        return [found[id] for id in sorted(found)]

    def left(self, moves: Iterable[Entry], into: str) -> set[str]:
        """Return the states that were left for `into` by these moves."""
        states, passed, waiting = set(), set(), list(moves)
        while waiting:
            for move in self.led_here([waiting.pop()]):
                if move.id in passed:
                    continue
                passed.add(move.id)
                before = self.named(move, "state")
                states |= {to for to in states_of(before) if to != into}
                waiting.extend(one for one in before if state_of(one).get("to") == into)
        return states

    def doers(self, entry: Entry) -> set[str]:
        """Return who started or offered the work since it was last raised or found again."""
        people, passed = set(), set()
        waiting = self.not_undone(self.named(entry, "state"))
        while waiting:
            move = waiting.pop()
            if move.id in passed:
                continue
            passed.add(move.id)
            word = state_of(move).get("move")
            if word in ("start", "offer"):
                people.add(move.by)
            if word not in ("raise", "found again"):
                waiting.extend(self.not_undone(self.named(move, "state")))
        return people


def states_of(moves: Iterable[Entry]) -> set[str]:
    """Return the different states these moves lead to; the undoing of `new` leads to none."""
    states = (state_of(move).get("to") for move in moves)
    return {state for state in states if isinstance(state, str)}


def _is_same_record(one: Entry, other: Entry) -> bool:
    """Say whether two entries speak of one record: of another kind, rules are other rules."""
    return (one.record, one.kind) == (other.record, other.kind)
