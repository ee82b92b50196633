"""The least-squares rate of a crack's growth, with its standard error, as exact fractions."""

from collections.abc import Sequence
from typing import NamedTuple

FEWEST = 3


class Rate(NamedTuple):
    """Growth a day: `slope` ÷ `slope_of`, and the square of its standard error as a fraction."""

    slope: int
    slope_of: int
    square: int
    square_of: int


def rate_of(points: Sequence[tuple[int, int]]) -> Rate | None:
    """Return the rate of points (day, length); None with fewer than three, or all on one day.

    With sums over n points, A = nΣx² − (Σx)², B = nΣxy − ΣxΣy and C = nΣy² − (Σy)², the slope is
    B ÷ A, and the square of its standard error (AC − B²) ÷ (A²(n − 2)).
    """
    n = len(points)
    if n < FEWEST:
        return None
    x, y = sum(day for day, _ in points), sum(length for _, length in points)
    a = n * sum(day * day for day, _ in points) - x * x
    b = n * sum(day * length for day, length in points) - x * y
    c = n * sum(length * length for _, length in points) - y * y
    if a == 0:
        return None
    return Rate(b, a, a * c - b * b, a * a * (n - 2))
