"""Where the words of measurements stand on a picture: clear of marks, metal and each other."""

import math
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from skinpin.reports.lettering import PT_MM, width_mm
from skinpin.reports.mark_places import Box, Point, overlap

Drawn = dict[str, Any]
Strokes = Sequence[Sequence[Point]]
FLAG_PT = 10
_EDGE_MM = 0.8
_LETTER: Box = (0.0, 0.0, 7.6, 6.8)
"""What the letter of the detail covers."""
_WAX_MM, _NUMBER_MM = 0.9, 3.6
_STEP_MM = 2.0
_OFFSETS = sorted(
    ((x * _STEP_MM, y * _STEP_MM) for x in range(-24, 25) for y in range(-18, 19)),
    key=lambda off: math.hypot(*off),
)
"""How far a flag may move, the nearest first."""
_LEADER_FROM_MM, _LEADER_SHORT_MM = 1.2, 15.0


class Flag(NamedTuple):
    """How words stand on paper: their size, and what is free beside and over them."""

    size_pt: float
    aside_mm: float
    over_mm: float

    def half_wide(self, words: str) -> float:
        """Return half the width of a flag in millimetres."""
        return width_mm(words, self.size_pt, bold=True) / 2 + self.aside_mm

    @property
    def half_high(self) -> float:
        """Half the height of a flag in millimetres."""
        return 0.38 * self.size_pt * PT_MM + self.over_mm


_LARGE, _SMALL = Flag(FLAG_PT, 2.0, 1.2), Flag(8.3, 1.2, 0.8)
_LARGE_FROM_MM = 80.0
"""On a narrower picture flags are smaller."""


class Placed(NamedTuple):
    """The words of a measurement, the middle of their flag, and the leader to what they name."""

    words: str
    x: float
    y: float
    leader: list[Point]
    flag: Flag


class _Ground(NamedTuple):
    """What flags keep clear of: by whose mark it is, and a few boxes."""

    width: float
    height: float
    flag: Flag
    spots: Sequence[tuple[int, Sequence[Point]]]
    metal: Sequence[Sequence[Point]]
    boxes: Sequence[Box]


def placed_labels(marks: Sequence[Drawn], width: float, height: float) -> list[Placed]:
    """Return where the flags of measurements stand on a picture; quiet ones have none.

    Parameters
    ----------
    marks
        As `marks_on_picture` gives them. A length has `bars` (its lines), `of` (what was
        measured), `x`, `y` (where its flag stands best), `label`, and `short` (said where
        `label` has no room).
    width, height
        Of the picture in millimetres.
    """
    flag = _LARGE if width >= _LARGE_FROM_MM else _SMALL
    metal = [_along(mark["of"]) for mark in marks if mark["what"] == "length"]
    boxes = [_LETTER, *_numbers(marks)]
    ground = _Ground(width, height, flag, _spots(marks), metal, boxes)
    flags = [at for at, mark in enumerate(marks) if mark["what"] == "length" and mark["label"]]
    # What was measured comes before what it was measured by, whose sizes the caption then says.
    flags.sort(key=lambda at: bool(marks[at].get("short")))
    is_measured = any(not marks[at].get("short") for at in flags)
    placed: list[Placed] = []
    for at in flags:
        short = marks[at].get("short")
        told = [short] if short and is_measured else [marks[at]["label"], short]
        placed.append(_place(marks[at], at, [each for each in told if each], ground, placed))
    return placed


def _place(
    mark: Drawn, own: int, told: list[str], ground: _Ground, placed: Sequence[Placed]
) -> Placed:
    """Return the nearest place that is clear, else one that hides least."""
    fits = [each for each in told if ground.flag.half_wide(each) * 2 < ground.width - 2]
    told = fits or told[-1:]
    taken = [_flag_box(one.words, (one.x, one.y), one.flag) for one in placed]
    foreign = [spots for whose, spots in ground.spots if whose != own]
    bars = [] if mark["heads"] else [_along(bar) for bar in mark["bars"]]
    strokes = [*foreign, _along(mark["of"]), *bars]
    for kept, crossed in ((strokes, foreign), (strokes, []), (ground.metal, []), ([], [])):
        for words in told:
            found = _nearest(mark, words, ground, (kept, crossed), taken)
            if found:
                return found
    at = _inside((mark["x"], mark["y"]), told[-1], ground)
    return Placed(told[-1], *at, [], ground.flag)


def _nearest(
    mark: Drawn,
    words: str,
    ground: _Ground,
    kept: tuple[Strokes, Strokes],
    taken: Sequence[Box],
) -> Placed | None:
    """Return the nearest place clear of strokes; its leader crosses no flag and none of others."""
    strokes, crossed = kept
    line = _along(mark["bars"][0])
    best = _inside((mark["x"], mark["y"]), words, ground)
    for dx, dy in _OFFSETS:
        at = (best[0] + dx, best[1] + dy)
        box = _flag_box(words, at, ground.flag)
        if not _is_inside(box, ground) or any(overlap(box, other) for other in taken):
            continue
        if any(overlap(box, other) for other in ground.boxes) or _hits(box, strokes):
            continue
        leader = _leader(line, box)
        if any(_hits(other, [_along(leader)]) for other in taken):
            continue
        if crossed and not _is_clean(leader, crossed):
            continue
        return Placed(words, *at, leader, ground.flag)
    return None


def _is_clean(leader: Sequence[Point], strokes: Strokes) -> bool:
    """Say whether a leader is short and crosses no stroke before its end."""
    if not leader:
        return True
    long = math.dist(*leader)
    way = [point for point in _along(leader) if math.dist(point, leader[1]) > 2 * _WAX_MM]
    spots = [(x, y, x, y) for x, y in way]
    return long < _LEADER_SHORT_MM and not any(_hits(spot, strokes) for spot in spots)


def _leader(line: Sequence[Point], box: Box) -> list[Point]:
    """Return the way from a flag to the nearest of its line; none where it lies on it."""
    middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
    to = min(line, key=lambda point: math.dist(point, middle))
    start = (min(max(to[0], box[0]), box[2]), min(max(to[1], box[1]), box[3]))
    return [start, to] if math.dist(start, to) > _LEADER_FROM_MM else []


# ---- what is covered


def _spots(marks: Sequence[Drawn]) -> list[tuple[int, list[Point]]]:
    """Return points a millimetre apart of every stroke and line, by the number of their mark."""
    found = []
    for at, mark in enumerate(marks):
        ways = [*mark.get("strokes", ()), *mark.get("bars", ()), mark.get("of", [])]
        points = [point for way in ways for point in _along(way)]
        if mark["what"] == "dot":
            points.append((mark["x"], mark["y"]))
        found.append((at, points))
    return found


def _numbers(marks: Sequence[Drawn]) -> list[Box]:
    r = _NUMBER_MM
    spots = [(one["x"], one["y"]) for one in marks if one["what"] == "number"]
    return [(x - r, y - r, x + r, y + r) for x, y in spots]


def _along(way: Sequence[Sequence[float]]) -> list[Point]:
    """Return points along a way, no more than a millimetre apart."""
    points: list[Point] = [(x, y) for x, y in way[:1]]
    for (x, y), (u, v) in zip(way, way[1:], strict=False):
        count = min(max(math.ceil(math.hypot(u - x, v - y)), 1), 300)
        points += [
            (x + (u - x) * each / count, y + (v - y) * each / count) for each in range(1, count + 1)
        ]
    return points


def _hits(box: Box, strokes: Strokes) -> bool:
    left, top, right, bottom = (
        box[0] - _WAX_MM,
        box[1] - _WAX_MM,
        box[2] + _WAX_MM,
        box[3] + _WAX_MM,
    )
    return any(left < x < right and top < y < bottom for points in strokes for x, y in points)


# ---- a flag


def _flag_box(words: str, at: Point, flag: Flag) -> Box:
    wide, high = flag.half_wide(words), flag.half_high
    return at[0] - wide, at[1] - high, at[0] + wide, at[1] + high


def _is_inside(box: Box, ground: _Ground) -> bool:
    low, right, bottom = _EDGE_MM - 1e-9, ground.width - _EDGE_MM, ground.height - _EDGE_MM
    return min(box[:2]) >= low and box[2] <= right + 1e-9 and box[3] <= bottom + 1e-9


def _inside(at: Point, words: str, ground: _Ground) -> Point:
    """Return the place nearest to one at which a flag lies within the picture."""
    wide, high = ground.flag.half_wide(words) + _EDGE_MM, ground.flag.half_high + _EDGE_MM
    x = max(wide, min(at[0], ground.width - wide))
    return x, max(high, min(at[1], ground.height - high))


def words_of(placed: Placed) -> Mapping[str, Any]:
    """Return a flag as the template reads it: by the left end of its words."""
    flag = placed.flag
    left = placed.x - width_mm(placed.words, flag.size_pt, bold=True) / 2
    return {
        "what": "length",
        "x": round(left, 3),
        "y": round(placed.y, 2),
        "label": placed.words,
        "size": flag.size_pt,
        "aside": flag.aside_mm,
        "over": flag.over_mm,
    }
