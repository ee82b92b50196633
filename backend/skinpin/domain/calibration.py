"""A picture made a view: fitted through points touched on it whose places are known.

The plane has two axes: along, the station in the structure's unit, and second, the water line in
the same unit or the strake line (place_pictures says which sign). Errors are told in the
structure's unit; one in strakes counts as many units as a strake is high in the picture there.
"""

from collections.abc import Sequence
from math import hypot, isfinite, sqrt
from typing import NamedTuple

from skinpin.domain.definition_trouble import REFUSED, SAID
from skinpin.domain.errors import Refused
from skinpin.domain.photo_geometry import (
    Point,
    Transform,
    apply,
    fit_affine,
    fit_homography,
    fit_similarity,
    inverse,
    is_mirrored,
)

LEAST = {"similarity": 2, "affine": 3, "homography": 4}
SECONDS = ("water line", "strake")
LIMIT_PERCENT = 0.5
"""How far off the check point may be, of the span of the points. Common practice, no source."""
SAME_PX = 1.0
MOST = 1e7


class Touched(NamedTuple):
    """A point touched: its pixel, and where it is (along, second)."""

    px: tuple[float, float]
    at: tuple[float, float]


class Asked(NamedTuple):
    """What a picture is fitted by; `hand` and `positive` say which way round it should lie."""

    points: Sequence[Touched]
    check: Touched | None
    second: str
    method: str | None = None
    hand: str | None = None
    positive: str = "aft"
    unit: str = "in"
    limit_percent: float = LIMIT_PERCENT


class Told(NamedTuple):
    """Something to be said of a fit; of weight "refused" it must not be kept."""

    code: str
    message: str
    hint: str
    weight: str


class Fitted(NamedTuple):
    """A fit. `fitted_px` is where it puts each point, `errors` how far off that is.

    `forward` is where the nose lies in the picture, None where stations don't run along it.
    """

    method: str
    to_picture: Transform
    rms: float
    errors: list[float]
    fitted_px: list[tuple[float, float]]
    check_error: float | None
    check_px: tuple[float, float] | None
    span: float
    limit: float
    mirrored: bool
    forward: str | None
    troubles: list[Told]


def fit_view(asked: Asked) -> Fitted:
    """Return the fit through the points, with what is to be said of it.

    Two points make a similarity, three or more an affine transform unless a homography is asked
    for. The check point is not used by the fit.

    Raises
    ------
    Refused
        `too_few_points`, `collinear_points`, `crossed_points`, `beyond_horizon`, `no_such_method`.
    """
    _refuse_wild(asked)
    method = _method_of(asked)
    to_picture = _fit(method, asked)
    errors = [_error(to_picture, asked.second, one) for one in asked.points]
    span = _span(asked)
    limit = span * asked.limit_percent / 100
    check = _check_error(asked, to_picture)
    return Fitted(
        method=method,
        to_picture=to_picture,
        rms=sqrt(sum(one * one for one in errors) / len(errors)),
        errors=errors,
        fitted_px=[apply(to_picture, one.at) for one in asked.points],
        check_error=check,
        check_px=asked.check and apply(to_picture, asked.check.at),
        span=span,
        limit=limit,
        mirrored=_is_reversed(asked, to_picture),
        forward=_forward(to_picture, asked),
        troubles=judged(asked, to_picture),
    )


def judged(asked: Asked, to_picture: Transform) -> list[Told]:
    """Return what is to be said of a way from places to pixels: check point and reversed view."""
    span = _span(asked)
    limit = span * asked.limit_percent / 100
    check = _check_error(asked, to_picture)
    return [
        *_check_told(asked, check, span, limit),
        *_strakes_told(asked, to_picture, limit),
        *_mirror_told(asked, _is_reversed(asked, to_picture)),
    ]


def _check_error(asked: Asked, to_picture: Transform) -> float | None:
    return asked.check and _error(to_picture, asked.second, asked.check)


def _is_reversed(asked: Asked, to_picture: Transform) -> bool:
    return is_mirrored(to_picture) is not _should_mirror(asked)


def _refuse_wild(asked: Asked) -> None:
    points = [*asked.points, *([asked.check] if asked.check else [])]
    figures = [figure for one in points for figure in (*one.px, *one.at)]
    if not all(isfinite(one) and abs(one) <= MOST for one in figures):
        raise Refused("wrong_shape", "A point lies nowhere.", "Touch it again.")
    if asked.second not in SECONDS:
        raise Refused(
            "wrong_shape",
            f"“{asked.second}” is no second axis.",
            f"It is {' or '.join(SECONDS)}.",
        )
    if not 0 < asked.limit_percent <= 100:
        raise Refused(
            "wrong_shape",
            f"A limit of {asked.limit_percent:g} % is none.",
            "Give one above 0 and up to 100 %.",
        )


def _method_of(asked: Asked) -> str:
    count, by_strake = len(asked.points), asked.second == "strake"
    method = asked.method or ("similarity" if count == 2 and not by_strake else "affine")
    if method not in LEAST:
        raise Refused(
            "no_such_method",
            f"There is no fit called “{method}”.",
            f"There are {', '.join(LEAST)}.",
        )
    if method == "similarity" and by_strake:
        raise Refused(
            "no_such_method",
            "A similarity needs one unit on both axes, and strakes have none.",
            "Touch three points or more.",
        )
    return method


def _fit(method: str, asked: Asked) -> Transform:
    places, pixels = [one.at for one in asked.points], [one.px for one in asked.points]
    if method == "affine":
        return fit_affine(places, pixels)
    if method == "homography":
        return fit_homography(places, pixels)
    return _upright_similarity(places, pixels, asked)


def _upright_similarity(
    places: Sequence[Point], pixels: Sequence[Point], asked: Asked
) -> Transform:
    """Two points leave open which side of their line is up: water lines then run up the picture."""
    ways = [fit_similarity(places, pixels, mirrored) for mirrored in (True, False)]
    up = [-one[4] for one in ways]
    if len(places) == 2 and abs(up[0]) > abs(ways[0][1]):
        return ways[0] if up[0] > 0 else ways[1]
    if len(places) == 2:
        return ways[0] if _should_mirror(asked) else ways[1]
    return min(ways, key=lambda one: sum(_off_px(one, each) for each in asked.points))


def _off_px(transform: Transform, one: Touched) -> float:
    x, y = apply(transform, one.at)
    return hypot(x - one.px[0], y - one.px[1]) ** 2


def _error(transform: Transform, second: str, one: Touched) -> float:
    """Return how far off a point is in the structure's unit."""
    along, _ = apply(inverse(transform), one.px)
    return hypot(along - one.at[0], _across(transform, second, one))


def _across(transform: Transform, second: str, one: Touched) -> float:
    """Return how far off a point is on the second axis, in the structure's unit."""
    _, other = apply(inverse(transform), one.px)
    height = _strake_height(transform, one.at) if second == "strake" else 1.0
    return abs(other - one.at[1]) * height


def _strake_height(transform: Transform, at: Point) -> float:
    """Return how many units along a strake is high in the picture at a place."""
    step = 1e-3

    def moved(along: float, second: float) -> float:
        ends = [apply(transform, (at[0] + sign * along, at[1] + sign * second)) for sign in (1, -1)]
        return hypot(ends[0][0] - ends[1][0], ends[0][1] - ends[1][1])

    return moved(0, step) / moved(step, 0)


def _span(asked: Asked) -> float:
    """Return the larger range of the points on either axis; strakes have no length of their own."""
    axes = [0] if asked.second == "strake" else [0, 1]
    ranges = []
    for axis in axes:
        values = [one.at[axis] for one in asked.points]
        ranges.append(max(values) - min(values))
    return max(ranges)


def _should_mirror(asked: Asked) -> bool:
    """Say whether the plane should lie mirrored in a picture, whose y runs down.

    Seen from outside port has its nose to the left, starboard to the right, water lines and
    strakes run up; a developed view of both hands has port uppermost and so starboard down.
    """
    is_of_both = asked.hand is None and asked.second == "strake"
    should = asked.hand != "S" and not is_of_both
    turned = asked.positive.casefold().startswith(("fwd", "forward", "inboard"))
    return should is not turned


def _forward(transform: Transform, asked: Asked) -> str | None:
    """Return left, right, up or down: where the nose lies, seen from the middle of the points."""
    towards = {"aft": -1, "fwd": 1, "for": 1}.get(asked.positive.casefold()[:3])
    if towards is None:
        return None
    middle = [sum(one.at[axis] for one in asked.points) / len(asked.points) for axis in (0, 1)]
    step = towards * 1e-3
    (x, y), (u, v) = (apply(transform, (middle[0] + by, middle[1])) for by in (0.0, step))
    if abs(u - x) >= abs(v - y):
        return "right" if u > x else "left"
    return "down" if v > y else "up"


def _check_told(asked: Asked, check: float | None, span: float, limit: float) -> list[Told]:
    if asked.check is None or check is None:
        message = "There is no check point, so nobody knows how far off other places are."
        hint = "Touch one known point more, which the fit does not use."
        return [Told("no_check_point", message, hint, SAID)]
    if any(_is_same(asked.check, one) for one in asked.points):
        message = "The check point is one of the points that the fit uses, so it proves nothing."
        return [Told("check_point_used", message, "Touch another known point.", REFUSED)]
    if check <= limit:
        return []
    share = 100 * check / span if span else 0.0
    message = (
        f"The check point is {check:.3g} {asked.unit} off, {share:.2g} % of the span of "
        f"{span:g} {asked.unit}; at most {asked.limit_percent:g} % is allowed."
    )
    return [Told("check_point_off", message, "Touch the points again, or more of them.", REFUSED)]


def _strakes_told(asked: Asked, to_picture: Transform, limit: float) -> list[Told]:
    """Say that a drawing does not space its strakes equally, as the fit takes them to be."""
    if asked.second != "strake":
        return []
    touched = [*asked.points, *([asked.check] if asked.check else [])]
    across = max(_across(to_picture, asked.second, one) for one in touched)
    if across <= limit:
        return []
    message = f"Strakes lie up to {across:.3g} {asked.unit} from where equal steps would put them."
    hint = (
        "Where the drawing spaces strakes unequally, choose “water line” as the second axis and "
        "type heights, or calibrate it for strakes that are evenly spaced; else touch them again."
    )
    return [Told("unequal_strakes", message, hint, SAID)]


def _is_same(one: Touched, other: Touched) -> bool:
    off_px = hypot(one.px[0] - other.px[0], one.px[1] - other.px[1])
    return one.at == other.at or off_px < SAME_PX


def _mirror_told(asked: Asked, mirrored: bool) -> list[Told]:
    if not mirrored:
        return []
    other = "port" if asked.hand == "S" else "starboard"
    message = f"This view is reversed – {other}?"
    hint = "Look at the hand, and at whether the picture was scanned from its back."
    return [Told("mirrored_view", message, hint, SAID)]
