"""Steps from a place to its neighbour: one bay, one strake. What can't be has its reason."""

from typing import Any, NamedTuple

from skinpin.domain.place_stations import (
    Definition,
    Place,
    bay_at,
    members_in_order,
    span_tenth_nm,
    structure_of,
)
from skinpin.domain.place_zones import hand_of, strake_indexes

STRAKE_WORDS = {"K": "the keel", "C": "the chine", "G": "the gunwale", "CL": "the deck centreline"}


class Step(NamedTuple):
    """The place a step leads to, or the reason why there is none."""

    place: dict[str, Any] | None
    reason: str = ""


def step_bay(definition: Definition, place: Place, step: int) -> Step:
    """Return the next bay aft or outboard (+1), or forward or inboard (-1)."""
    structure = structure_of(definition, place)
    members = members_in_order(structure)[1]
    at = max(bay_at(structure, span_tenth_nm(structure, place)[0]), 0)
    if not 0 <= at + step < len(members):
        return Step(None, f"at {members[at]['name']}")
    moved = {name: value for name, value in place.items() if name != "to"}
    offset = {"value": "0.0", "unit": structure["unit"]}
    return Step({**moved, "member": members[at + step]["name"], "offset": offset})


def step_strake(definition: Definition, place: Place, step: int) -> Step:
    """Return the next strake up from the keel (+1) or down to it (-1)."""
    structure = structure_of(definition, place)
    names = structure["strakes"]
    if not names:
        return Step(None, "no strakes here")
    strakes = strake_indexes(structure, place)
    if strakes is None:
        return Step({**place, "strakes": names[:2]})
    lower, upper = strakes[0] + step, strakes[1] + step
    if lower < 0:
        return Step(None, f"at {STRAKE_WORDS.get(names[0], names[0])}")
    if upper >= len(names):
        return Step(None, f"at {STRAKE_WORDS.get(names[-1], names[-1])}")
    if hand_of(structure, place) == "C":
        return Step(None, "choose port or starboard")
    return Step({**place, "strakes": [names[lower], names[upper]]})
