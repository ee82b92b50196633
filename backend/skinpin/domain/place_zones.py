"""Zones and cells: rules on structure, hand, station and strakes. A boundary belongs aft."""

import re
from collections.abc import Mapping
from typing import Any, NamedTuple

from skinpin.domain.errors import Refused
from skinpin.domain.place_stations import (
    Definition,
    Place,
    Structure,
    bay_at,
    in_tenth_nm,
    members_in_order,
    span_tenth_nm,
    structure_of,
)

NO_ZONE = "none"
"""Asked for in a zone's place: what lies off the aircraft, or where no zone is any more."""
HANDS = {"P": "port", "S": "starboard", "C": "centreline"}


def strake_indexes(structure: Structure, place: Place) -> tuple[int, int] | None:
    """Return the lower and upper strake of a place, or None where it names none."""
    strakes = structure["strakes"]
    named = [strake for strake in place.get("strakes") or () if strake is not None]
    for strake in named:
        if strake not in strakes:
            raise Refused(
                "no_strake",
                f"{structure['name']} has no strake called {strake}.",
                f"It has {', '.join(strakes) or 'none'}.",
            )
    indexes = [strakes.index(strake) for strake in named]
    return (min(indexes), max(indexes)) if indexes else None


def hand_of(structure: Structure, place: Place) -> str:
    """Return the hand of a place: what touches the keel line only is on the centreline."""
    hand = place.get("hand")
    if hand not in structure["hands"]:
        words = ", ".join(HANDS[known] for known in structure["hands"])
        shown = HANDS.get(str(hand), hand)
        raise Refused("no_hand", f"{structure['name']} has no hand {shown}.", f"It has {words}.")
    return _hand_on(structure, str(hand), strake_indexes(structure, place))


def _hand_on(structure: Structure, hand: str, strakes: tuple[int, int] | None) -> str:
    return "C" if strakes == (0, 0) and "C" in structure["hands"] else hand


def zone_of(definition: Definition, place: Place) -> str:
    """Return the zone of a place's forward or inboard end.

    A record on two strakes counts by the lower one, so B3–C lies below the chine and C–S1 above.

    Raises
    ------
    Refused
        Outside every zone, in more than one, or the strakes are needed and not given.
    """
    structure = structure_of(definition, place)
    station, _ = span_tenth_nm(structure, place)
    rules = _rules(definition, structure, place)
    names = list({rule.zone["zone"]: None for rule in rules if rule.holds(station)})
    if len(names) == 1:
        return str(names[0])
    if not names:
        raise Refused(
            "outside_airframe",
            f"{_named(structure, place)} is outside the airframe: no zone has it.",
            "Look at hand, member and distance again.",
        )
    if strake_indexes(structure, place) is None and structure["strakes"]:
        raise Refused(
            "strakes_needed",
            f"{_named(structure, place)} may be in zone {' or '.join(names)}.",
            "Say between which strakes it is.",
        )
    raise Refused(
        "zones_overlap",
        f"{_named(structure, place)} is in {len(names)} zones: {', '.join(names)}.",
        "Mend the zones of the airframe definition.",
    )


def zones_of(definition: Definition, place: Place) -> list[str]:
    """Return the zones that a place from one end to the other runs through, its own first."""
    own = zone_of(definition, place)
    if not place.get("to"):
        return [own]
    structure = structure_of(definition, place)
    first, last = span_tenth_nm(structure, place)
    through = [
        str(rule.zone["zone"])
        for rule in _rules(definition, structure, place)
        if rule.holds(first, last)
    ]
    return list(dict.fromkeys([own, *through]))


class Rule(NamedTuple):
    """A zone's rule, its stations in 0.1 nm; None is open."""

    zone: Mapping[str, Any]
    strakes: list[int] | None
    begin: int | None
    end: int | None

    def has_strake(self, strake: int | None) -> bool:
        """Say whether a strake lies in the zone; one that is not named may."""
        if strake is None or not self.strakes:
            return True
        return self.strakes[0] <= strake < self.strakes[1]

    def holds(self, station: int, last: int | None = None) -> bool:
        """Say whether a station, or the way from it to another, touches the zone."""
        reached = station if last is None else max(station, last - 1)
        return (self.begin is None or self.begin <= reached) and (
            self.end is None or station < self.end
        )


def _rules(definition: Definition, structure: Structure, place: Place) -> list[Rule]:
    strakes = strake_indexes(structure, place)
    known = place.get("hand") in structure["hands"]
    hand = _hand_on(structure, place["hand"], strakes) if known else hand_of(structure, place)
    return _kept_rules(definition, structure, hand, strakes[0] if strakes else None)


def rules_on(
    definition: Definition, structure: Structure, hand: str, strakes: tuple[int, int] | None
) -> list[Rule]:
    """Return the rules for a known hand and the strakes of a place."""
    hand = _hand_on(structure, hand, strakes)
    return _kept_rules(definition, structure, hand, strakes[0] if strakes else None)


_RULES: dict[int, tuple[Definition, dict[tuple[str, str, int | None], list[Rule]]]] = {}


def _kept_rules(
    definition: Definition, structure: Structure, hand: str, strake: int | None
) -> list[Rule]:
    """Return the rules for a hand and strake of a structure; kept for a definition once seen."""
    kept = _RULES.get(id(definition))
    if kept is None or kept[0] is not definition:
        if len(_RULES) > 64:
            _RULES.clear()
        kept = _RULES[id(definition)] = (definition, {})
    key = (structure["name"], hand, strake)
    if key not in kept[1]:
        rules = (
            _rule(structure, zone)
            for zone in definition["zones"]
            if zone["structure"] == structure["name"] and zone.get("hand") in (hand, None)
        )
        kept[1][key] = [rule for rule in rules if rule.has_strake(strake)]
    return kept[1][key]


def _rule(structure: Structure, zone: Mapping[str, Any]) -> Rule:
    begin, end = (
        None if one is None else in_tenth_nm(structure, one)
        for one in zone.get("along") or (None, None)
    )
    return Rule(zone, zone.get("strakes"), begin, end)


def _named(structure: Structure, place: Place) -> str:
    return f"{structure['name']}, {HANDS.get(place['hand'], place['hand'])}, {place['member']}"


def cell_of(definition: Definition, place: Place) -> dict[str, Any]:
    """Return the cell a place lies in: bay and strake, or bay and face where there are no strakes.

    A bay that is open at an end of the structure has None for the member it lacks.
    """
    structure = structure_of(definition, place)
    at = bay_at(structure, span_tenth_nm(structure, place)[0])
    names = [member["name"] for member in members_in_order(structure)[1]]
    bay = [names[at] if at >= 0 else None, names[at + 1] if at + 1 < len(names) else None]
    cell = {"structure": structure["name"], "hand": hand_of(structure, place), "bay": bay}
    strakes = strake_indexes(structure, place)
    if strakes is not None:
        lower = min(strakes[0], len(structure["strakes"]) - 2)
        return {**cell, "strakes": structure["strakes"][lower : lower + 2]}
    return {**cell, "face": place["face"]} if place.get("face") else cell


def zone_parts(zone: str) -> dict[str, str]:
    """Return the major zone and sub-zone of a zone number: 321 lies in 320 and 300."""
    if not re.fullmatch(r"[1-9][0-9]{2}", zone):
        raise Refused(
            "not_a_zone", f"“{zone}” is no zone number.", "Zones have three digits, 100 to 999."
        )
    return {"major": f"{zone[0]}00", "sub_zone": f"{zone[:2]}0", "zone": zone}
