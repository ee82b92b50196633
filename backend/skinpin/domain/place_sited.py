"""Zone, station and words of an ordinary place in one look, for rows by the thousand."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from skinpin.domain.place_stations import member_station, structure_of
from skinpin.domain.place_words import words_on
from skinpin.domain.place_zones import rules_on, strake_indexes
from skinpin.domain.quantities import TENTH_NM, places_of, rounded_text, tenth_nm_or_none

NO_OFFSET = {"value": "0"}


class Sited(NamedTuple):
    """What `zones_of`, `station_of` and `place_words` say of a place, and the structure's axis."""

    zone: str
    station: str
    words: str
    axis: str


def sited(definition: Mapping[str, Any], place: Mapping[str, Any]) -> Sited | None:
    """Return what a definition says of a place; None where it must be asked question by question.

    That is a place with two ends, in another unit than its structure, in no zone or in several;
    whatever can't be read raises what `structure_of` and its neighbours raise.
    """
    structure = structure_of(definition, place)
    hand: Any = place.get("hand")
    offset, unit = place.get("offset"), structure["unit"]
    distance = 0 if offset is None else tenth_nm_or_none(offset)
    is_foreign = offset is not None and (distance is None or offset["unit"] != unit)
    if place.get("to") or is_foreign or hand not in structure["hands"] or distance is None:
        return None
    member, begin = member_station(structure, place.get("member"))
    strakes = strake_indexes(structure, place)
    station = begin + distance
    rules = rules_on(definition, structure, hand, strakes)
    zones = {rule.zone["zone"] for rule in rules if rule.holds(station)}
    if len(zones) != 1:
        return None
    places = max(places_of(member["station"]), places_of((offset or NO_OFFSET)["value"]))
    text = rounded_text(station, TENTH_NM[unit], places)
    return Sited(str(zones.pop()), text, words_on(structure, place), structure["axis"])
