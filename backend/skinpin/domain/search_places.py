"""Place words as terms: members and ranges of them, strakes, hands, zones of a definition."""

import re
from collections.abc import Callable, Iterator, Mapping
from typing import Any, NamedTuple

from skinpin.domain.place import Definition
from skinpin.domain.place_stations import in_tenth_nm
from skinpin.domain.search_rows import Sought

Holds = Callable[[Sought], bool]
Structure = Mapping[str, Any]
HANDS = {
    "P": ("p", "port", "left"),
    "S": ("s", "starboard", "stbd", "right"),
    "C": ("c", "centreline", "centerline", "centre", "center"),
}
FIGURED = re.compile(r"[^0-9]*([0-9].*)")
BARE = re.compile(r"[0-9]+")
JOINS = ("-", "–", "..")


def names_of(member: str) -> list[str]:
    """Return what a member is called: F12A, and 12A where letters follow the figures.

    A member without figures is a word like others, and a bare figure may be anything.
    """
    found = FIGURED.fullmatch(member.lower())
    if found is None:
        return []
    own = [member.lower()]
    return own if BARE.fullmatch(found[1]) or found[1] in own else [*own, found[1]]


class Member(NamedTuple):
    """A member of a structure, its station in 0.1 nm."""

    structure: str
    name: str
    station: int


class Places:
    """The members, strakes, hands and zones by the words that people type for them."""

    def __init__(self, definition: Definition | None) -> None:
        self.members: dict[str, list[Member]] = {}
        self.strakes: dict[str, list[tuple[str, int]]] = {}
        self.zones = [str(zone["zone"]) for zone in definition["zones"]] if definition else []
        for structure in definition["structures"] if definition else ():
            self._take(structure)

    def _take(self, structure: Structure) -> None:
        name = structure["name"]
        for member in structure["members"]:
            station = in_tenth_nm(structure, member["station"])
            for phrase in names_of(member["name"]):
                named = Member(name, member["name"], station)
                self.members.setdefault(phrase, []).append(named)
        for at, strake in enumerate(structure["strakes"]):
            self.strakes.setdefault(str(strake).lower(), []).append((name, at))

    def phrases(self) -> Iterator[tuple[str, Holds]]:
        """Return each word for one place, and whether a row lies there; hands before strakes."""
        for hand, names in HANDS.items():
            yield from ((name, _on_hand(hand)) for name in names)
        yield from ((zone, _in_zone(zone)) for zone in self.zones)
        for phrase, members in self.members.items():
            yield from ((phrase, _at_member(member)) for member in members)
        hands = {phrase for names in HANDS.values() for phrase in names}
        for phrase, strakes in self.strakes.items():
            if phrase not in hands:
                yield from ((phrase, _on_strakes(name, at, at)) for name, at in strakes)

    def between(self, text: str) -> list[Holds]:
        """Return what lies from one member or strake to another: F10-F13, K–B1, F10..F13."""
        parts = (text.partition(join) for join in JOINS if join in text)
        return [holds for first, _, last in parts for holds in self._from_to(first, last)]

    def _from_to(self, first: str, last: str) -> Iterator[Holds]:
        for one in self.members.get(first, ()):
            for other in self.members.get(last, ()):
                if one.structure == other.structure:
                    ends = sorted((one.station, other.station))
                    yield _between(one.structure, *ends)
        for name, at in self.strakes.get(first, ()):
            for other_name, after in self.strakes.get(last, ()):
                if name == other_name:
                    yield _on_strakes(name, min(at, after), max(at, after))


def _on_hand(hand: str) -> Holds:
    return lambda sought: bool(sought.row["hand"] == hand)


def _in_zone(zone: str) -> Holds:
    return lambda sought: zone in sought.row["zones"]


def _at_member(member: Member) -> Holds:
    """Say it of a row placed by the member, in the bay aft of it, or running past it."""

    def holds(sought: Sought) -> bool:
        row, along = sought.row, sought.along
        if row["structure"] != member.structure:
            return False
        is_past = along is not None and along[0] <= member.station <= along[1]
        return bool(member.name in (row["member"], sought.bay) or is_past)

    return holds


def _between(structure: str, low: int, high: int) -> Holds:
    def holds(sought: Sought) -> bool:
        along = sought.along
        return (
            sought.row["structure"] == structure
            and along is not None
            and along[0] <= high
            and low <= along[1]
        )

    return holds


def _on_strakes(structure: str, low: int, high: int) -> Holds:
    """Two spans that only meet at a line are not on each other; a line is on what it touches."""

    def holds(sought: Sought) -> bool:
        own = sought.strakes
        if sought.row["structure"] != structure or own is None:
            return False
        meets = own[0] <= high and low <= own[1]
        is_line = low == high or own[0] == own[1]
        return meets and (is_line or (own[0] < high and low < own[1]))

    return holds
