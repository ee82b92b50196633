"""Marks on a picture, as strokes in millimetres; what is not understood is left out."""

import math
import re
from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple

from skinpin.reports.lettering import width_mm
from skinpin.reports.picture_labels import FLAG_PT, Placed, placed_labels, words_of
from skinpin.reports.strokes import Point, arrow_strokes, ring_stroke, seed_of
from skinpin.reports.svg import INK, WAX_LIGHT, circle, path, svg
from skinpin.reports.words import printable

Drawn = dict[str, Any]
AXIS_POINTS = 3
"""A ring of two or three points gives its axis; one of more is the stroke itself."""
_HEAD_MM, _NUMBER_MM = 4.5, 3.2
_DIMENSION_MM, _CLEAR_MM = 8.0, 12.0
_LONGEST_LABEL = {"scale": 48, "measured": 48}
_LONGEST_OTHER = 24
_OFF_MM = 6.0
"""How far a dimension line stands off from what it measures."""
_NUMBER_PT = 11
_SURE = re.compile(r"[0-9]+(\.[0-9]+)? ± [0-9]+(\.[0-9]+)? (in|mm)")
_FIGURE = re.compile(r"[0-9]+(\.[0-9]+)? ?(in|mm)")


class Ground(NamedTuple):
    """A picture on paper: its upright pixels, millimetres to a pixel, and how it is shown."""

    width_px: int
    height_px: int
    mm: float
    mirrored: bool = False

    def paper(self, point: Point) -> Point:
        """Return where a point in upright pixels lies, turned left for right in a mirror."""
        x = self.width_px - point[0] if self.mirrored else point[0]
        return x * self.mm, point[1] * self.mm


def marks_on_picture(marks: Sequence[Any], ground: Ground) -> list[Drawn]:
    """Return the marks of a picture that can be drawn; a `quiet` measurement without its words.

    Parameters
    ----------
    marks
        Shapes with the `record` they are of; points in whole tenths of an upright pixel. A ring
        of two or three points gives the ends of its long axis and its half-width; a ring of more
        points is the stroke itself.
    """
    drawn = (_drawn(shape, ground) for shape in marks if isinstance(shape, Mapping))
    return [each for each in drawn if each is not None]


def is_marked(marks: Sequence[Any], ground: Ground) -> bool:
    """Say whether any mark can be drawn; none is drawn for it."""
    return any(_read(shape, ground) for shape in marks if isinstance(shape, Mapping))


def _drawn(shape: Mapping[str, Any], ground: Ground) -> Drawn | None:
    read = _read(shape, ground)
    if read is None:
        return None
    kind, points, label = read
    drawn = _DRAW[kind](points, ground, seed_of(str(shape.get("record") or "")), label)
    if drawn["what"] != "length":
        return drawn
    # What rests on no figure is drawn, and says nothing beside what does.
    told = {"label": "", "quiet": True} if shape.get("quiet") is True else {}
    metal = _rounded([ground.paper(point) for point in points])
    return {"short": _label(shape.get("short"), kind), **drawn, "of": metal, **told}


def _read(shape: Mapping[str, Any], ground: Ground) -> tuple[str, list[Point], str] | None:
    """Return kind, points and label of a mark that can be drawn, None of any other."""
    points = _points(shape.get("points"), ground)
    kind = shape.get("kind")
    if not points or not isinstance(kind, str) or kind not in _DRAW:
        return None
    label = _label(shape.get("label"), kind)
    needs_length = kind in ("arrow", "line", "outline", "scale", "measured") or (
        kind == "ring" and len(points) <= AXIS_POINTS
    )
    if needs_length and not _apart(points):
        return None
    # A length without what it is sure to is not drawn as one.
    is_unsure = kind == "line" and _FIGURE.fullmatch(label)
    return None if is_unsure else (kind, points, label)


def _points(points: Any, ground: Ground) -> list[Point]:
    """Return points in upright pixels; none where one is no point or far off the picture."""
    reach = 10 * max(ground.width_px, ground.height_px)
    if not isinstance(points, list | tuple):
        return []
    for point in points:
        if not isinstance(point, list | tuple) or len(point) != 2:
            return []
        if not all(type(end) in (int, float) and -reach <= end <= 2 * reach for end in point):
            return []
    return [(x / 10, y / 10) for x, y in points]


def _label(label: Any, kind: str) -> str:
    longest = _LONGEST_LABEL.get(kind, _LONGEST_OTHER)
    return printable(label)[:longest] if isinstance(label, str) else ""


# ---- one kind each


def _ring(points: list[Point], ground: Ground, seed: int, label: str) -> Drawn:
    stroke = points if len(points) > AXIS_POINTS else ring_stroke(points, seed)
    return _wax([stroke], ground)


def _arrow(points: list[Point], ground: Ground, seed: int, label: str) -> Drawn:
    return _wax(arrow_strokes(points[0], points[1], seed, _HEAD_MM / ground.mm), ground)


def _line(points: list[Point], ground: Ground, seed: int, label: str) -> Drawn:
    """A length is drawn as measured only with what it is sure to; any other line is wax."""
    if _SURE.fullmatch(label):
        return _length(ground.paper(points[0]), ground.paper(points[1]), label)
    return _wax([points[:2]], ground)


def _dot(points: list[Point], ground: Ground, seed: int, label: str) -> Drawn:
    x, y = ground.paper(points[0])
    return {"what": "dot", "x": round(x, 2), "y": round(y, 2)}


def _number(points: list[Point], ground: Ground, seed: int, label: str) -> Drawn:
    x, y = ground.paper(points[0])
    turns = [math.radians(each) for each in range(0, 361, 15)]
    ring = [(x + _NUMBER_MM * math.cos(t), y + _NUMBER_MM * math.sin(t)) for t in turns]
    return {"what": "number", "x": round(x, 2), "y": round(y, 2), "label": label,
            "strokes": [_rounded(ring)]}  # fmt: skip


def _outline(points: list[Point], ground: Ground, seed: int, label: str) -> Drawn:
    return _wax([[*points, points[0]]], ground)


def _scale(points: list[Point], ground: Ground, seed: int, label: str) -> Drawn:
    """Two points stand off on a dimension line; four are the sides of what was laid there."""
    placed = [ground.paper(point) for point in points]
    if len(points) == 2:
        # It stands off under the rule, above it where the picture ends there.
        is_low = max(y for _, y in points) > 0.8 * ground.height_px
        return _path(sorted(placed, reverse=not is_low), label)
    return _area([*placed, placed[0]], label)


def _measured(points: list[Point], ground: Ground, seed: int, label: str) -> Drawn:
    """A way through points stands off, moved clear; an outline comes back to where it began."""
    placed = [ground.paper(point) for point in points]
    return _area(placed, label) if placed[0] == placed[-1] else _path(placed, label)


_DRAW: Mapping[str, Callable[[list[Point], Ground, int, str], Drawn]] = {
    "ring": _ring,
    "arrow": _arrow,
    "line": _line,
    "dot": _dot,
    "number": _number,
    "outline": _outline,
    "scale": _scale,
    "measured": _measured,
}


def _apart(points: Sequence[Point]) -> bool:
    return len(points) > 1 and math.dist(points[0], points[1]) >= 1


def _wax(strokes: Sequence[Sequence[Point]], ground: Ground) -> Drawn:
    placed = [_rounded([ground.paper(point) for point in stroke]) for stroke in strokes]
    return {"what": "wax", "strokes": placed}


def _rounded(points: Sequence[Point]) -> list[list[float]]:
    return [[round(x, 2), round(y, 2)] for x, y in points]


# ---- a length with what it is sure to


def _length(a: Point, b: Point, label: str) -> Drawn:
    """Return a dimension: above what is level and has room above it, else from end to end."""
    if a[0] > b[0]:
        a, b = b, a
    level = abs(b[1] - a[1]) < 0.05 * (b[0] - a[0]) and min(a[1], b[1]) > _CLEAR_MM
    ends, bars = (a, b), [[a, b]]
    if level:
        ends = ((a[0], _DIMENSION_MM), (b[0], _DIMENSION_MM))
        over = _DIMENSION_MM - 1.5
        bars = [list(ends), [(a[0], over), a], [(b[0], over), b]]
    return {
        "what": "length",
        "bars": [_rounded(bar) for bar in bars],
        "heads": [_rounded(_head(*ends)), _rounded(_head(*reversed(ends)))],
        "x": round((ends[0][0] + ends[1][0]) / 2, 2),
        "y": round((ends[0][1] + ends[1][1]) / 2, 2),
        "label": label,
    }


def _path(points: Sequence[Point], label: str) -> Drawn:
    """Return a dimension line: the way itself moved clear, with a witness line at each end."""
    (x, y), (u, v) = points[0], points[-1]
    length = math.hypot(u - x, v - y) or 1.0
    dx, dy = (v - y) / length * _OFF_MM, (x - u) / length * _OFF_MM
    moved = [(a + dx, b + dy) for a, b in points]
    # A flag that would hide its line lies beyond it.
    beyond = 1.8 if length < width_mm(label, FLAG_PT, bold=True) + 8 else 1.0
    witness = [[end, (end[0] + 1.15 * dx, end[1] + 1.15 * dy)] for end in (points[0], points[-1])]
    return {
        "what": "length",
        "bars": [_rounded(bar) for bar in (moved, *witness)],
        "heads": [_rounded(_head(moved[0], moved[1])), _rounded(_head(moved[-1], moved[-2]))],
        "x": round((x + u) / 2 + beyond * dx, 2),
        "y": round((y + v) / 2 + beyond * dy, 2),
        "label": label,
    }


def _area(points: Sequence[Point], label: str) -> Drawn:
    """Return an outline with its value under it."""
    xs = [x for x, _ in points]
    return {
        "what": "length",
        "bars": [_rounded(points)],
        "heads": [],
        "x": round((min(xs) + max(xs)) / 2, 2),
        "y": round(max(y for _, y in points) + 4, 2),
        "label": label,
    }


def _head(tip: Point, other: Point) -> list[Point]:
    length = math.dist(tip, other) or 1.0
    along = ((other[0] - tip[0]) / length, (other[1] - tip[1]) / length)
    back = (tip[0] + 2.6 * along[0], tip[1] + 2.6 * along[1])
    return [
        tip,
        (back[0] - 0.8 * along[1], back[1] + 0.8 * along[0]),
        (back[0] + 0.8 * along[1], back[1] - 0.8 * along[0]),
    ]


# ---- as line work over a picture


def overlay(marks: Sequence[Drawn], width: float, height: float) -> tuple[str, list[Drawn]]:
    """Return the strokes of marks as one SVG, and the words that stand on them."""
    flags = placed_labels(marks, width, height)
    shapes = [shape for mark in marks for shape in _SHAPES[mark["what"]](mark)]
    shapes += [shape for flag in flags for shape in _leader_shapes(flag)]
    labels = [_number_on(mark) for mark in marks if mark["what"] == "number"]
    labels += [dict(words_of(flag)) for flag in flags]
    return (svg(width, height, shapes) if shapes else ""), labels


def _number_on(mark: Drawn) -> Drawn:
    """Return a number by its left end."""
    left = mark["x"] - width_mm(mark["label"], _NUMBER_PT, bold=True) / 2
    return {"what": "number", "x": round(left, 3), "y": mark["y"], "label": mark["label"]}


def _leader_shapes(flag: Placed) -> list[str]:
    edges = ((WAX_LIGHT, 0.9), (INK, 0.25))
    return [path(flag.leader, colour, width) for colour, width in edges if flag.leader]


def _wax_shapes(mark: Drawn) -> list[str]:
    """One edge and one core a stroke, the core of one over the edge of the one before."""
    return [
        path(stroke, colour, width, cap="round")
        for stroke in mark["strokes"]
        for colour, width in ((WAX_LIGHT, 1.5), (INK, 0.9))
    ]


def _dot_shapes(mark: Drawn) -> list[str]:
    radii = ((1.35, WAX_LIGHT), (1.05, INK))
    return [circle(mark["x"], mark["y"], radius, "none", 0, fill) for radius, fill in radii]


def _number_shapes(mark: Drawn) -> list[str]:
    ground = circle(mark["x"], mark["y"], _NUMBER_MM, "none", 0, WAX_LIGHT)
    return [ground, *_wax_shapes(mark)]


def _length_shapes(mark: Drawn) -> list[str]:
    edges = ((WAX_LIGHT, 0.5), (INK, 0.15)) if mark.get("quiet") else ((WAX_LIGHT, 0.9), (INK, 0.3))
    bars = [path(bar, colour, width) for colour, width in edges for bar in mark["bars"]]
    if mark.get("quiet"):
        return bars
    return bars + [path(each, WAX_LIGHT, 0.2, closed=True, fill=INK) for each in mark["heads"]]


_SHAPES: Mapping[str, Callable[[Drawn], list[str]]] = {
    "wax": _wax_shapes,
    "dot": _dot_shapes,
    "number": _number_shapes,
    "length": _length_shapes,
}
