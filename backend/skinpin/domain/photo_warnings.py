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
    if not scale:
        return []
    try:
        return [one["words"] for one in warnings(scale, measurement, photograph)]
    except (KeyError, TypeError, ValueError, ZeroDivisionError):
        return []
