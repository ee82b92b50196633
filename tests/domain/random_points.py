"""Points on an airframe drawn by a chance that both languages have: the same seed, the same points.

The generator is the linear congruential one of Numerical Recipes (1664525, 1013904223, 2^32).
"""

from collections.abc import Iterator
from typing import Any

from skinpin.domain.place_stations import at_station, in_tenth_nm, members_in_order
from skinpin.domain.quantities import TENTH_NM

POINTS = 10_000


class Chance:
    """Whole numbers from a seed."""

    def __init__(self, seed: int) -> None:
        self.now = seed

    def below(self, limit: int) -> int:
        """Return a number from 0 up to a limit that is below 2^24."""
        self.now = (self.now * 1664525 + 1013904223) % 2**32
        return (self.now >> 8) % limit


def points(definition: dict[str, Any], seed: int, count: int = POINTS) -> Iterator[dict[str, Any]]:
    """Return places from the first member of a structure to its last, to a thousandth of the unit.

    Every fourth lies exactly on a member or on the edge of a zone.
    """
    chance = Chance(seed)
    for _ in range(count):
        structure = definition["structures"][chance.below(len(definition["structures"]))]
        hand = structure["hands"][chance.below(len(structure["hands"]))]
        place = {
            "structure": structure["name"],
            "hand": hand,
            **along(definition, structure, chance),
        }
        strakes = structure["strakes"]
        if strakes:
            low = chance.below(len(strakes))
            high = min(low + chance.below(3), len(strakes) - 1)
            place["strakes"] = [strakes[low], strakes[high]]
        yield place


def along(definition: dict[str, Any], structure: dict[str, Any], chance: Chance) -> dict[str, Any]:
    """Return member and offset of a station drawn on a structure."""
    stations, members = members_in_order(structure)
    edges = [member["station"] for member in members]
    for zone in definition["zones"]:
        if zone["structure"] == structure["name"]:
            edges += [edge for edge in zone.get("along") or () if edge is not None]
    tops = [edge for edge in edges if stations[0] <= in_tenth_nm(structure, edge) <= stations[-1]]
    step = TENTH_NM[structure["unit"]] // 1000
    steps = (stations[-1] - stations[0]) // step + 1
    if chance.below(4) == 0:
        station = in_tenth_nm(structure, tops[chance.below(len(tops))])
    else:
        station = stations[0] + chance.below(steps) * step
    return at_station(structure, station, 3)
