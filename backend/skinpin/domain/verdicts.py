"""What a judgement is made from and what it says."""

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal, NamedTuple

from skinpin_sync.entry import Entry

from .fields import is_capture_field

Result = Literal["counts", "does not count", "waits"]


class Verdict(NamedTuple):
    """Whether an entry counts; `reason` is a sentence, `waits_for` holds ids of entries or files.

    `plain` is the result but for people who left; `clean` says that no role between the author
    and the first lead was withdrawn before this; `withdraws` is the act an undo takes back, of
    the undo's own writer.
    """

    result: Result
    code: str = ""
    reason: str = ""
    waits_for: tuple[str, ...] = ()
    plain: Result = "counts"
    clean: bool = True
    withdraws: str | None = None

    @property
    def counts(self) -> bool:
        """Whether the entry counts."""
        return self.result == "counts"


COUNTS = Verdict("counts")
NAMES_NOTHING = ("cycle", "broken act")
"""Codes of entries whose `seen` says nothing to those who name them."""

Pair = tuple[Entry, Verdict]


class Needs(NamedTuple):
    """What must be loaded before an entry can be judged: entries, and the records of people."""

    ids: tuple[str, ...] = ()
    people: tuple[str, ...] = ()


class Missing(Exception):
    """Something must be loaded first."""

    def __init__(self, ids: Collection[str] = (), people: Collection[str] = ()) -> None:
        super().__init__(f"not loaded: {sorted(ids)} {sorted(people)}")
        self.needs = Needs(tuple(sorted(ids)), tuple(sorted(people)))


def _nobody_knows(values: Mapping[str, Sequence[Any]], pins: Sequence[Any]) -> int | None:
    return 4


def _same_writer(entry: Entry, ends: Sequence[str]) -> bool:
    """Say whether an entry is one of the ends; whoever can walk chains hands in better."""
    return entry.id in ends


@dataclass
class Known:
    """What a judgement may look at.

    Parameters
    ----------
    entries
        By id the entry and its verdict (`COUNTS` for captures), None where the book has no such
        entry yet. An entry that waits comes with the other entries of its act.
    people
        By person the judged entries of that person's record, with their verdicts.
    reached
        Whether an entry is reached by `prev` from one of the ends of an `upto`.
    grade_of
        The highest grade that values by field can give under the pinned standards; None while
        the standard's file is not here. Not handed in: 4.
    root
        Id of the entry that created the book; None: any entry that creates it will do.
    refused
        Whether an entry of this writer with this `n` was refused at the door.
    """

    entries: Mapping[str, Pair | None]
    people: Mapping[str, Sequence[Pair]] = field(default_factory=dict)
    reached: Callable[[Entry, Sequence[str]], bool] = _same_writer
    grade_of: Callable[[Mapping[str, Sequence[Any]], Sequence[Any]], int | None] = _nobody_knows
    root: str | None = None
    refused: Callable[[str, int], bool] = lambda writer, n: False


def writer_of(entry: Entry) -> str:
    """Return the writer, the end of the id."""
    return entry.id[-8:]


def act_of(entry: Entry) -> tuple[str, str]:
    """Return the key of an entry's act: its writer and its id."""
    return writer_of(entry), entry.act.id


def plainly_counts(entry: Entry, verdict: Verdict, field: str) -> bool:
    """Say whether an entry counts for a field, but for people who left."""
    return verdict.plain == "counts" or is_capture_field(entry.kind, field)


def state_of(entry: Entry) -> Mapping[str, Any]:
    """Return the state an entry sets, empty where it is none."""
    state = entry.set.get("state")
    return state if isinstance(state, dict) else {}


def role_of(entry: Entry) -> Mapping[str, Any]:
    """Return the role an entry gives a person, empty where it gives none."""
    role = entry.set.get("role") if entry.kind == "person" else None
    return role if isinstance(role, dict) else {}


def upto_of(entry: Entry) -> tuple[str, ...]:
    """Return the ends of the chains a withdrawal lets stand."""
    upto = role_of(entry).get("upto")
    return tuple(id for id in upto if isinstance(id, str)) if isinstance(upto, list) else ()


def confirms_of(entry: Entry) -> tuple[str, ...]:
    """Return the ids a lead's entry confirms after their author left."""
    ids = entry.set.get("confirms") if entry.kind == "person" else None
    return tuple(id for id in ids if isinstance(id, str)) if isinstance(ids, list) else ()


def names(entry: Entry) -> frozenset[str]:
    """Return the ids whose verdicts a judged entry rests on."""
    ids = {id for seen in entry.seen.values() for id in seen} | set(entry.relies)
    undoes = state_of(entry).get("undoes")
    return frozenset(ids | {undoes} if isinstance(undoes, str) else ids)


def index_of(entry: Entry, verdict: Verdict) -> frozenset[str]:
    """Return the ids under which a judged entry must be found when one of them changes."""
    found = names(entry) | {*upto_of(entry), *confirms_of(entry), *verdict.waits_for}
    return found if verdict.clean else found | {unreached(entry.device)}


def unreached(device: str) -> str:
    """Return what entries of a device are found under that its chain may yet be shown to reach."""
    return f"unreached:{device}"
