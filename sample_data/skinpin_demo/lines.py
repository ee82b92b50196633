"""Line work of a drawing, as an airframe definition holds it."""

from collections.abc import Iterable
from typing import Any

Point = tuple[float, float]
Line = dict[str, Any]
Label = dict[str, Any]


def draw_line(
    points: Iterable[Point], weight: str = "thin", kind: str = "full", closed: bool = False
) -> Line:
    """Return a line through points of a view."""
    rounded = [[round(x, 2), round(y, 2)] for x, y in points]
    return {"points": rounded, "weight": weight, "kind": kind} | (
        {"closed": True} if closed else {}
    )


def draw_label(x: float, y: float, text: str, anchor: str = "middle") -> Label:
    """Return words at a point of a view, `y` being their base line."""
    return {"x": round(x, 2), "y": round(y, 2), "text": text, "anchor": anchor}
