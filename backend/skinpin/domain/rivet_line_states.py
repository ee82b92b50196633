"""The states of a rivet line's holes, a letter a hole: counts, runs, putting a line right."""

from collections.abc import Mapping
from typing import Any

from skinpin.domain.errors import Refused

STATES = {
    "S": "sound",
    "L": "loose",
    "W": "working",
    "C": "corroded",
    "T": "tipped or sheared",
    "M": "missing",
    "D": "drilled out",
    "R": "renewed",
    "V": "renewed oversize",
    "N": "not reached",
}
NOT_EFFECTIVE = frozenset("LWCTMD")
NOT_REACHED = "N"
Run = dict[str, int | None]


def counts_of(states: str) -> dict[str, int]:
    """Return how many holes are in each state that occurs."""
    return {state: states.count(state) for state in STATES if state in states}


def not_effective(states: str) -> list[int]:
    """Return the holes that carry nothing, counted from 1."""
    return [at for at, state in enumerate(states, start=1) if state in NOT_EFFECTIVE]


def longest_run(states: str, not_reached: bool = False) -> Run:
    """Return the first longest run not effective; with holes not reached, the possible run.

    >>> longest_run("SLLNLS"), longest_run("SLLNLS", not_reached=True)
    ({'length': 2, 'from': 2, 'to': 3}, {'length': 4, 'from': 2, 'to': 5})
    """
    counted = NOT_EFFECTIVE | {NOT_REACHED} if not_reached else NOT_EFFECTIVE
    best: Run = {"length": 0, "from": None, "to": None}
    length = 0
    for at, state in enumerate(states, start=1):
        length = length + 1 if state in counted else 0
        if length > (best["length"] or 0):
            best = {"length": length, "from": at - length + 1, "to": at}
    return best


def check_states(found: str, now: str) -> None:
    """Refuse states that are none, or of which there are not as many now as were found."""
    for state in found + now:
        if state not in STATES:
            raise Refused(
                "not_a_rivet_line",
                f"“{state}” is no state of a rivet.",
                f"States are {', '.join(f'{one} {word}' for one, word in STATES.items())}.",
            )
    if not found or len(found) != len(now):
        raise Refused(
            "not_a_rivet_line",
            f"{len(found)} holes were found and {len(now)} are there now.",
            "Put in or take out the hole that was skipped or counted twice.",
        )


def reverse_line(line: Mapping[str, Any]) -> dict[str, Any]:
    """Return a line that was gone through from its wrong end, hole 1 at the other."""
    count = len(line["as_found"])
    found, now = line["as_found"][::-1], line["as_now"][::-1]
    holes = {str(count + 1 - int(at)): hole for at, hole in line.get("holes", {}).items()}
    return {**line, "as_found": found, "as_now": now, "holes": holes}


def insert_hole(line: Mapping[str, Any], at: int, state: str) -> dict[str, Any]:
    """Return a line with a hole that was skipped; it becomes hole `at`, the rest move on."""
    found, now = (_put(line[field], at, state) for field in ("as_found", "as_now"))
    holes = {
        str(int(name) + (int(name) >= at)): hole for name, hole in line.get("holes", {}).items()
    }
    return {**line, "as_found": found, "as_now": now, "holes": holes}


def remove_hole(line: Mapping[str, Any], at: int) -> dict[str, Any]:
    """Return a line without a hole that was counted twice; the rest move back."""
    found, now = (line[field][: at - 1] + line[field][at:] for field in ("as_found", "as_now"))
    holes = {
        str(int(name) - (int(name) > at)): hole
        for name, hole in line.get("holes", {}).items()
        if int(name) != at
    }
    return {**line, "as_found": found, "as_now": now, "holes": holes}


def _put(states: str, at: int, state: str) -> str:
    return states[: at - 1] + state + states[at - 1 :]
