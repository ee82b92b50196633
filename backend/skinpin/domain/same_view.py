"""How a photograph lies on an earlier one of the same view: turn, scale and shift.

Points are `(x, y)` px as shown: upright, and turned left for right where the picture was seen in a
mirror. A size is `(width, height)` px. A transform leads from this picture to the earlier one.
"""

from collections.abc import Sequence
from math import atan2, cos, degrees, hypot, radians, sin, sqrt
from typing import Any, NamedTuple

from skinpin.domain.errors import Refused
from skinpin.domain.photo_geometry import (
    Point,
    Transform,
    apply,
    condition,
    fit_similarity,
    residual_rms,
)
from skinpin.domain.same_view_words import decimal_text, fields_of, is_near, number_of

FEWEST = 3
# Shares of the longer side: rivets touched must lie so far apart, and lie alike to that much.
# Common practice, no source.
LEAST_SPREAD = 0.1
MOST_RESIDUAL = 0.02

Size = Sequence[float]


class SameView(NamedTuple):
    """How this picture lies on the earlier one.

    `turn_deg`: what is shown is turned so much clockwise here. `scale_percent`: it is so much
    larger here, as a share of the picture's longer side. `shift_px`: the middle of this picture
    lies so far right and below that of the earlier one, in its px. `residual_px`: how far the
    points miss each other there, root mean square.
    """

    to_other: Transform
    turn_deg: float
    scale_percent: float
    shift_px: tuple[float, float]
    residual_px: float
    good: bool
    alike: bool


def same_view(
    here: Sequence[Point], earlier: Sequence[Point], size: Size, earlier_size: Size
) -> SameView:
    """Return the fit of three rivets or more, touched in the same order in both pictures.

    Raises
    ------
    Refused
        `too_few_points`; `points_close`: they say little of a turn; `points_turned`: in one
        picture they go round the other way.
    """
    if min(len(here), len(earlier)) < FEWEST:
        raise Refused(
            "too_few_points",
            f"{min(len(here), len(earlier))} of the {FEWEST} rivets that are needed in each.",
            "Touch the same rivets in both pictures.",
        )
    _refuse_close(here, size)
    _refuse_close(earlier, earlier_size)
    _refuse_turned(here, earlier)
    to_other = fit_similarity(here, earlier)
    return view_of(to_other, size, earlier_size, residual_rms(to_other, here, earlier))


def view_of(
    to_other: Transform, size: Size, earlier_size: Size, residual_px: float = 0.0
) -> SameView:
    """Return what a transform comes to at the middle of this picture; it may be projective."""
    turn, scale, middle = _at_middle(to_other, size)
    turn_deg = -degrees(turn)
    scale_percent = 100 * (max(earlier_size) / max(size) / scale - 1)
    shift = (middle[0] - earlier_size[0] / 2, middle[1] - earlier_size[1] / 2)
    good = is_near(turn_deg, scale_percent)
    alike = residual_px <= MOST_RESIDUAL * max(earlier_size)
    return SameView(tuple(to_other), turn_deg, scale_percent, shift, residual_px, good, alike)


def fit_of(view: SameView, by: str) -> dict[str, Any]:
    """Return a fit as a photograph keeps it: decimal texts, the nine numbers if not by rivets."""
    fit: dict[str, Any] = {
        "turn_deg": decimal_text(view.turn_deg, 2),
        "scale_percent": decimal_text(view.scale_percent, 2),
        "shift_px": [decimal_text(one, 1) for one in view.shift_px],
        "residual_px": decimal_text(view.residual_px, 1),
        "by": by,
    }
    if by == "registration":
        fit["to_other"] = [decimal_text(one, 9) for one in view.to_other]
    return fit


def transform_of(fit: Any, size: Size, earlier_size: Size) -> Transform | None:
    """Return the transform that a kept fit stands for, None where it can't be read."""
    given = fields_of(fit)
    nine = [number_of(one) for one in _texts(given.get("to_other"))]
    kept = tuple(one for one in nine if one is not None)
    if len(nine) == len(kept) == 9:
        return kept
    figures = [number_of(given.get("turn_deg")), number_of(given.get("scale_percent"))]
    figures += [number_of(one) for one in _texts(given.get("shift_px"))]
    known = [one for one in figures if one is not None]
    if len(figures) != 4 or len(known) != 4 or known[1] <= -100:
        return None
    turn, percent, right, down = known
    scale = max(earlier_size) / max(size) / (1 + percent / 100)
    a, b = scale * cos(radians(-turn)), scale * sin(radians(-turn))
    x, y = size[0] / 2, size[1] / 2
    to_x, to_y = earlier_size[0] / 2 + right, earlier_size[1] / 2 + down
    return (a, -b, to_x - a * x + b * y, b, a, to_y - b * x - a * y, 0.0, 0.0, 1.0)


def shown_point(point: Point, width_px: float, is_mirrored: bool) -> tuple[float, float]:
    """Return a point of the upright picture as it is shown, and the other way round."""
    x, y = point
    return (width_px - x if is_mirrored else x, y)


def _at_middle(to_other: Transform, size: Size) -> tuple[float, float, tuple[float, float]]:
    """Return turn in radians, scale and where the middle goes, by the derivative there."""
    a, b, _, d, e, _, g, h, i = to_other
    x, y = size[0] / 2, size[1] / 2
    u, v = apply(to_other, (x, y))
    w = g * x + h * y + i
    xx, xy = (a - u * g) / w, (b - u * h) / w
    yx, yy = (d - v * g) / w, (e - v * h) / w
    determinant = xx * yy - xy * yx
    if determinant <= 0:
        raise _turned()
    return atan2(yx - xy, xx + yy), sqrt(determinant), (u, v)


def _refuse_close(points: Sequence[Point], size: Size) -> None:
    spread = max(hypot(x - u, y - v) for x, y in points for u, v in points)
    if spread < LEAST_SPREAD * max(size):
        share = decimal_text(100 * spread / max(size), 1)
        raise Refused(
            "points_close",
            f"The rivets lie within {share} % of the picture; 10 % are needed.",
            "Touch rivets farther apart.",
        )


def _refuse_turned(here: Sequence[Point], earlier: Sequence[Point]) -> None:
    """Refuse points that go round the other way; of a row nobody can tell."""
    if min(condition(here[:FEWEST]), condition(earlier[:FEWEST])) < LEAST_SPREAD:
        return
    if _area(here) * _area(earlier) < 0:
        raise _turned()


def _area(points: Sequence[Point]) -> float:
    (ax, ay), (bx, by), (cx, cy) = points[:FEWEST]
    return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)


def _turned() -> Refused:
    return Refused(
        "points_turned",
        "In one picture the rivets go round the other way.",
        "Touch them in the same order in both, or say which picture was seen in a mirror.",
    )


def _texts(value: Any) -> list[Any]:
    return value if isinstance(value, list) else []
