"""Transforms between a flat thing and a picture of it, fitted through points touched in both.

A point is `(x, y)`, a transform nine floats row by row. Fits run from `sources` (the plane, in any
unit, its two axes may have different ones) to `targets` (the picture, pixels). A transform is
scaled so that the third coordinate is 1 at the middle of its sources, and so above 0 at each.
"""

from collections.abc import Sequence
from math import hypot, sqrt

import numpy as np

from skinpin.domain.errors import Refused

Point = Sequence[float]
Transform = tuple[float, ...]
# Points whose spread across is less than this share of that along count as one line.
# Common practice, no source.
NEARLY_COLLINEAR = 0.02
HORIZON = 1e-12


def fit_similarity(
    sources: Sequence[Point], targets: Sequence[Point], mirrored: bool = False
) -> Transform:
    """Return turn, one scale and shift, by least squares; two points or more.

    Parameters
    ----------
    mirrored
        True where the picture's y runs the other way, which two points cannot tell.

    Raises
    ------
    Refused
        `too_few_points`: fewer than two, or all at one place.
    """
    _refuse_too_few(sources, targets, 2)
    flip = -1.0 if mirrored else 1.0
    s, t = np.array(sources, float) * (1.0, flip), np.array(targets, float)
    s_mean, t_mean = s.mean(axis=0), t.mean(axis=0)
    s, t = s - s_mean, t - t_mean
    size = float((s * s).sum())
    if size == 0 or float((t * t).sum()) == 0:
        raise _too_few(1, 2)
    a = float((s * t).sum()) / size
    b = float((s[:, 0] * t[:, 1] - s[:, 1] * t[:, 0]).sum()) / size
    linear = np.array([[a, -b], [b, a]])
    return _affine(linear * (1.0, flip), s_mean * (1.0, flip), t_mean)


def fit_affine(sources: Sequence[Point], targets: Sequence[Point]) -> Transform:
    """Return the affine transform, by least squares; three points or more.

    Raises
    ------
    Refused
        `too_few_points` or `collinear_points`.
    """
    _refuse_too_few(sources, targets, 3)
    _refuse_collinear(sources, targets)
    s, t = np.array(sources, float), np.array(targets, float)
    s_mean, t_mean = s.mean(axis=0), t.mean(axis=0)
    width = s.std(axis=0)
    linear = np.linalg.lstsq((s - s_mean) / width, t - t_mean, rcond=None)[0].T
    return _affine(linear / width, s_mean, t_mean)


def fit_homography(sources: Sequence[Point], targets: Sequence[Point]) -> Transform:
    """Return the projective transform; four points or more, least squares beyond four.

    Normalised direct linear transform: Hartley and Zisserman, Multiple View Geometry, 2nd ed.,
    algorithm 4.2 (from memory); here each axis of the sources is scaled by itself.

    Raises
    ------
    Refused
        `too_few_points`; `collinear_points`: all but one lie on a line; `crossed_points`: no view
        of the sources can look like that, for they are out of order or one is elsewhere.
    """
    _refuse_too_few(sources, targets, 4)
    for left_out in range(len(sources)):
        _refuse_collinear(_without(sources, left_out), _without(targets, left_out))
    s, to_s = _normalised(sources, of_each_axis=True)
    t, to_t = _normalised(targets, of_each_axis=False)
    h = np.linalg.svd(_equations(s, t))[2][-1].reshape(3, 3)
    full = np.linalg.inv(to_t) @ h @ to_s
    full /= full[2] @ np.append(np.mean(np.array(sources, float), axis=0), 1.0)
    if min(float(full[2] @ (x, y, 1.0)) for x, y in sources) <= HORIZON:
        raise Refused(
            "crossed_points",
            "The points are out of order, or one was touched at a wrong place: "
            "nothing flat can look like that.",
            "Touch them again in the order shown, going round once.",
        )
    return tuple(float(one) for one in full.ravel())


def apply(transform: Sequence[float], point: Point) -> tuple[float, float]:
    """Return where a point goes.

    Raises
    ------
    Refused
        `beyond_horizon`: the point lies where the plane runs out of sight.
    """
    x, y = point
    a, b, c, d, e, f, g, h, i = transform
    w = g * x + h * y + i
    if w <= HORIZON * (abs(g * x) + abs(h * y) + abs(i)):
        raise Refused(
            "beyond_horizon",
            "That point lies beyond where the plane runs out of sight.",
            "Stay nearer to the points that were touched.",
        )
    return (a * x + b * y + c) / w, (d * x + e * y + f) / w


def inverse(transform: Sequence[float]) -> Transform:
    """Return the transform that leads back.

    Raises
    ------
    Refused
        `collinear_points`: it presses everything on to a line.
    """
    a, b, c, d, e, f, g, h, i = transform
    rows = (
        (e * i - f * h, c * h - b * i, b * f - c * e),
        (f * g - d * i, a * i - c * g, c * d - a * f),
        (d * h - e * g, b * g - a * h, a * e - b * d),
    )
    determinant = a * rows[0][0] + b * rows[1][0] + c * rows[2][0]
    if determinant == 0:
        raise _collinear()
    return tuple(one / determinant for row in rows for one in row)


def residual_rms(
    transform: Sequence[float], sources: Sequence[Point], targets: Sequence[Point]
) -> float:
    """Return the root of the mean squared distance between where points go and where they were."""
    ends = [apply(transform, one) for one in sources]
    pairs = zip(ends, targets, strict=True)
    return sqrt(sum((x - u) ** 2 + (y - v) ** 2 for (x, y), (u, v) in pairs) / len(ends))


def is_mirrored(transform: Sequence[float]) -> bool:
    """Tell whether what goes round one way goes round the other way afterwards."""
    a, b, c, d, e, f, g, h, i = transform
    return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g) < 0


def condition(points: Sequence[Point]) -> float:
    """Return the spread of points across their line as a share of that along it.

    1 is as wide as long, 0 one line or one place.
    """
    x_mean = sum(x for x, _ in points) / len(points)
    y_mean = sum(y for _, y in points) / len(points)
    xx = sum((x - x_mean) ** 2 for x, _ in points)
    yy = sum((y - y_mean) ** 2 for _, y in points)
    xy = sum((x - x_mean) * (y - y_mean) for x, y in points)
    along = (xx + yy + hypot(xx - yy, 2 * xy)) / 2
    # The product of both spreads is the determinant; a difference of two would lose its figures.
    return sqrt(max(0.0, xx * yy - xy * xy)) / along if along > 0 else 0.0


def _refuse_too_few(sources: Sequence[Point], targets: Sequence[Point], least: int) -> None:
    if len(sources) != len(targets) or len(sources) < least:
        raise _too_few(min(len(sources), len(targets)), least)


def _too_few(count: int, least: int) -> Refused:
    return Refused(
        "too_few_points",
        f"{count} of the {least} points that are needed at least, each at a place of its own.",
        "Touch more points.",
    )


def _refuse_collinear(sources: Sequence[Point], targets: Sequence[Point]) -> None:
    if min(condition(_of_each_axis(sources)), condition(targets)) < NEARLY_COLLINEAR:
        raise _collinear()


def _collinear() -> Refused:
    return Refused(
        "collinear_points",
        "The points lie on one line, or nearly, so the plane between them is not known.",
        "Touch points that are spread both ways.",
    )


def _of_each_axis(points: Sequence[Point]) -> list[list[float]]:
    given = np.array(points, float)
    width = given.std(axis=0)
    shown = (given - given.mean(axis=0)) / np.where(width > 0, width, 1.0)
    return [[float(x), float(y)] for x, y in shown]


def _without(points: Sequence[Point], left_out: int) -> list[Point]:
    return [one for at, one in enumerate(points) if at != left_out]


def _affine(linear: np.ndarray, s_mean: np.ndarray, t_mean: np.ndarray) -> Transform:
    shift = t_mean - linear @ s_mean
    rows = ((*linear[0], shift[0]), (*linear[1], shift[1]), (0.0, 0.0, 1.0))
    return tuple(float(one) for row in rows for one in row)


def _normalised(points: Sequence[Point], of_each_axis: bool) -> tuple[np.ndarray, np.ndarray]:
    given = np.array(points, float)
    mean, width = given.mean(axis=0), given.std(axis=0)
    if not of_each_axis:
        width = np.full(2, sqrt(float((width * width).sum()) / 2))
    to = np.array([[1 / width[0], 0, -mean[0] / width[0]], [0, 1 / width[1], -mean[1] / width[1]]])
    return (given - mean) / width, np.vstack([to, [0.0, 0.0, 1.0]])


def _equations(s: np.ndarray, t: np.ndarray) -> np.ndarray:
    rows = []
    for (x, y), (u, v) in zip(s, t, strict=True):
        rows.append([x, y, 1, 0, 0, 0, -u * x, -u * y, -u])
        rows.append([0, 0, 0, x, y, 1, -v * x, -v * y, -v])
    return np.array(rows)
