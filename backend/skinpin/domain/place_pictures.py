"""Views with a picture: the pixel of a place, and the place under a pixel, by the calibration.

The first axis of a calibration is the station in the structure's unit, the second the water line
in the same unit, or the strake line: 0 at the keel, and on a view of both hands above nought to
starboard and below it to port.
"""

from collections.abc import Mapping
from math import floor
from typing import Any

from skinpin.domain.errors import Refused
from skinpin.domain.photo_geometry import Point, apply, inverse
from skinpin.domain.place_heights import (
    corners,
    height_at,
    heights,
    line_of_height,
    strake_under,
)
from skinpin.domain.place_stations import (
    Definition,
    Place,
    Structure,
    at_station,
    span_tenth_nm,
    structure_of,
)
from skinpin.domain.place_zones import strake_indexes
from skinpin.domain.quantities import TENTH_NM

View = Mapping[str, Any]
TOUCH_STEPS = 10  # a touch is read to a tenth of the unit


def picture_views(definition: Definition, structure: str) -> list[View]:
    """Return the views of a structure that have a picture, in the order of the definition."""
    views = definition["views"]
    return [one for one in views if one["structure"] == structure and "picture" in one]


def picture_point(view: View, definition: Definition, place: Place) -> tuple[float, float]:
    """Return the pixel of a place.

    Where neither strakes nor heights tell how high it lies, it is put in the middle of the points
    that were touched.

    Raises
    ------
    Refused
        `beyond_horizon`: the photograph doesn't reach so far.
    """
    structure = structure_of(definition, place)
    station = span_tenth_nm(structure, place)[0] / TENTH_NM[structure["unit"]]
    second = _second_of(view, definition, structure, station, place)
    return apply(to_picture(view), (station, second))


def picture_place(
    view: View, definition: Definition, px: Point, hand: str | None = None
) -> dict[str, Any]:
    """Return the place under a pixel, to a tenth of the unit along.

    `hand` is used where the view is of no hand and its strakes don't tell one; "C" asks for the
    keel line. Strakes are left out where nothing tells them.
    """
    structure = structure_of(definition, view)
    along, second = apply(inverse(to_picture(view)), px)
    steps = floor(along * TOUCH_STEPS + 0.5)
    found = at_station(structure, steps * TENTH_NM[structure["unit"]] // TOUCH_STEPS)
    side = _hand_at(view, structure, second, hand)
    place = {"structure": structure["name"], "hand": side, **found, "precision": "exact"}
    strakes = structure["strakes"]
    if side == "C" and hand == "C" and strakes:
        return {**place, "strakes": [strakes[0]] * 2}
    line = _line_at(view, definition, structure, steps / TOUCH_STEPS, second)
    if line is None:
        return place
    lower = strake_under(structure, line)
    return {**place, "strakes": strakes[lower : lower + 2]}


def is_shown(view: View, definition: Definition, place: Place) -> bool:
    """Say whether a place lies in the picture of a view, and on the hand that it shows."""
    if place.get("structure") != view["structure"]:
        return False
    if place["hand"] not in (view.get("hand", place["hand"]), "C"):
        return False
    try:
        x, y = picture_point(view, definition, place)
    except Refused:
        return False
    picture = view["picture"]
    return bool(0 <= x <= picture["width_px"] and 0 <= y <= picture["height_px"])


def to_picture(view: View) -> list[float]:
    """Return the nine numbers that lead from (along, second, 1) to pixels."""
    return [float(one) for one in view["calibration"]["to_picture"]]


def _second_of(
    view: View, definition: Definition, structure: Structure, station: float, place: Place
) -> float:
    indexes = strake_indexes(structure, place)
    if indexes is None:
        return _middle(view)
    line = (indexes[0] + indexes[1]) / 2
    if view["second"] == "strake":
        return -line if place["hand"] == "P" and "hand" not in view else line
    if not _has_heights(definition, structure):
        return _middle(view)
    return height_at(heights(definition, station), corners(structure), line)


def _line_at(
    view: View, definition: Definition, structure: Structure, station: float, second: float
) -> float | None:
    if len(structure["strakes"]) < 2:
        return None
    if view["second"] == "strake":
        return abs(second) if "hand" not in view else second
    if not _has_heights(definition, structure):
        return None
    return line_of_height(heights(definition, station), corners(structure), second)


def _hand_at(view: View, structure: Structure, second: float, hand: str | None) -> str:
    hands: list[str] = structure["hands"]
    if hand == "C" and "C" in hands:
        return "C"
    if "hand" in view:
        return str(view["hand"])
    if view["second"] == "strake" and {"P", "S"} <= set(hands):
        return "P" if second < 0 else "S"
    return hand if hand in hands else hands[0]


def _has_heights(definition: Definition, structure: Structure) -> bool:
    """Say whether heights are known; they stand at stations of the first structure."""
    is_first = definition["structures"][0]["name"] == structure["name"]
    return is_first and bool(definition.get("profile_heights"))


def _middle(view: View) -> float:
    touched = [float(one["at"][1]) for one in view["calibration"]["points"]]
    return (min(touched) + max(touched)) / 2
