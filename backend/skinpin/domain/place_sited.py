"""Zone, station and words of an ordinary place in one look, for rows by the thousand."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from skinpin.domain.place_stations import (
    Definition,
    Place,
    Structure,
    bay_at,
    bay_end,
    member_station,
    members_in_order,
    structure_of,
)
from skinpin.domain.place_words import end_words, is_bay_only, is_off, words_after, words_before
from skinpin.domain.place_zones import Rule, rules_on, strake_indexes
from skinpin.domain.quantities import TENTH_NM, places_of, rounded_text, tenth_nm_or_none

NO_OFFSET = {"value": "0"}
MOST_STRIPS = 512


class Sited(NamedTuple):
    """What `zones_of`, `station_of` and `place_words` say of a place, and the structure's axis."""

    zone: str
    station: str
    words: str
    axis: str


def sited(definition: Definition, place: Place) -> Sited | None:
    """Return what a definition says of a place; None where it must be asked question by question.

    That is a place with two ends, off the aircraft, in another unit than its structure, past the
    member after its own, in no zone or in several; whatever can't be read raises what
    `structure_of` and its neighbours raise.
    """
    if is_off(place):
        return None
    structure = structure_of(definition, place)
    offset, unit = place.get("offset"), structure["unit"]
    distance = 0 if offset is None else tenth_nm_or_none(offset)
    is_foreign = offset is not None and (distance is None or offset["unit"] != unit)
    if place.get("to") or is_foreign or place.get("hand") not in structure["hands"]:
        return None
    assert distance is not None
    member, begin = member_station(structure, place.get("member"))
    station = begin + distance
    if is_bay_only(place):
        is_another = bay_end(structure, place) is not None
    else:
        _, members = members_in_order(structure)
        is_another = members[max(bay_at(structure, station), 0)] is not member
    if is_another:
        return None
    strip = _strip(definition, structure, place)
    zones = {zone for rule, zone in strip.zones if rule.holds(station)}
    if len(zones) != 1:
        return None
    places = max(places_of(member["station"]), places_of((offset or NO_OFFSET)["value"]))
    text = rounded_text(station, TENTH_NM[unit], places)
    told = 0 if is_bay_only(place) else distance
    words = f"{strip.before}{end_words(structure, place, told)}{strip.after}"
    return Sited(zones.pop(), text, words, structure["axis"])


class _Strip(NamedTuple):
    """What the places of a structure have in common that differ in their position alone."""

    zones: list[tuple[Rule, str]]
    before: str
    after: str


_STRIPS: dict[int, tuple[Definition, dict[tuple[Any, ...], _Strip]]] = {}


def _strip(definition: Definition, structure: Structure, place: Place) -> _Strip:
    """Return what is worked out once for a strip of a definition and kept."""
    kept = _STRIPS.get(id(definition))
    if kept is None or kept[0] is not definition or len(kept[1]) > MOST_STRIPS:
        if len(_STRIPS) > 64:
            _STRIPS.clear()
        kept = _STRIPS[id(definition)] = (definition, {})
    get = place.get
    strakes = tuple(get("strakes") or ())
    key = (structure["name"], get("hand"), strakes, get("face"), get("precision"), get("layer"))
    found = kept[1].get(key)
    if found is None:
        found = kept[1][key] = _new_strip(definition, structure, place)
    return found


def _new_strip(definition: Definition, structure: Structure, place: Mapping[str, Any]) -> _Strip:
    rules = rules_on(definition, structure, place["hand"], strake_indexes(structure, place))
    before, after = words_before(structure, place), words_after(place)
    return _Strip(
        [(rule, str(rule.zone["zone"])) for rule in rules],
        f"{before} · " if before else "",
        f" · {after}" if after else "",
    )
