"""The printed scale card: where its corners and markers lie, in mm from its upper left corner.

The layout is our own. The markers are four of the ArUco MIP dictionary of 36 bits, any two of which
differ in 12 at least (S. Garrido-Jurado and others, *Generation of fiducial marker dictionaries
using mixed integer linear programming*, Pattern Recognition 51, 2016).
"""

from typing import Any

from skinpin.domain.fields import read_table

CARD: dict[str, Any] = read_table("scale_card.json")
"""`corner_px` is the error of a corner that was found, px a coordinate: the most on rendered
pictures of a true lens (trial `measuring`), where the median is 0.03."""

Corners = list[tuple[float, float]]


def card_corners() -> Corners:
    """Return the corners of the card, clockwise from the upper left as it is read."""
    return _square(0, 0, CARD["width_mm"], CARD["height_mm"])


def marker_corners(marker: dict[str, Any]) -> Corners:
    """Return the corners of a marker, clockwise from its own upper left."""
    x, y = marker["at_mm"]
    return _square(x, y, CARD["side_mm"], CARD["side_mm"])


def marker_bits(marker: dict[str, Any]) -> list[str]:
    """Return the six rows of a marker's inside, each six of `0` (black) and `1` (white)."""
    bits = f"{int(marker['code'], 16):036b}"
    return [bits[at : at + 6] for at in range(0, 36, 6)]


def _square(x: float, y: float, width: float, height: float) -> Corners:
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]
