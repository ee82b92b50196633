"""Grade marks as points in a box of 48: sharp corners count the grade."""

from math import cos, pi, sin
from typing import Any

Point = list[float]
BOX = 48

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


def mark_shapes() -> dict[str, Any]:
    """Every shape the template draws, by grade."""
    closed, opened = _closed(), _open()
    return {
        str(grade): {
            "closed": closed[grade],
            "open": opened.get(grade, closed[grade]),
            "fill": FILLS[grade],
            "light": grade >= 3,
            "numeral_y": 36 if grade == 3 else 31,
        }
        for grade in range(5)
    }


def mark(row: dict[str, Any]) -> dict[str, Any]:
    """Return the mark of a defect's row: its shape, numeral and how the state is drawn."""
    grade, known = row["grade"], bool(row["grade_known"])
    graded = grade is not None
    numeral = "?" if not graded else f"{grade}" if known else f"{grade}?"
    return {
        "grade": str(grade if graded else 0),
        "numeral": numeral,
        "open": not (graded and (known or grade == 4)),
        "state": row["state"],
    }
