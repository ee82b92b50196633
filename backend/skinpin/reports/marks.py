"""Grade marks as points in a box of 48: sharp corners count the grade."""

from math import cos, pi, sin
from typing import Any

from skinpin.domain.kinds import HIGHEST
from skinpin.domain.permissions import STATES
from skinpin.reports.svg import INK, STAMP, path, rect

Point = list[float]
BOX, ROOM = 48, 16
_EDGE = 2.2

FILLS = {0: "#FFFFFF", 1: "#F1DFC4", 2: "#D9AE7C", 3: "#7E3D20", 4: "#3B0F1E"}
_STEPS = 18


def _arc(x: float, y: float, radius: float, start: float, end: float) -> list[Point]:
    """Points of an arc; angles in degrees, 0 to the right, growing clockwise as on paper."""
    turns = [(start + (end - start) * i / _STEPS) * pi / 180 for i in range(_STEPS + 1)]
    return [[round(x + radius * cos(t), 3), round(y + radius * sin(t), 3)] for t in turns]


def _lens(start: float, end: float, sign: int) -> list[Point]:
    """One bow of the lens: the arc of radius 23.63 through (2, 24) and (46, 24)."""
    middle = 24 + sign * (23.63**2 - 22**2) ** 0.5
    return _arc(24, middle, 23.63, start, end)


_HALF_BOW = 68.6


def _closed() -> dict[int, list[Point]]:
    square = [[3.0, 3.0], [45.0, 3.0], [45.0, 45.0], [3.0, 45.0]]
    return {
        0: [*_arc(24, 24, 17, -90, 90), *_arc(24, 24, 17, 90, 270)],
        1: [
            [17.0, 7.0],
            [41.0, 7.0],
            *_arc(31, 31, 10, 0, 90),
            *_arc(17, 31, 10, 90, 180),
            *_arc(17, 17, 10, 180, 270),
        ],
        2: [
            *_lens(-90 - _HALF_BOW, -90 + _HALF_BOW, 1),
            *_lens(90 - _HALF_BOW, 90 + _HALF_BOW, -1),
        ],
        3: [[24.0, 4.0], [45.0, 40.4], [3.0, 40.4]],
        4: square,
    }


def _open() -> dict[int, list[Point]]:
    return {
        0: _arc(24, 24, 17, 120, 420),
        1: [
            [16.0, 41.0],
            *_arc(17, 31, 10, 90, 180),
            *_arc(17, 17, 10, 180, 270),
            [41.0, 7.0],
            *_arc(31, 31, 10, 0, 84),
        ],
        2: [
            *_lens(132, 90 + _HALF_BOW, -1),
            *_lens(-90 - _HALF_BOW, -90 + _HALF_BOW, 1),
            *_lens(90 - _HALF_BOW, 48, -1),
        ],
        3: [[12.0, 40.4], [3.0, 40.4], [24.0, 4.0], [45.0, 40.4], [36.0, 40.4]],
    }


def mark_pictures() -> dict[str, dict[str, Any]]:
    """Return every mark as SVG by its key, without its numeral; the box has room for the state."""
    closed, opened = _closed(), _open()
    made = {}
    for grade in range(5):
        for is_open in (False, True):
            shape = (opened.get(grade) if is_open else None) or closed[grade]
            for state in STATES:
                drawn = _drawn(grade, shape, closed[grade], state, is_open)
                made[_key(grade, is_open, state)] = {
                    "svg": drawn,
                    "light": grade >= 3 and not is_open and state != "Draft",
                    "numeral_y": 28 if state == "Deferred" else 36 if grade == 3 else 31,
                }
    return made


def _key(grade: int, is_open: bool, state: str) -> str:
    return f"{grade}{'?' if is_open else ''} {state}"


def _drawn(grade: int, shape: list[Point], whole: list[Point], state: str, is_open: bool) -> str:
    fill = "none" if is_open or state == "Draft" else FILLS[grade]
    behind = [[x + 0.22 * BOX, y - 0.16 * BOX] for x, y in whole]
    parts = [path(behind, INK, _EDGE, closed=True, fill="white")] if state == "Same as" else []
    parts.append(path(shape, INK, _EDGE, closed=not is_open, fill=fill))
    if grade == 4 and fill != "none":
        parts.append(rect((5.5, 5.5, 37, 37), "white", 1.6))
    inside = "".join([*parts, *_STATE_PARTS.get(state, ())])
    side = BOX + 2 * ROOM
    view = f'viewBox="{-ROOM} {-ROOM} {side} {side}" width="{side}" height="{side}"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {view}>{inside}</svg>'


def _line(x0: float, y0: float, x1: float, y1: float, width: float = 2.4) -> str:
    return path([(x0, y0), (x1, y1)], INK, width)


_STAMP_BOX = (33.6, 32.6, 20.2, 17.3)
_STATE_PARTS = {
    "Assessed": [_line(0, 53, 48, 53)],
    "In work": [rect((0, 51, 48, 7), INK, 1.4, "white"), rect((0, 51, 24, 7), INK, 1.4, INK)],
    "Offered": [rect(_STAMP_BOX, INK, 2.2, "white", 3)],
    "Cleared": [rect(_STAMP_BOX, "white", 1.5, STAMP, 3)],
    "Deferred": [rect((-6, 30, 60, 20), "white", 0.1, "white"), _line(-6, 30, 54, 30)],
    "Raised in error": [_line(7, 22, 41, 22, 3), _line(7, 28, 41, 28, 3)],
    "Draft": [_line(-4, 24, 52, 24, 0.8), _line(24, -4, 24, 52, 0.8)],
}


def mark(row: dict[str, Any]) -> dict[str, Any]:
    """Return the mark of a defect's row: its shape, numeral and how the state is drawn."""
    grade, known = row["grade"], bool(row["grade_known"])
    graded = grade is not None
    numeral = "?" if not graded else f"{grade}" if known else f"{grade}?"
    is_open = not (graded and (known or grade == HIGHEST))
    state = row["state"] if row["state"] in STATES else "Raised"
    return {"key": _key(grade if graded else 0, is_open, state), "numeral": numeral}
