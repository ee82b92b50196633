"""What no measurement is made from in a photograph, each with a plain sentence."""

from collections.abc import Mapping, Sequence
from itertools import combinations
from math import hypot
from typing import Any, NoReturn

from skinpin.domain.errors import Refused
from skinpin.domain.photo_geometry import NEARLY_COLLINEAR, Point, condition

EDGE_SHARE = 0.15
REACH = 2
"""How far from the scale is still measured, in widths of it. Common practice, no source."""
POINTS: Mapping[str, tuple[int, int]] = {
    "length": (2, 2),
    "polyline": (2, 100),
    "area": (3, 100),
    "diameter": (3, 3),
}
SCALE_POINTS: Mapping[str, int] = {"two points": 2, "rectangle": 4, "scale card": 4}


def refuse_depth(shape: Any) -> None:
    """Refuse a depth, and any shape that is not known."""
    if shape == "depth":
        raise Refused(
            "depth_from_photograph",
            "Depth is never taken from a photograph: one picture does not hold it.",
            "Measure it with a depth gauge.",
        )
    if shape not in POINTS:
        raise Refused(
            "no_such_shape",
            f"“{shape}” is no shape to measure.",
            "Measure a length, a polyline, an area or a diameter.",
        )


def refuse_scale(scale: Mapping[str, Any] | None) -> Mapping[str, Any]:
    """Return the scale, unless there is none, or it was struck."""
    if not scale or scale.get("method") not in SCALE_POINTS:
        raise Refused(
            "no_scale",
            "No scale is set on this photograph, so nothing in it has a length.",
            "Set a scale first: two points of known distance, or a card.",
        )
    if scale.get("struck") is True:
        raise Refused(
            "scale_withdrawn",
            "The scale of this measurement was struck, so its length is withdrawn.",
            "Set a scale and measure again.",
        )
    least = SCALE_POINTS[scale["method"]]
    if len(scale["points"]) != least:
        _refuse_count(len(scale["points"]), least)
    return scale


def refuse_points(shape: str, points: Sequence[Sequence[float]]) -> None:
    """Refuse too few points, too many, or two one after another at one place."""
    least, most = POINTS[shape]
    if not least <= len(points) <= most:
        _refuse_count(len(points), least)
    after = [*points[1:], points[0]] if least > 2 else points[1:]
    apart = sum(list(one) != list(other) for one, other in zip(points, after, strict=False))
    if apart < len(after):
        _refuse_count(apart + 1, least)


def refuse_far(known: Sequence[float], points: Sequence[Point]) -> None:
    """Refuse points farther from the scale than two of its widths, all in mm of the plane."""
    wide, high = known[0], known[1] if len(known) > 1 else 0.0
    reach = REACH * max(wide, high)
    for x, y in points:
        off = hypot(max(-x, 0.0, x - wide), max(-y, 0.0, y - high))
        if off > reach:
            raise Refused(
                "far_from_scale",
                f"A point lies {off:.0f} mm from the scale; {reach:.0f} mm, "
                "two widths of it, is the most.",
                "Lay the scale nearer and take the picture again.",
            )


def refuse_shape(shape: str, points: Sequence[Point]) -> None:
    """Refuse an outline that crosses itself, and a rim whose points lie on one line, or nearly."""
    if shape == "area":
        _refuse_crossed(points)
    elif shape == "diameter" and condition(points) < NEARLY_COLLINEAR:
        raise Refused(
            "collinear_points",
            "The three points lie on one line, or nearly, so no circle is known.",
            "Spread them round the rim.",
        )


def refuse_wide(value: str, uncertainty: str, unit: str) -> None:
    """Refuse a size, as it is shown, whose ± is as large as itself or larger."""
    if float(uncertainty) >= float(value):
        raise Refused(
            "wider_than_measured",
            f"± {uncertainty} {unit} is wider than what was measured: no figure.",
            "Set the points under the loupe, take a picture from nearer, or measure with a gauge.",
        )


def _refuse_crossed(points: Sequence[Point]) -> None:
    sides = list(zip(points, [*points[1:], points[0]], strict=True))
    for (at, one), (to, other) in combinations(enumerate(sides), 2):
        is_next = to - at == 1 or to - at == len(sides) - 1
        if not is_next and _cross(*one, *other):
            raise Refused(
                "crossed_points",
                "The outline crosses itself, so it has no area.",
                "Touch its corners in order, going round once.",
            )


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0


def _refuse_count(count: int, least: int) -> NoReturn:
    raise Refused(
        "too_few_points",
        f"{count} of the {least} points that are needed, each at a place of its own.",
        "Touch the points that are shown.",
    )
