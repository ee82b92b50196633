"""Where rows lie, in 0.1 nm, and which lie near each other: sweeps along a structure."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from heapq import heappop, heappush
from typing import Any, NamedTuple

from skinpin.domain.errors import Refused
from skinpin.domain.kinds import kind_group
from skinpin.domain.place import Definition, hand_of, strake_indexes, structure_of
from skinpin.domain.place_stations import (
    end_tenth_nm,
    member_station,
    nearest_end,
    span_tenth_nm,
)
from skinpin.domain.quantities import tenth_nm_or_none

Row = Mapping[str, Any]


class Spot(NamedTuple):
    """A row with what its place says, lengths in 0.1 nm; `at` is its rank among the rows.

    `offset` is that from `member`, the nearest by the definition of today. `beside` is what brings
    spots together where there are no strakes: the part as named, or the member where no part is.
    """

    at: int
    row: Row
    structure: Mapping[str, Any]
    hand: str
    group: str
    station: int
    length: int
    offset: int
    strakes: tuple[int, int] | None
    beside: tuple[str, str]
    member: str


FURTHEST = 10**13
"""A kilometre: no place lies further off, and a browser's plain numbers hold it exactly."""
Couples = Iterator[tuple[Spot, Spot]]


class Reader:
    """Reads rows against a definition; what many rows share is asked of it once."""

    def __init__(self, definition: Definition) -> None:
        self.definition = definition
        self.kept: dict[Any, Any] = {}

    def spot(self, at: int, row: Row) -> Spot | None:
        """Return a row as a spot, or None where it has no place or nothing to be twice."""
        kind, place = row["kind"], row["place"]
        group = kind_group(kind) or kind
        if group in (None, "nil") or not isinstance(place, dict):
            return None
        try:
            structure, hand, strakes = self._across(place)
            first, last = span_tenth_nm(structure, place)
            member = str(nearest_end(structure, place)["member"])
            offset = end_tenth_nm(structure, place) - member_station(structure, member)[1]
            if max(-first, last, abs(offset)) > FURTHEST:
                return None  # no aircraft is a kilometre long
        except (Refused, LookupError, TypeError, ValueError, AttributeError):
            # A place may hold anything: another tablet's version, or no place at all.
            return None
        length = min(max(tenth_nm_or_none(row.get("length")) or 0, last - first), FURTHEST)
        part = (row["part"] or "").strip(" ").lower()
        beside = ("part", part) if part else ("member", member)
        return Spot(at, row, structure, hand, group, first, length, offset, strakes, beside, member)

    def _across(self, place: Mapping[str, Any]) -> tuple[Any, str, tuple[int, int] | None]:
        named = place.get("strakes")
        if named is not None and not isinstance(named, list):
            raise TypeError("strakes are a list")
        key = (place["structure"], place["hand"], tuple(named or ()))
        if key not in self.kept:
            structure = structure_of(self.definition, place)
            found = structure, hand_of(structure, place), strake_indexes(structure, place)
            self.kept[key] = found
        return self.kept[key]  # type: ignore[no-any-return]


def overlapping(bundle: Iterable[Spot]) -> Couples:
    """Find each pair no further apart than half their lengths together.

    Each length is laid half before and half behind its station (all doubled), and a sweep aft
    keeps those that have not ended.
    """
    begins = sorted((2 * spot.station - spot.length, spot.at, spot) for spot in bundle)
    running: list[tuple[int, int, Spot]] = []
    for begin, at, spot in begins:
        while running and running[0][0] < begin:
            heappop(running)
        for _, _, other in running:
            yield other, spot
        heappush(running, (begin + 2 * spot.length, at, spot))


def within(bundle: Sequence[Spot], reach: int) -> Couples:
    """Find each pair no further apart than `reach`, of a bundle in order."""
    for at, spot in enumerate(bundle):
        furthest = spot.station + reach
        for after in range(at + 1, len(bundle)):
            other = bundle[after]
            if other.station > furthest:
                break
            yield spot, other


def across(some: Sequence[Spot], others: Sequence[Spot], reach: int) -> Couples:
    """Find each pair of one from either side no further apart than `reach`, both in order."""
    begin = 0
    for spot in some:
        along = spot.offset
        while begin < len(others) and others[begin].offset < along - reach:
            begin += 1
        for at in range(begin, len(others)):
            other = others[at]
            if other.offset > along + reach:
                break
            yield spot, other
