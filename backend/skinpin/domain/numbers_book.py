"""Booking a tablet in: why each number that is no ordinary record is missing or set apart."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

RAISED_IN_ERROR = "raised in error"
DRAFT = "draft"
TAKEN_BACK = "taken back"
ON_TWO = "on two records"
GIVEN_UP = "another number now"
NOT_IN = "not yet in"
NEVER_USED = "never used"
REFUSED = "refused here"
OUT = "not in, and the tablet is out"
UNKNOWN = "not in, or never used"


class Told(NamedTuple):
    """What a tablet said last: the highest number it knows, what waits on it, what was refused."""

    last: int
    waits: int
    refused: int


class Numbers(NamedTuple):
    """Following numbers of one tablet that share a reason."""

    why: str
    first: int
    last: int


def explain(
    borne: Mapping[int, Sequence[str | None]],
    given_up: frozenset[int],
    told: Told | None,
    *,
    is_out: bool,
) -> list[Numbers]:
    """Return the numbers from 1 to the last known that need a word, in order.

    `borne` holds the states of the records that bear each number; a record whose *new* was undone
    has none. A tablet gives a number with the first entry of its record, so that one that is not
    here waits on the tablet, or was never used once nothing waits.
    """
    last = max([*borne, *given_up, told.last if told else 0], default=0)
    found: list[Numbers] = []
    for n in range(1, last + 1):
        why = _why(n, borne.get(n, ()), given_up, told, is_out=is_out)
        if why is None:
            continue
        if found and found[-1].why == why and found[-1].last == n - 1:
            found[-1] = found[-1]._replace(last=n)
        else:
            found.append(Numbers(why, n, n))
    return found


def _why(
    n: int,
    states: Sequence[str | None],
    given_up: frozenset[int],
    told: Told | None,
    *,
    is_out: bool,
) -> str | None:
    if len(states) > 1:
        return ON_TWO
    if states:
        return {"Raised in error": RAISED_IN_ERROR, "Draft": DRAFT, None: TAKEN_BACK}.get(states[0])
    if n in given_up:
        return GIVEN_UP
    return _why_missing(told, is_out=is_out)


def _why_missing(told: Told | None, *, is_out: bool) -> str:
    if is_out:
        return OUT
    if told is None:
        return UNKNOWN
    if told.waits:
        return NOT_IN
    return REFUSED if told.refused else NEVER_USED
