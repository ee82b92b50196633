"""Lengths and areas in a photograph, from a scale laid in the plane of what is measured.

Sorting aid only: a gauge's figure goes before it, and depth is never taken from a photograph.
The ± is 2u of touches, scale and lens; of the touches by first-order propagation (Criminisi, Reid
and Zisserman, A Plane Measuring Device, 1999, sections 1 and 6): the size is worked out anew with
every coordinate of the scale and of the measurement moved by 1e-4 px to both sides.
"""

import re
from collections.abc import Callable, Mapping, Sequence
from decimal import ROUND_HALF_UP, Decimal
from math import ceil, hypot, sqrt
from typing import Any, NamedTuple

from skinpin.domain.photo_geometry import (
    Point,
    Transform,
    apply,
    fit_homography,
    fit_similarity,
    inverse,
)
from skinpin.domain.photo_lens import lens_u
from skinpin.domain.photo_measure_refused import (
    EDGE_SHARE,
    refuse_depth,
    refuse_far,
    refuse_points,
    refuse_scale,
    refuse_shape,
    refuse_wide,
)

Record = Mapping[str, Any]
MM = {"in": 25.4, "mm": 1.0}
STEP_PX = 1e-4
DECIMAL = re.compile(r"[0-9]+(\.[0-9]+)?")
SURE = 1e-6
"""Share to which a ± is worked out: less than that above a decade is noise of the steps."""
AID = "measured from the photograph: sorting aid"
GRANTED = "Taken for granted: flat skin, and the scale lying on it."


class Spread(NamedTuple):
    """A size in mm or mm², and what touches and scale each add to its standard uncertainty."""

    size: float
    touch: float
    scale: float

    @property
    def u(self) -> float:
        """Return the standard uncertainty."""
        return hypot(self.touch, self.scale)


def measured(
    scale: Record | None, measurement: Record, picture: Record, unit: str
) -> dict[str, Any]:
    """Return what a measurement comes to, as decimal text in `unit` ("in" or "mm").

    `value`, `unit` (of an area "in²" or "mm²"), `uncertainty` (2u), `words`, `terms` of the ± with
    what each is `of`, `warnings` as {code, words}. 2u is given by two figures and never smaller,
    the value to the same place.

    Parameters
    ----------
    scale, measurement
        Records as they stand; points in tenths of an upright pixel, `tap` in px a coordinate.
    picture
        `width_px`, `height_px` and, where it is known, `zoom` of the photograph.

    Raises
    ------
    Refused
        `no_scale`, `scale_withdrawn`, `depth_from_photograph`, `far_from_scale`,
        `too_few_points`, `collinear_points`, `crossed_points`, `beyond_horizon`,
        `wider_than_measured`.
    """
    spread = propagated(scale, measurement)
    lens = _lens_u(scale or {}, measurement, picture)
    by = MM[unit] ** (2 if measurement["shape"] == "area" else 1)
    doubt = 2 * hypot(spread.u, lens) / by
    # A ± that rounds up over a decade has its two figures there.
    places = places_of_doubt(float(rounded_up(doubt, places_of_doubt(doubt))))
    value, u = rounded(spread.size / by, places), rounded_up(doubt, places)
    name = f"{unit}²" if measurement["shape"] == "area" else unit
    refuse_wide(value, u, name)
    terms = [("touch", spread.touch), ("scale", spread.scale), ("lens", lens)]
    return {
        "value": value,
        "unit": name,
        "uncertainty": u,
        "words": f"{value} ± {u} {name}",
        "terms": [{"of": of, "value": rounded(2 * one / by, places)} for of, one in terms],
        "warnings": warnings(scale or {}, measurement, picture),
    }


def propagated(scale: Record | None, measurement: Record) -> Spread:
    """Return a measurement in mm or mm² with its standard uncertainty, unrounded."""
    refuse_depth(measurement["shape"])
    scale = refuse_scale(scale)
    refuse_points(measurement["shape"], measurement["points"])
    corners, picks = pixels(scale["points"]), pixels(measurement["points"])
    known = known_mm(scale)
    plane = to_plane(corners, known)
    ends = [apply(plane, one) for one in picks]
    refuse_far(known, ends)
    refuse_shape(measurement["shape"], ends)
    size_of = SIZES[measurement["shape"]]

    def at(picks: Sequence[Point]) -> float:
        return size_of([apply(plane, one) for one in picks])

    def by(corners: Sequence[Point]) -> float:
        moved = to_plane(corners, known)
        return size_of([apply(moved, one) for one in picks])

    def with_known(known: tuple[float, ...]) -> float:
        other = to_plane(corners, known)
        return size_of([apply(other, one) for one in picks])

    corner_px = hypot(float(scale["tap"]), _residual_px(scale))
    of_corners = corner_px * _steepness(by, corners)
    of_known = _known_u(scale, known, with_known)
    touch = float(measurement["tap"]) * _steepness(at, picks)
    return Spread(at(picks), touch, hypot(of_corners, of_known))


def to_plane(corners: Sequence[Point], known: Sequence[float]) -> Transform:
    """Return the transform from upright pixels to millimetres in the plane of the scale."""
    if len(known) == 1:
        return inverse(fit_similarity([(0.0, 0.0), (known[0], 0.0)], corners))
    wide, high = known
    rectangle = [(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)]
    return inverse(fit_homography(rectangle, corners))


def known_mm(scale: Record) -> tuple[float, ...]:
    """Return the scale's length, or its width and height, in mm."""
    fields = ("length",) if scale["method"] == "two points" else ("width", "height")
    return tuple(float(scale[one]["value"]) * MM[scale[one]["unit"]] for one in fields)


def pixels(tenths: Sequence[Sequence[float]]) -> list[tuple[float, float]]:
    """Return points in pixels from tenths of a pixel."""
    return [(x / 10, y / 10) for x, y in tenths]


def length_of(points: Sequence[Point]) -> float:
    """Return how long the way through the points is."""
    pairs = zip(points, points[1:], strict=False)
    return sum(hypot(u - x, v - y) for (x, y), (u, v) in pairs)


def area_of(points: Sequence[Point]) -> float:
    """Return the area inside the points: shoelace formula."""
    pairs = zip(points, [*points[1:], points[0]], strict=True)
    return abs(sum(x * v - u * y for (x, y), (u, v) in pairs)) / 2


def diameter_of(points: Sequence[Point]) -> float:
    """Return the diameter of the circle through three points: abc / 2A.

    Three points of the rim, not two ends: nobody sees where a diameter ends.
    """
    (x, y), (u, v), (r, s) = points
    twice = abs((u - x) * (s - y) - (r - x) * (v - y))
    return hypot(u - x, v - y) * hypot(r - u, s - v) * hypot(x - r, y - s) / twice


SIZES: Mapping[str, Callable[[Sequence[Point]], float]] = {
    "length": length_of,
    "polyline": length_of,
    "area": area_of,
    "diameter": diameter_of,
}


def warnings(scale: Record, measurement: Record, picture: Record) -> list[dict[str, str]]:
    """Return what may make a measurement wrong by more than its ±, in words."""
    told = [("granted", GRANTED)]
    if scale.get("method") == "two points":
        told.append(("tilt", "Not corrected for tilt: 10° shortens by 1.5 %, 30° by 13.4 %."))
    if _is_outside(measurement["points"], picture):
        told.append(("edge", "In the outer 15 % of the picture, where lenses bend lines."))
    if _is_zoomed(picture.get("zoom")):
        told.append(("zoomed", "The picture was zoomed or cropped: its pixels are coarser."))
    return [{"code": code, "words": words} for code, words in told]


def places_of_doubt(doubt: float) -> int:
    """Return the decimal place of the second figure of a ±; below 0 for tens.

    At most two figures of an uncertainty are given: JCGM 100 (GUM), 7.2.6.

    >>> places_of_doubt(0.2106), places_of_doubt(42.0), places_of_doubt(280.0)
    (2, 0, -1)
    """
    return 1 - int(f"{doubt:.17e}".partition("e")[2])


def rounded(value: float, places: int) -> str:
    """Return decimal text, half up; the places of tens and more are noughts.

    >>> rounded(1.25, 1), rounded(25, -1)
    ('1.3', '30')
    """
    if places >= 0:
        return f"{Decimal(value).quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP):f}"
    tens = Decimal(value / 10**-places).quantize(Decimal(1), ROUND_HALF_UP)
    return str(int(tens) * 10**-places)


def rounded_up(value: float, places: int) -> str:
    """Return decimal text that is never smaller than the value, but for the share `SURE`."""
    return rounded(ceil(value * (1 - SURE) * 10.0**places) / 10.0**places, places)


def _steepness(of: Callable[[Sequence[Point]], float], points: Sequence[Point]) -> float:
    """Return how fast a size changes with all coordinates together, a px of each."""
    total = 0.0
    for at, (x, y) in enumerate(points):
        for dx, dy in ((STEP_PX, 0.0), (0.0, STEP_PX)):
            ends = [
                of([*points[:at], (x + sign * dx, y + sign * dy), *points[at + 1 :]])
                for sign in (1, -1)
            ]
            total += ((ends[0] - ends[1]) / (2 * STEP_PX)) ** 2
    return sqrt(total)


def _known_u(
    scale: Record, known: tuple[float, ...], of: Callable[[tuple[float, ...]], float]
) -> float:
    """Return what the ± of the scale's own lengths adds; nothing where none is known."""
    fields = ("length",) if len(known) == 1 else ("width", "height")
    total = 0.0
    for at, field in enumerate(fields):
        doubt = scale[field].get("uncertainty")
        if not isinstance(doubt, Mapping):
            continue
        u = float(doubt["value"]) * MM[doubt["unit"]] / 2
        more, less = (
            of((*known[:at], known[at] + step, *known[at + 1 :])) for step in (STEP_PX, -STEP_PX)
        )
        total += (u * (more - less) / (2 * STEP_PX)) ** 2
    return sqrt(total)


def _lens_u(scale: Record, measurement: Record, picture: Record) -> float:
    known, size_of = known_mm(scale), SIZES[measurement["shape"]]

    def size(corners: Sequence[Point], picks: Sequence[Point]) -> float:
        plane = to_plane(corners, known)
        return size_of([apply(plane, one) for one in picks])

    return lens_u(size, pixels(scale["points"]), pixels(measurement["points"]), picture)


def _residual_px(scale: Record) -> float:
    card = scale.get("card")
    return float(card.get("residual_px", 0)) if isinstance(card, Mapping) else 0.0


def _is_outside(points: Sequence[Sequence[float]], picture: Record) -> bool:
    wide, high = 10 * picture["width_px"], 10 * picture["height_px"]
    shares = [share for x, y in points for share in (x / wide, y / high)]
    return any(not EDGE_SHARE <= share <= 1 - EDGE_SHARE for share in shares)


def _is_zoomed(zoom: Any) -> bool:
    if isinstance(zoom, str):
        return DECIMAL.fullmatch(zoom) is not None and float(zoom) > 1
    return isinstance(zoom, int | float) and zoom > 1
