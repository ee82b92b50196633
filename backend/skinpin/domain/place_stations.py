"""Structures, their members, and the station of a place."""

import re
from bisect import bisect_right
from collections.abc import Mapping
from typing import Any

from skinpin.domain.errors import Refused
from skinpin.domain.quantities import TENTH_NM, places_of, rounded_text, scaled, to_tenth_nm

Definition = Mapping[str, Any]
Structure = Mapping[str, Any]
Member = Mapping[str, Any]
Place = Mapping[str, Any]

MIXED_UNIT_PLACES = 3
NUMBER = re.compile(r"[+-]?[0-9]*\.?[0-9]+")
# What either language takes for white space, save the line feed, which parts a place.
SPACES = re.compile(
    "[\t\x0b-\r\x1c-\x20\x85\xa0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000\ufeff]"
)
REST = re.compile(r"\s*(?:([+-])\s*([0-9]*\.?[0-9]+))?")


def structure_of(definition: Definition, place: Place) -> Structure:
    """Return the structure a place is on."""
    name = place.get("structure")
    for structure in definition["structures"]:
        if structure["name"] == name:
            return structure  # type: ignore[no-any-return]
    raise Refused(
        "no_structure",
        f"{definition['name']} has no structure called {name}.",
        f"It has {', '.join(structure['name'] for structure in definition['structures'])}.",
    )


def member_of(structure: Structure, name: Any) -> Member:
    """Return a member by its name, which is never read as a figure: 340B is a name."""
    return member_station(structure, name)[0]


def member_station(structure: Structure, name: Any) -> tuple[Member, int]:
    """Return a member by its name, with its station in 0.1 nm."""
    found = _ready(structure).by_name.get(name) if isinstance(name, str) else None
    if found is not None:
        return found
    raise Refused(
        "no_member",
        f"{structure['name']} has no member called {name}.",
        f"It has {structure['members'][0]['name']} to {structure['members'][-1]['name']}.",
    )


def in_tenth_nm(structure: Structure, station: str) -> int:
    """Return a station, decimal text in the structure's unit, in 0.1 nm."""
    return to_tenth_nm({"value": station, "unit": structure["unit"]})


class _Ready:
    """The members of a structure in the order of their stations (0.1 nm), and by name."""

    def __init__(self, structure: Structure) -> None:
        pairs = [(in_tenth_nm(structure, row["station"]), row) for row in structure["members"]]
        self.structure = structure
        self.by_name = {row["name"]: (row, station) for station, row in reversed(pairs)}
        pairs.sort(key=lambda pair: pair[0])
        self.stations = [station for station, _ in pairs]
        self.members = [member for _, member in pairs]


_READY: dict[int, _Ready] = {}


def _ready(structure: Structure) -> _Ready:
    """Return what is worked out once for a structure and kept."""
    kept = _READY.get(id(structure))
    if kept is None or kept.structure is not structure:
        if len(_READY) > 256:
            _READY.clear()
        kept = _READY[id(structure)] = _Ready(structure)
    return kept


def members_in_order(structure: Structure) -> tuple[list[int], list[Member]]:
    """Return the stations in 0.1 nm and the members, by station."""
    kept = _ready(structure)
    return kept.stations, kept.members


def bay_at(structure: Structure, station: int) -> int:
    """Return the index of the member a station (0.1 nm) lies at or after; -1 before the first."""
    return bisect_right(members_in_order(structure)[0], station) - 1


def member_before(structure: Structure, station: str) -> Member | None:
    """Return the member at or before a station (decimal text), or None before the first."""
    at = bay_at(structure, in_tenth_nm(structure, station))
    return None if at < 0 else members_in_order(structure)[1][at]


def end_tenth_nm(structure: Structure, end: Mapping[str, Any]) -> int:
    """Return the station in 0.1 nm of one end of a place: member + offset."""
    station = member_station(structure, end.get("member"))[1]
    offset = end.get("offset")
    return station if offset is None else station + to_tenth_nm(offset)


def span_tenth_nm(structure: Structure, place: Place) -> tuple[int, int]:
    """Return the stations of a place from its forward or inboard end to its other end."""
    first = end_tenth_nm(structure, place)
    if not place.get("to"):
        return first, first
    last = end_tenth_nm(structure, place["to"])
    return min(first, last), max(first, last)


def station_of(definition: Definition, place: Place) -> dict[str, str]:
    """Return the station of a place's forward or inboard end, in the structure's unit."""
    structure = structure_of(definition, place)
    first = end_tenth_nm(structure, place)
    last = span_tenth_nm(structure, place)[0] if place.get("to") else first
    end = place if first == last else place["to"]
    offset = end.get("offset") or {"value": "0", "unit": structure["unit"]}
    station = member_of(structure, end["member"])["station"]
    places = max(places_of(station), places_of(offset["value"]))
    if offset["unit"] != structure["unit"]:
        places = max(places, MIXED_UNIT_PLACES)
    return {
        "value": rounded_text(last, TENTH_NM[structure["unit"]], places),
        "unit": structure["unit"],
    }


def at_station(structure: Structure, station: int, places: int = 1) -> dict[str, Any]:
    """Return member and offset of a station in 0.1 nm.

    Before the first member the offset is less than nought.
    """
    stations, members = members_in_order(structure)
    at = max(bay_at(structure, station), 0)
    offset = rounded_text(station - stations[at], TENTH_NM[structure["unit"]], places)
    return {
        "member": members[at]["name"],
        "offset": {"value": offset, "unit": structure["unit"]},
    }


def nearest_end(structure: Structure, end: Mapping[str, Any]) -> Mapping[str, Any]:
    """Return an end of a place by the member that stands at or before it.

    As entered while that is the member named. A place stays member + offset as entered; by another
    issue of the definition another member may be nearer: F6 + 15.0 reads F6N + 5.0.
    """
    member, begin = member_station(structure, end.get("member"))
    offset = end.get("offset")
    station = begin if offset is None else begin + to_tenth_nm(offset)
    stations, members = members_in_order(structure)
    at = max(bisect_right(stations, station) - 1, 0)
    nearest = members[at]
    if nearest is member:
        return end
    figures = (member["station"], nearest["station"], "0" if offset is None else offset["value"])
    places = max(map(places_of, figures))
    if offset is not None and offset["unit"] != structure["unit"]:
        places = max(places, MIXED_UNIT_PLACES)
    text = rounded_text(station - stations[at], TENTH_NM[structure["unit"]], places)
    return {"member": nearest["name"], "offset": {"value": text, "unit": structure["unit"]}}


def bay_end(structure: Structure, place: Place) -> Member | None:
    """Return the last member of a place known by its bay only; None where that is the next one.

    Its offset is the middle of the bay as it was entered; frames put in since make it several bays.
    """
    begin = member_station(structure, place.get("member"))[1]
    offset = place.get("offset")
    half = 0 if offset is None else to_tenth_nm(offset)
    stations, members = members_in_order(structure)
    first = bisect_right(stations, begin) - 1
    # The middle of a bay is kept to a thousandth, so its end is known to two of them.
    last = bisect_right(stations, begin + 2 * half + TENTH_NM[structure["unit"]] // 500) - 1
    return members[last] if last > first + 1 else None


def plain_spaces(text: str) -> str:
    """Return a typed text with every kind of white space as a space, a line feed as it is."""
    return SPACES.sub(" ", text)


def read_position(structure: Structure, text: str) -> dict[str, Any]:
    """Return member and offset of a position as people type it.

    "F6 + 2.0", "340B + 10.25", "Sta 72" and "72.0" are read; a member's name never counts as a
    figure, so 340B + 10.25 is 10.25 past 340B and not 350.25.
    """
    typed = plain_spaces(text).strip().replace("\N{MINUS SIGN}", "-").replace(",", ".")
    bare = _without_axis(structure, typed)
    for written, name in _names(structure):
        rest = _after(typed, written) or _after(bare, written)
        if rest is not None:
            offset = {"value": rest, "unit": structure["unit"]}
            return {"member": name, "offset": offset}
    station = bare.lstrip("+")
    if NUMBER.fullmatch(bare) and scaled(station, TENTH_NM[structure["unit"]]) is not None:
        return at_station(structure, in_tenth_nm(structure, station), max(places_of(bare), 1))
    raise Refused(
        "no_position",
        f"“{text}” is no position on {structure['name']}.",
        f"Type a member and a distance, such as {structure['members'][0]['name']} + 2.0.",
    )


def _names(structure: Structure) -> list[tuple[str, str]]:
    """Return how members are written, the longest first, with their names."""
    rows = structure["members"]
    names = [(row["name"], row["name"]) for row in rows]
    names += [(row["written"], row["name"]) for row in rows if row.get("written")]
    return sorted(names, key=lambda pair: -len(pair[0]))


def _without_axis(structure: Structure, typed: str) -> str:
    for axis in (structure["axis"], "FS", "Sta"):
        if typed.lower().startswith(f"{axis} ".lower()):
            return typed[len(axis) :].strip()
    return typed


def _after(typed: str, name: str) -> str | None:
    if not typed.lower().startswith(name.lower()):
        return None
    found = REST.fullmatch(typed[len(name) :])
    if found is None:
        return None
    sign = "-" if found[1] == "-" else ""
    return f"{sign}{found[2]}" if found[2] else "0.0"
