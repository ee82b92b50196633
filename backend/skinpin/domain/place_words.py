"""A place in trade notation: Hull · Port · F6 + 2.0 aft · K–B1 · inner face."""

from collections.abc import Mapping
from typing import Any

from skinpin.domain.errors import Refused
from skinpin.domain.place_stations import (
    Definition,
    Place,
    Structure,
    bay_end,
    member_station,
    nearest_end,
    station_of,
    structure_of,
)
from skinpin.domain.quantities import to_tenth_nm

HAND_WORDS = {"P": "Port", "S": "Stbd", "C": "Centreline"}
GONE = "(no longer in the definition)"
SIDES = ("inner", "outer", "forward", "aft", "upper", "lower", "inboard", "outboard")


def place_words(definition: Definition, place: Place) -> str:
    """Return a place in trade notation by the nearest member of a definition.

    A structure with one hand does not repeat it.

    >>> place_words({}, {"off": "Bench 2", "part": "Strut, port", "marking": "P"})
    'off aircraft, Bench 2 · Strut, port · marked P'
    """
    if is_off(place):
        return _off_words(place)
    return words_on(structure_of(definition, place), place)


def entered_words(definition: Definition, place: Place) -> str:
    """Return the position of a place as it was entered, "" where it reads so today.

    "F6 + 15.0 aft" where a frame was put in 10.0 aft of F6 since.
    """
    if is_off(place):
        return ""
    structure = structure_of(definition, place)
    if _is_gone_from(structure, place):
        return ""
    words = _as_entered(structure, place)
    return "" if words == _along(structure, place) else words


def is_gone(definition: Definition, place: Place) -> bool:
    """Say whether a place names a member that its structure has not: its station is not known."""
    return not is_off(place) and _is_gone_from(structure_of(definition, place), place)


def _is_gone_from(structure: Structure, place: Place) -> bool:
    names = [end.get("member") for end in (place, place.get("to")) if end]
    return any(isinstance(name, str) and not _has(structure, name) for name in names)


def _has(structure: Structure, name: Any) -> bool:
    try:
        return bool(member_station(structure, name))
    except Refused:
        return False


def is_off(place: Place) -> bool:
    """Say whether a place lies off the aircraft: on a bench, with neither station nor zone."""
    off = place.get("off")
    return isinstance(off, str) and off != ""


def _off_words(place: Place) -> str:
    part, marking = (place.get(word) for word in ("part", "marking"))
    words = (part, f"marked {marking}" if isinstance(marking, str) and marking else "")
    said = [word for word in words if isinstance(word, str) and word]
    return " · ".join([f"off aircraft, {place['off']}", *said])


def words_on(structure: Structure, place: Place) -> str:
    """Return a place in trade notation, its structure being known."""
    is_lost = _is_gone_from(structure, place)
    along = (_gone if is_lost else _along)(structure, place)
    words = (words_before(structure, place), along, words_after(place))
    return " · ".join(word for word in words if word)


def words_before(structure: Structure, place: Place) -> str:
    """Return what stands before the position: "Hull · Port"."""
    several = len(structure["hands"]) > 1
    hand = HAND_WORDS.get(place["hand"], place["hand"]) if several else ""
    return " · ".join(word for word in (structure["name"], hand) if word)


def words_after(place: Place) -> str:
    """Return what stands after the position: "K–B1 · inner face · sheet 2"."""
    bay_only = "bay only" if is_bay_only(place) else ""
    words = (_strakes(place), _face(place), _layer(place), bay_only)
    return " · ".join(word for word in words if word)


def station_words(definition: Definition, place: Place) -> str:
    """Return the station of a place with its axis: "Sta 72.0"."""
    axis = structure_of(definition, place)["axis"]
    return f"{axis} {station_of(definition, place)['value']}"


def is_bay_only(place: Place) -> bool:
    """Say whether a place is known by its bay only.

    Its distance is then the middle of the bay, which nobody measured, and no words tell it.
    """
    return place.get("precision") == "bay only"


def _along(structure: Structure, place: Place) -> str:
    if place.get("to"):
        ends = (nearest_end(structure, one) for one in (place, place["to"]))
        return " to ".join(_end(structure, one) for one in ends)
    if not is_bay_only(place):
        return _end(structure, nearest_end(structure, place))
    last = bay_end(structure, place)
    return f"{place['member']} to {last['name']}" if last else str(place["member"])


def _gone(structure: Structure, place: Place) -> str:
    """Return a position as it was entered, the members that the structure has not marked."""

    def marked(end: Mapping[str, Any]) -> dict[str, Any]:
        name = end["member"]
        return {**end, "member": name if _has(structure, name) else f"{name} {GONE}"}

    to = place.get("to")
    return _as_entered(structure, {**marked(place), "to": marked(to) if to else None})


def _as_entered(structure: Structure, place: Place) -> str:
    if place.get("to"):
        return " to ".join(_end(structure, one) for one in (place, place["to"]))
    return str(place["member"]) if is_bay_only(place) else _end(structure, place)


def _end(structure: Structure, end: Mapping[str, Any]) -> str:
    offset = end.get("offset")
    return end_words(structure, end, to_tenth_nm(offset) if offset else 0)


def end_words(structure: Structure, end: Mapping[str, Any], distance: int) -> str:
    """Return one end of a place, its distance in 0.1 nm being known: "F6 + 2.0 aft"."""
    member, offset = end["member"], end.get("offset")
    if not offset or not distance:
        return str(member)
    unit = "" if offset["unit"] == structure["unit"] else f" {offset['unit']}"
    if distance < 0:
        return f"{member} − {offset['value'].lstrip('-')}{unit}"
    return f"{member} + {offset['value']}{unit} {structure['positive']}"


def _strakes(place: Place) -> str:
    named = [strake for strake in place.get("strakes") or () if strake is not None]
    return "–".join(dict.fromkeys(named))


def _layer(place: Place) -> str:
    """Say how deep in the stack a place is, counted from the outer face: 1 is the outer sheet."""
    layer = place.get("layer")
    return f"sheet {layer}" if isinstance(layer, int) and not isinstance(layer, bool) else ""


def _face(place: Place) -> str:
    face = place.get("face") or ""
    return f"{face} face" if face in SIDES else face
