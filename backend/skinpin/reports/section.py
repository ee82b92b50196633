"""The plate cut through: depth to scale, width not."""

from collections.abc import Sequence
from typing import Any

from skinpin.reports.drawing import Item, line, text

_LEFT, _TOP, _WIDTH, _HEIGHT = 0.4, 3.0, 40.0, 15.5
_HATCH_MM = 2.4


def plate_section(
    thickness: float, depth: float | None, limits: Sequence[tuple[str, float]], typed: str
) -> dict[str, Any]:
    """Return the section of a plate with its pit and limits.

    Parameters
    ----------
    thickness, depth
        In one unit; a depth of None was not measured: sides and no bottom.
    limits
        Words and depth of each limit, in the same unit.
    typed
        The thickness as typed, written at the lower face.
    """
    items = [*_hatch(), *_pit(thickness, depth)]
    bottom, right = _TOP + _HEIGHT, _LEFT + _WIDTH
    items.append(line([(_LEFT, bottom), (right, bottom)], "thick", colour="ink"))
    items += _limits(thickness, limits)
    items.append(text(right + 5.2, bottom + 1.0, typed, size=8.3))
    items.append(text(_LEFT, bottom + 4.2, "depth to scale, width not", size=8.3, colour="ink2"))
    return {"width": 66.0, "height": bottom + 5.5, "items": items}


def _hatch() -> list[Item]:
    """Hatch at 45 degrees over the cut metal."""
    items = []
    low = _LEFT - _HEIGHT
    count = int((_WIDTH + _HEIGHT) / _HATCH_MM) + 1
    for i in range(count):
        start = low + i * _HATCH_MM
        a, b = max(start, _LEFT), min(start + _HEIGHT, _LEFT + _WIDTH)
        if b > a:
            bottom = _TOP + _HEIGHT
            items.append(line([(a, bottom - (a - start)), (b, bottom - (b - start))]))
    return items


def _pit(thickness: float, depth: float | None) -> list[Item]:
    left, right = _LEFT + 0.36 * _WIDTH, _LEFT + 0.66 * _WIDTH
    share = 0.55 if depth is None else min(depth / thickness, 1.0)
    deep = _TOP + _HEIGHT * share
    slope = 0.06 * _WIDTH
    floor = [(left + slope, deep - 0.15 * (deep - _TOP)), (left + 2 * slope, deep),
             (right - 2 * slope, deep), (right - slope, deep - 0.15 * (deep - _TOP))]  # fmt: skip
    edge = [(left, _TOP), *floor, (right, _TOP)]
    items = [line(edge, "thin", colour="white", closed=True, fill="white")]
    surface = [
        line([(_LEFT, _TOP), (left, _TOP)], "thick", colour="ink"),
        line([(right, _TOP), (_LEFT + _WIDTH, _TOP)], "thick", colour="ink"),
    ]
    if depth is None:
        middle = (left + right) / 2
        sides = [line(edge[:2], "medium", colour="ink"), line(edge[-2:], "medium", colour="ink")]
        return [
            *items,
            *surface,
            *sides,
            text(middle, _TOP + 7, "?", size=14, anchor="middle", bold=True),
        ]
    return [*items, *surface, line(edge, "medium", colour="ink")]


def _limits(thickness: float, limits: Sequence[tuple[str, float]]) -> list[Item]:
    """Chain lines at the limits; their words stand clear of each other on leaders."""
    items: list[Item] = []
    right, free = _LEFT + _WIDTH, _TOP - 2.0
    for words, depth in sorted(limits, key=lambda limit: limit[1]):
        y = _TOP + _HEIGHT * min(depth / thickness, 1.0)
        at = max(y, free)
        items.append(line([(_LEFT, y), (right + 1.2, y)], "thin", "chain", "ink"))
        items.append(line([(right + 1.2, y), (right + 4.4, at)], "thin", colour="ink"))
        items.append(text(right + 5.2, at + 1.0, words, size=8.3))
        free = at + 3.6
    return items
