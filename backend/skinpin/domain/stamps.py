"""Stamps: the list a stamp is made over, and whether it still holds."""

import hashlib
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from typing import Any, NamedTuple, TypeGuard

from skinpin_sync.entry import Entry

from .fields import stamped_fields
from .verdicts import act_of

FIRST = ("INSPECTED", "RE-INSPECTED")
ACTS = (*FIRST, "INDEPENDENT", "DISPOSITION")


class Stamp(NamedTuple):
    """A stamp as it was made; `names` holds the ids its act relies on and its act's own."""

    id: str
    act: str
    person: str
    number: str
    date: str
    list: tuple[int, str]
    names: frozenset[str] = frozenset()
    why: str | None = None


def sha256_hex(data: bytes) -> str:
    """Return the SHA-256 of bytes as 64 hex digits."""
    return hashlib.sha256(data).hexdigest()


def list_file(ids: Iterable[str]) -> str:
    r"""Return the file a stamp is made over: the ids in order, one a line, each line ended.

    >>> list_file(["b", "a"])
    'a\nb\n'
    """
    return "".join(f"{id}\n" for id in sorted(set(ids)))


def stamp_list(
    ids: Collection[str], sha256: Callable[[bytes], str] = sha256_hex
) -> dict[str, int | str]:
    """Return the value of a stamp's field `list` for the ids that stand."""
    return {"count": len(set(ids)), "sha256": sha256(list_file(ids).encode())}


def stamped_ids(kind: str, values: Mapping[str, Mapping[str, Any]]) -> set[str]:
    """Return the ids that stand in a record's stamped fields."""
    stamped = stamped_fields(kind)
    return {id for id, fields in values.items() if stamped & fields.keys()}


def overtaken(stamp: Stamp, ids: Collection[str], lying: Collection[str]) -> str | None:
    """Return why a stamp does not hold over the ids that stand, nothing where it does.

    "changed": something was written, or taken back, after it; "measured": only scales and lengths
    on photographs were, or where lamp and zoom stood; "lengths": it was made without those that
    stood (a page of release 1 does not know them, another tablet may not have had them yet);
    "less": it covers less than stands in another way.

    Parameters
    ----------
    ids, lying
        What stands in stamped fields, and the part of it that release 1 does not know.
    """
    if stamp.list == _size(ids):
        return None
    later = {id for id in ids if id > stamp.id and id not in stamp.names}
    if later:
        return "measured" if later.issubset(lying) else "changed"
    if stamp.list == _size(set(ids).difference(lying)):
        return "lengths"
    return "less" if stamp.list[0] < len(ids) else "changed"


def _size(ids: Collection[str]) -> tuple[int, str]:
    return len(ids), sha256_hex(list_file(ids).encode())


def is_list(value: Any) -> TypeGuard[dict[str, Any]]:
    """Say whether a value is a list stamped: a count and a sha256."""
    if not isinstance(value, dict) or value.keys() != {"count", "sha256"}:
        return False
    return type(value["count"]) is int and isinstance(value["sha256"], str)


def stamp_of(entry: Entry, act: Sequence[Entry] = ()) -> Stamp:
    """Return the stamp an entry makes; `act` holds the entries made with it."""
    get = entry.set.get
    stamped = get("list")
    size = (stamped["count"], stamped["sha256"]) if is_list(stamped) else (-1, "")
    mates = [one for one in act if act_of(one) == act_of(entry) and one.id != entry.id]
    names = frozenset({*entry.relies, *(one.id for one in mates)})
    texts = [get(field) for field in ("act", "person", "number", "date")]
    word, person, number, date = (one if isinstance(one, str) else "" for one in texts)
    return Stamp(entry.id, word, person, number, date, size, names, entry.why)


def holding(
    stamps: Iterable[Stamp],
    now: Mapping[str, Any],
    independent: bool = False,
    doers: Collection[str] = (),
    first: Collection[str] = FIRST,
) -> list[Stamp]:
    """Return the stamps by which a clearance holds: one or a pair first, then the others.

    Empty where none hold. `now` is the list that stands; a stamp over any other has been
    overtaken. Where an independent inspection is asked the pair with the smallest ids leads.
    """
    size = (now["count"], now["sha256"])
    good = sorted(s for s in stamps if s.list == size and s.person not in doers)
    leads: list[tuple[Stamp, ...]] = [(one,) for one in good if one.act in first]
    if independent:
        leads = [(one, two) for (one,) in leads for two in good if is_second(one, two)]
    lead = min(leads, default=())
    return [*lead, *(stamp for stamp in good if stamp not in lead)] if lead else []


def is_second(first: Stamp, second: Stamp) -> bool:
    """Say whether a stamp is a second one: it relied on the first and is another person's.

    A re-inspection by the same person serves with its reason, and prints as such.
    """
    if first.id not in second.names:
        return False
    if second.act == "RE-INSPECTED":
        return first.act == "INSPECTED" and bool(second.why)
    return second.act == "INDEPENDENT" and first.person != second.person


def clears(
    move: str,
    stamps: Sequence[Stamp],
    now: Mapping[str, Any],
    kinds: Collection[Any],
    independent: bool,
    doers: Collection[str],
) -> bool:
    """Say whether a record cleared by this move still is, with what stands now."""
    if move == "nil":
        return bool(kinds) and all(kind == "nil" for kind in kinds)
    if move == "accept":
        return bool(holding(stamps, now, first=("DISPOSITION",)))
    return bool(holding(stamps, now, independent, doers))
