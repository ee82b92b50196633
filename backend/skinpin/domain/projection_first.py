"""The row of a record that one capture made, put together at once: most of what is joined."""

from collections.abc import Callable, Mapping
from typing import Any

from skinpin.domain.errors import Refused
from skinpin.domain.fields import GRADING_FIELDS
from skinpin.domain.kinds import kind_words
from skinpin.domain.place import (
    Definition,
    is_gone,
    is_off,
    place_words,
    station_of,
    structure_of,
    zones_of,
)
from skinpin.domain.place_sited import sited
from skinpin.domain.quantities import is_unmeasured, tenth_nm_or_none

Row = dict[str, Any]
SHOWN = ("number", "airframe", "place", "kind", "material", "part", "independent", "note", "tag")
SILENT = ("survey", "thickness", "width", "depth", "paint", "cleaned", "no_photograph", "proposed")
FIRST_FIELDS = frozenset((*SHOWN, *SILENT, *GRADING_FIELDS, "length"))
"""The fields that `first_row` knows what a row makes of; a record of others goes the long way."""


def first_row(
    blank: Row,
    record: str,
    fields: Mapping[str, Any],
    graded: Row,
    definition: Definition | None,
    is_shared: bool,
) -> Row:
    """Return what `defect_row` makes of a record whose only entry is a capture that counts.

    No move, no stamp, no photograph and no second value: most is as in the `blank` row of a record
    of which nothing is known. `graded` are the keys that say the grade, none where none is worked
    out. A test compares both ways.
    """
    get = fields.get
    length, kind = get("length"), text_of(get("kind"))
    return {
        **blank,
        "record": record,
        "number": text_of(get("number")),
        "number_shared": is_shared,
        **graded,
        **_placed(get("place"), definition),
        "length": length
        if tenth_nm_or_none(length) is not None and not is_unmeasured(length)
        else None,
        "copied": sorted(field for field, value in fields.items() if is_unmeasured(value)),
        "note": text_of(get("note")) or None,
        "tag": text_of(get("tag")),
        "airframe": text_of(get("airframe")),
        "kind": kind,
        "kind_words": kind_words(kind),
        "material": text_of(get("material")),
        "part": text_of(get("part")),
        "independent": get("independent") is True,
    }


def text_of(value: Any) -> str | None:
    """Return a text, nothing for any other value."""
    return value if isinstance(value, str) else None


def said(ask: Callable[[Any, Any], Any], definition: Any, place: Any) -> Any:
    """Return what a definition says of a place; nothing where it can't say."""
    if definition is None or place is None:
        return None
    try:
        return ask(definition, place)
    except (Refused, LookupError, TypeError, ValueError, AttributeError):
        # A place may hold anything: another tablet's version, or no place at all.
        return None


def axis_and(station: Mapping[str, str] | None, definition: Any, place: Any) -> str | None:
    """Return a station that was found with its axis: "Sta 72.0"."""
    return f"{structure_of(definition, place)['axis']} {station['value']}" if station else None


def _placed(place: Any, definition: Definition | None) -> Row:
    if not isinstance(place, dict):
        return {}
    get = place.get
    if found := said(sited, definition, place):
        return {
            "place": place,
            "zone": found.zone,
            "zones": [found.zone],
            "structure": get("structure"),
            "hand": get("hand"),
            "member": get("member"),
            "strakes": get("strakes"),
            "station": found.station,
            "station_text": f"{found.axis} {found.station}",
            "place_words": found.words,
        }
    zones = said(zones_of, definition, place) or []
    station = said(station_of, definition, place)
    is_said = station or is_off(place) or said(is_gone, definition, place)
    return {
        "place": place,
        "zone": zones[0] if zones else None,
        "zones": sorted(zones),
        "structure": get("structure"),
        "hand": get("hand"),
        "member": get("member"),
        "strakes": get("strakes"),
        "station": station["value"] if station else None,
        "station_text": axis_and(station, definition, place),
        "place_words": (said(place_words, definition, place) if is_said else None) or "",
    }
