"""Checks of zones: half-open rules, their gaps and overlaps in words, one zone for each point."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from skinpin.domain.definition_members import figure_troubles, range_troubles, tenth_nm
from skinpin.domain.definition_trouble import Trouble, said
from skinpin.domain.place_zones import HANDS
from skinpin.domain.quantities import TENTH_NM, rounded_text

Definition = Mapping[str, Any]
Structure = Mapping[str, Any]
MOST_WORDS = 200
GAP_HINT = "Add a zone, or leave an end of one open; a range ends before its last station."
OVERLAP_HINT = "Let one zone begin where the other ends: ranges are half-open, from and not to."


class Area(NamedTuple):
    """Stations (0.1 nm, `to` included only where it is `begin`) and strake lines with their zones.

    `low` and `high` are half-open numbers of lines.
    """

    hand: str
    begin: int
    to: int
    low: int
    high: int
    zones: tuple[str, ...]


class _Rule(NamedTuple):
    zone: str
    hand: str | None
    begin: int | None
    end: int | None
    strakes: Sequence[int] | None

    def holds(self, hand: str, line: int, station: int) -> bool:
        return (
            self.hand in (None, hand)
            and (self.begin is None or self.begin <= station)
            and (self.end is None or station < self.end)
            and (not self.strakes or self.strakes[0] <= line < self.strakes[1])
        )


def zone_troubles(definition: Definition) -> Iterator[Trouble]:
    """Return what is wrong with each zone rule by itself."""
    structures = {one["name"]: one for one in definition["structures"]}
    for place, zone in enumerate(definition["zones"]):
        at = f"zones/{place}"
        structure = structures.get(zone["structure"])
        if structure is None:
            message = (
                f"Zone {zone['zone']} is on {zone['structure']}, and there is no such structure."
            )
            hint = f"There are {', '.join(structures)}."
            yield Trouble(f"{at}/structure", "no_structure", message, hint)
            continue
        yield from _hand(zone, structure, at)
        yield from _along(zone, structure, at)
        where, last = structure["name"], len(lines_of(structure))
        yield from range_troubles(zone.get("strakes"), last, at, where)
        yield from _access(zone, at)


def _hand(zone: Mapping[str, Any], structure: Structure, at: str) -> Iterator[Trouble]:
    hand = zone.get("hand")
    if hand is not None and hand not in structure["hands"]:
        has = ", ".join(HANDS[one] for one in structure["hands"])
        message = f"Zone {zone['zone']} is for {HANDS[hand]}; {structure['name']} has {has}."
        yield Trouble(f"{at}/hand", "no_hand", message, "Choose another hand, or none for any.")


def _along(zone: Mapping[str, Any], structure: Structure, at: str) -> Iterator[Trouble]:
    ends = zone.get("along") or (None, None)
    for one in ends:
        if one is not None:
            yield from figure_troubles(one, structure["unit"], f"{at}/along")
    begin, end = (None if one is None else tenth_nm(one, structure["unit"]) for one in ends)
    if begin is not None and end is not None and begin >= end:
        message = f"Zone {zone['zone']} runs from {ends[0]} to {ends[1]}: nothing lies in it."
        yield Trouble(f"{at}/along", "empty_zone", message, "Begin before the end.")


def _access(zone: Mapping[str, Any], at: str) -> Iterator[Trouble]:
    seen = set()
    for place, item in enumerate(zone.get("access") or []):
        if item["name"] in seen:
            message = f"Zone {zone['zone']} has two access items called {item['name']}."
            path = f"{at}/access/{place}/name"
            yield Trouble(path, "name_twice", message, "Give one another name.")
        seen.add(item["name"])


def cover_troubles(definition: Definition) -> Iterator[Trouble]:
    """Return every place that has no zone, or more than one: a record there is in no report."""
    gaps, overlaps = zone_words(definition)
    for words in overlaps:
        yield Trouble("zones", "zones_overlap", f"{words}.", OVERLAP_HINT)
    for words in gaps:
        yield Trouble("zones", "no_zone", f"{words}.", GAP_HINT)
    for place, zone in enumerate(definition["zones"]):
        counted = cells_in(definition, zone)
        if zone.get("cells") not in (None, counted):
            message = (
                f"Zone {zone['zone']} says {zone['cells']} cells; by its rule it has {counted}."
            )
            hint = "Bays and strakes between the members are counted."
            yield said(f"zones/{place}/cells", "cells_differ", message, hint)


def zone_words(definition: Definition) -> tuple[list[str], list[str]]:
    """Return gaps and overlaps in words: "Hull, port, F4 to F7, K to C: no zone".

    Looked at is each hand and strake line of a structure from its first member to its last, both
    included. Exact: stations are whole 0.1 nm and ranges half-open.
    """
    gaps, overlaps = [], []
    for structure in definition["structures"]:
        for area in areas(definition, structure):
            if not area.zones:
                gaps.append(f"{_area_words(structure, area)}: no zone")
            elif len(area.zones) > 1:
                named = f"in zones {' and '.join(area.zones)}"
                overlaps.append(f"{_area_words(structure, area)}: {named}")
    return gaps[:MOST_WORDS], overlaps[:MOST_WORDS]


def areas(definition: Definition, structure: Structure) -> list[Area]:
    """Return a structure cut at every edge of a zone, joined again where the zones are the same."""
    rules = [
        rule
        for zone in definition["zones"]
        if zone["structure"] == structure["name"]
        if (rule := _rule(structure, zone))
    ]
    stations = [tenth_nm(one["station"], structure["unit"]) or 0 for one in structure["members"]]
    first, last = min(stations), max(stations)
    edges = {edge for rule in rules for edge in (rule.begin, rule.end) if edge is not None}
    cuts = sorted({first, last, *(edge for edge in edges if first < edge < last)})
    found: list[Area] = []
    for hand in structure["hands"]:
        for line in range(max(len(lines_of(structure)), 1)):
            found += _along_line(rules, hand, line, cuts)
    return _across(found)


def _rule(structure: Structure, zone: Mapping[str, Any]) -> _Rule:
    ends = zone.get("along") or (None, None)
    begin, end = (None if one is None else tenth_nm(one, structure["unit"]) for one in ends)
    return _Rule(str(zone["zone"]), zone.get("hand"), begin, end, zone.get("strakes"))


def _along_line(rules: Sequence[_Rule], hand: str, line: int, cuts: Sequence[int]) -> list[Area]:
    found: list[Area] = []
    for place, begin in enumerate(cuts):
        to = cuts[min(place + 1, len(cuts) - 1)]
        held = (rule.zone for rule in rules if rule.holds(hand, line, begin))
        zones = tuple(dict.fromkeys(held))
        if found and found[-1].zones == zones:
            found[-1] = found[-1]._replace(to=to)
        else:
            found.append(Area(hand, begin, to, line, line + 1, zones))
    return found


def _across(found: Iterable[Area]) -> list[Area]:
    """Join areas of neighbouring lines that have the same stations and zones."""
    made: dict[tuple[Any, ...], Area] = {}
    joined: list[Area] = []
    for area in found:
        key = (area.hand, area.begin, area.to, area.zones)
        before = made.get(key)
        if before and before.high == area.low:
            joined[joined.index(before)] = made[key] = before._replace(high=area.high)
        else:
            joined.append(area)
            made[key] = area
    return joined


def lines_of(structure: Structure) -> Sequence[str]:
    """Return the strakes of a structure; stringers where it has no strakes."""
    return structure["strakes"] or structure.get("stringers") or []


def _area_words(structure: Structure, area: Area) -> str:
    ends = [_at(structure, area.begin), _at(structure, area.to)]
    along = f"{ends[0]} itself" if area.begin == area.to else " to ".join(ends)
    words = [structure["name"], HANDS[area.hand] if len(structure["hands"]) > 1 else "", along]
    lines = lines_of(structure)
    if len(lines) > 1 and (area.low, area.high) != (0, len(lines)):
        last = min(area.high, len(lines) - 1)
        words.append(" to ".join(dict.fromkeys([lines[area.low], lines[last]])))
    return ", ".join(word for word in words if word)


def _at(structure: Structure, station: int) -> str:
    for member in structure["members"]:
        if tenth_nm(member["station"], structure["unit"]) == station:
            return str(member["name"])
    text = rounded_text(station, TENTH_NM[structure["unit"]], 3)
    return f"{structure['axis']} {text.rstrip('0').rstrip('.')}"


def count_cells(definition: Definition) -> int:
    """Return how many cells an airframe has: bay × strake, bay × face, or the bay.

    The keel line is counted in the cells beside it, so a structure of two hands has no centre.
    """
    return sum(
        max(len(one["members"]) - 1, 0) * _rows(one, None) * len(_sides(one))
        for one in definition["structures"]
    )


def cells_in(definition: Definition, zone: Mapping[str, Any]) -> int:
    """Return how many cells begin in a zone by its rule."""
    structure = next(one for one in definition["structures"] if one["name"] == zone["structure"])
    rule = _rule(structure, zone)
    sides = [hand for hand in _sides(structure) if rule.hand in (None, hand)]
    stations = sorted(
        tenth_nm(one["station"], structure["unit"]) or 0 for one in structure["members"]
    )
    bays = [
        one
        for one in stations[:-1]
        if (rule.begin is None or rule.begin <= one) and (rule.end is None or one < rule.end)
    ]
    return len(bays) * _rows(structure, rule.strakes) * len(sides)


def _sides(structure: Structure) -> list[str]:
    return [hand for hand in structure["hands"] if hand != "C"] or list(structure["hands"])


def _rows(structure: Structure, strakes: Sequence[int] | None) -> int:
    lines = lines_of(structure)
    if len(lines) > 1:
        low, high = strakes or (0, len(lines))
        return max(min(high, len(lines) - 1) - low, 0)
    return max(len(structure["faces"]), 1)
