"""What a lens may add to the doubt of a size in a photograph: it bends lines away from the middle.

First radial term of Brown's model: a point at the share s of the half diagonal is moved outwards by
k s² of its distance from the middle. What bends scale and measurement alike cancels out.
"""

from collections.abc import Callable, Mapping, Sequence
from math import hypot, sqrt
from typing import Any

from skinpin.domain.photo_geometry import Point

LENS = 0.01 / sqrt(3)
"""Standard uncertainty of k. A phone leaves about 1 % at the corner after its own correction
(common practice, no source); anything up to that is as likely: JCGM 100 (GUM), 4.3.7."""
STEP = 1e-4


def lens_u(
    size_of: Callable[[Sequence[Point], Sequence[Point]], float],
    corners: Sequence[Point],
    picks: Sequence[Point],
    picture: Mapping[str, Any],
) -> float:
    """Return the standard uncertainty of a size by the lens, in the unit of `size_of`.

    `size_of` gives the size from the corners of the scale and the points measured, upright px;
    `picture` has `width_px` and `height_px`.
    """
    more, less = (
        size_of(bent(corners, picture, k), bent(picks, picture, k)) for k in (STEP, -STEP)
    )
    return LENS * abs(more - less) / (2 * STEP)


def bent(points: Sequence[Point], picture: Mapping[str, Any], k: float) -> list[Point]:
    """Return where points of a straight picture, px, lie in one that a lens bent by `k`.

    >>> bent([(0.0, 0.0), (800.0, 600.0)], {"width_px": 1600, "height_px": 1200}, 0.25)
    [(-200.0, -150.0), (800.0, 600.0)]
    """
    x0, y0 = picture["width_px"] / 2, picture["height_px"] / 2
    half = hypot(x0, y0)
    moved: list[Point] = []
    for x, y in points:
        by = 1 + k * (hypot(x - x0, y - y0) / half) ** 2
        moved.append((x0 + (x - x0) * by, y0 + (y - y0) * by))
    return moved
