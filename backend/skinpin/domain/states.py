"""In which state a record counts while stamps, chains and choices are open."""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from typing import NamedTuple

from skinpin_sync.entry import Entry

from skinpin.domain.seen import Look, states_of
from skinpin.domain.stamps import Stamp, clears
from skinpin.domain.values import Values, standing_of
from skinpin.domain.verdicts import Known, Pair, state_of

WORST_FIRST = (
    *("Raised", "Assessed", "In work", "Offered", "Deferred"),
    *("Same as", "Raised in error", "Cleared", "Draft"),
)


class StandingState(NamedTuple):
    """The state a record counts in; `states` are those that stand, to be chosen from.

    `own` is the state before chains of *same as* are followed. `holds` says whether the stamps of
    a record that stands as cleared hold, None where it does not stand so.
    """

    state: str | None
    states: tuple[str, ...]
    own: str | None
    holds: bool | None


class _All(dict[str, Pair | None]):
    """A record's own moves: an id that is not among them is not here."""

    def __missing__(self, id: str) -> None:
        return None

    def __contains__(self, id: object) -> bool:
        return True


def worst_state(states: Iterable[str]) -> str | None:
    """Return the least finished state; Draft only when alone.

    >>> worst_state(["Cleared", "In work", "Draft"])
    'In work'
    """
    known = sorted(set(states), key=_rank)
    return known[0] if known else None


def _rank(state: str) -> tuple[int, str]:
    return (WORST_FIRST.index(state) if state in WORST_FIRST else -1), state


def standing_state(
    values: Values,
    moves: Iterable[Pair],
    stamps: Sequence[Stamp],
    now: Mapping[str, int | str],
    is_hidden: bool,
) -> StandingState:
    """Return the state a record counts in.

    Parameters
    ----------
    moves
        The entries of the record that set its state, with their verdicts.
    stamps
        The record's stamps that stand.
    now
        The list a stamp made now would be made over.
    is_hidden
        Whether another record leads where this one stands as *Same as*.
    """
    pairs = _All((entry.id, (entry, verdict)) for entry, verdict in moves)
    here = [pair[0] for id in values if "state" in values[id] and (pair := pairs[id])]
    look = Look((), Known(pairs))
    asked = any(value is True for value in standing_of(values, "independent"))

    def holds(move: Entry) -> bool:
        led = [one for one in look.led_here([move]) if state_of(one).get("to") == "Cleared"]
        kinds = standing_of(values, "kind")
        return any(
            clears(str(state_of(one)["move"]), stamps, now, kinds, asked, look.doers(one))
            for one in led
        )

    own = worst_state(_counting(look, here, holds, True))
    counted = own if is_hidden else worst_state(_counting(look, here, holds, False))
    cleared = [move for move in here if state_of(move).get("to") == "Cleared"]
    is_held = any(holds(move) for move in cleared) if cleared else None
    return StandingState(counted, tuple(sorted(states_of(here), key=_rank)), own, is_held)


def _counting(
    look: Look, moves: Collection[Entry], holds: Callable[[Entry], bool], is_aside: bool
) -> set[str]:
    """Return the states that moves count in: as they stand, or as they were left."""
    states: set[str] = set()
    passed: set[str] = set()
    waiting = list(moves)
    while waiting:
        move = waiting.pop()
        if move.id in passed:
            continue
        passed.add(move.id)
        to = state_of(move).get("to")
        is_left = (to == "Cleared" and not holds(move)) or (to == "Same as" and not is_aside)
        before = look.before(move) if is_left else []
        if before:
            waiting.extend(before)
        elif isinstance(to, str):
            states.add(to)
    return states
