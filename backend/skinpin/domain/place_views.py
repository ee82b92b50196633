"""Places on drawings: a touched point as a place, and a place as a point."""

from collections.abc import Mapping
from math import floor
from typing import Any

from skinpin.domain.place_heights import (
    corners,
    height_at,
    heights,
    line_of_height,
    strake_under,
)
from skinpin.domain.place_pictures import picture_place, picture_point
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


def view_point(view: View, definition: Definition, place: Place) -> tuple[float, float]:
    """Return the point of a place on a view; x lies exactly on its station.

    On a view with a picture it is a pixel of that, by its calibration.
    """
    if "picture" in view:
        return picture_point(view, definition, place)
    structure = structure_of(definition, place)
    station = span_tenth_nm(structure, place)[0] / TENTH_NM[structure["unit"]]
    x = view["x"]["origin"] + view["x"]["per_unit"] * station
    lower, upper = strake_indexes(structure, place) or (0, 1 if structure["strakes"] else 0)
    line, y = (lower + upper) / 2, view["y"]
    if "per_strake" in y:
        return x, y["origin"] + _side(view, place["hand"]) * y["per_strake"] * line
    levels = heights(definition, station)
    return x, y["origin"] + y["per_unit"] * height_at(levels, corners(structure), line)


def place_at(
    view: View, definition: Definition, x: float, y: float, hand: str | None = None
) -> dict[str, Any]:
    """Return the place under a point of a view, to a tenth of the unit along.

    `hand` is used where a view shows one hand of several; where it shows both, the point tells.
    "C" asks for the keel line.
    """
    if "picture" in view:
        return picture_place(view, definition, (x, y), hand)
    structure = structure_of(definition, view)
    steps = floor((x - view["x"]["origin"]) / view["x"]["per_unit"] * TOUCH_STEPS + 0.5)
    along = at_station(structure, steps * TENTH_NM[structure["unit"]] // TOUCH_STEPS)
    place = {"structure": structure["name"], "hand": structure["hands"][0], **along}
    if not structure["strakes"]:
        chosen = hand if hand in structure["hands"] else place["hand"]
        return {**place, "hand": chosen, "precision": "exact"}
    if hand == "C":
        strakes = [structure["strakes"][0]] * 2
        return {**place, "hand": "C", "strakes": strakes, "precision": "exact"}
    line, side = _line_at(view, definition, structure, steps / TOUCH_STEPS, y, hand)
    lower = strake_under(structure, line)
    strakes = structure["strakes"][lower : lower + 2]
    return {**place, "hand": side, "strakes": strakes, "precision": "exact"}


def _side(view: View, hand: str) -> int:
    """Return which way strakes run on a view: seen from outside, port lies uppermost."""
    towards = {"P": -1, "S": 1}.get(hand, 1)
    return -towards if view.get("seen_from") == "inside" else towards


def _line_at(
    view: View, definition: Definition, structure: Structure, station: float, y: float, hand: Any
) -> tuple[float, str]:
    rule = view["y"]
    if "per_strake" in rule:
        line = (y - rule["origin"]) / rule["per_strake"]
        return abs(line), "P" if line * _side(view, "P") >= 0 else "S"
    height = (y - rule["origin"]) / rule["per_unit"]
    line = line_of_height(heights(definition, station), corners(structure), height)
    return line, hand if hand in ("P", "S") else "P"
