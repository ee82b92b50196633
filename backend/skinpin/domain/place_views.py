"""Places on drawings: a touched point as a place, and a place as a point."""

from collections.abc import Mapping
from math import floor
from typing import Any

from skinpin.domain.errors import Refused
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
SLACK = 0.5  # how far beyond the outermost strake a touch still means it


def view_point(view: View, definition: Definition, place: Place) -> tuple[float, float]:
    """Return the point of a place on a view; x lies exactly on its station."""
    structure = structure_of(definition, place)
    station = span_tenth_nm(structure, place)[0] / TENTH_NM[structure["unit"]]
    x = view["x"]["origin"] + view["x"]["per_unit"] * station
    lower, upper = strake_indexes(structure, place) or (0, 1 if structure["strakes"] else 0)
    line, y = (lower + upper) / 2, view["y"]
    if "per_strake" in y:
        return x, y["origin"] + _side(view, place["hand"]) * y["per_strake"] * line
    heights = _heights(definition, station)
    return x, y["origin"] + y["per_unit"] * _height_at(heights, _corners(structure), line)


def place_at(
    view: View, definition: Definition, x: float, y: float, hand: str | None = None
) -> dict[str, Any]:
    """Return the place under a point of a view, to a tenth of the unit along.

    `hand` is used where a view shows one hand of several; where it shows both, the point tells.
    "C" asks for the keel line.
    """
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
    lower = _strake_under(structure, line)
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
    line = _line_of_height(_heights(definition, station), _corners(structure), height)
    return line, hand if hand in ("P", "S") else "P"


def _strake_under(structure: Structure, line: float) -> int:
    last = len(structure["strakes"]) - 1
    if not -SLACK <= line <= last + SLACK:
        raise Refused(
            "outside_airframe",
            f"The point touched is outside {structure['name']}.",
            "Touch the drawing between its first and last strake.",
        )
    return min(max(int(line), 0), last - 1)


def _corners(structure: Structure) -> list[int]:
    """Return the strake lines at keel, chine, gunwale and deck."""
    names = structure["strakes"]
    last = len(names) - 1
    chine = names.index("C") if "C" in names else last // 3
    gunwale = names.index("G") if "G" in names else (chine + last + 1) // 2
    return [0, chine, gunwale, last]


def _heights(definition: Definition, station: float) -> list[float]:
    """Return the heights of keel, chine, gunwale and deck at a station, straight between frames.

    Where two rows have one station, a step, the aft one counts from there on.
    """
    rows = definition["profile_heights"]
    after = next((at for at, row in enumerate(rows) if float(row["station"]) > station), len(rows))
    first, second = rows[max(after - 1, 0)], rows[min(after, len(rows) - 1)]
    span = float(second["station"]) - float(first["station"])
    share = (station - float(first["station"])) / span if span else 0.0
    return [
        float(first[name]) + (float(second[name]) - float(first[name])) * share
        for name in ("keel", "chine", "gunwale", "deck")
    ]


def _height_at(heights: list[float], corners: list[int], line: float) -> float:
    height = heights[0]
    for at in range(3):
        width = corners[at + 1] - corners[at]
        share = min(max(line - corners[at], 0) / width, 1) if width else 0
        height += (heights[at + 1] - heights[at]) * share
    return height


def _line_of_height(heights: list[float], corners: list[int], height: float) -> float:
    for at in range(3):
        rise = heights[at + 1] - heights[at]
        if (height <= heights[at + 1] or at == 2) and rise > 0:
            return corners[at] + (height - heights[at]) / rise * (corners[at + 1] - corners[at])
    return -1.0
