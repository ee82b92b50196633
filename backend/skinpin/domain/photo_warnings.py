"""What stood beside a figure when it was taken from a photograph, told with it ever after.

Derived from its measurement, scale and photograph as they stand; nothing of it is stored.
"""

from collections.abc import Mapping
from typing import Any

from skinpin.domain.photo_measure import warnings

Record = Mapping[str, Any]


def figure_warnings(measurement: Record, scale: Record, photograph: Record) -> list[str]:
    """Return what may make a figure wrong by more than its ±, as sentences.

    Nothing where one of the three is not here or can't be read.

    Parameters
    ----------
    measurement, scale, photograph
        Plain values of the records as they stand, in which anything may be.
    """
    sizes = (photograph.get("width_px"), photograph.get("height_px"))
    points = measurement.get("points")
    if not scale or not all(_is_number(one) and one for one in sizes):
        return []
    if not isinstance(points, list | tuple) or not all(map(_is_point, points)):
        return []
    return [one["words"] for one in warnings(scale, measurement, photograph)]


def _is_point(point: Any) -> bool:
    return isinstance(point, list | tuple) and len(point) == 2 and all(map(_is_number, point))


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)
