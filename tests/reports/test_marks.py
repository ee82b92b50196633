"""Grade marks say grade and state by shape and numeral alone: paper may be printed in black."""

import re
from itertools import combinations

import pytest
from skinpin.domain.permissions import STATES
from skinpin.reports.marks import FILLS, mark, mark_pictures
from skinpin.reports.svg import INK

GRADES = range(5)


def black(svg):
    """Return line work without its colours."""
    return re.sub(r'(fill|stroke)="[^"]*"', r'\1=""', svg)


def row(grade, state="Raised", known=True):
    return {"grade": grade, "grade_known": known, "state": state}


def told(one):
    """Return all that a reader sees of a mark in black: its lines and its numeral."""
    shown = mark(one)
    return black(mark_pictures()[shown["key"]]["svg"]), shown["numeral"]


def test_no_two_grades_and_states_look_alike_in_black():
    shapes = {(grade, state): told(row(grade, state)) for grade in GRADES for state in STATES}
    alike = {"Same as", "Raised"}
    for one, other in combinations(shapes, 2):
        if one[0] != other[0] or not {one[1], other[1]} <= alike:
            assert shapes[one] != shapes[other], (one, other)


@pytest.mark.parametrize("grade", GRADES)
def test_grades_differ_by_shape_without_their_numeral(grade):
    mine, _ = told(row(grade))
    assert all(mine != told(row(other))[0] for other in GRADES if other != grade)


@pytest.mark.parametrize("grade", [1, 2, 3])
def test_at_least_is_an_open_outline_with_a_question(grade):
    lines, numeral = told(row(grade, known=False))
    assert numeral == f"{grade}?"
    assert lines != told(row(grade))[0]


def test_nothing_is_above_the_highest_grade_and_no_grade_is_a_question():
    assert mark(row(4, known=False))["key"] == mark(row(4))["key"]
    assert mark(row(None, known=False))["numeral"] == "?"


def test_a_state_of_another_version_is_drawn_as_raised():
    assert mark(row(3, "Moved to a museum"))["key"] == mark(row(3))["key"]


def luminance(colour):
    """Return the relative luminance of a colour (WCAG 2.2, from sRGB)."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return sum(part * of for part, of in zip(linear, (0.2126, 0.7152, 0.0722), strict=True))


@pytest.mark.parametrize("grade", GRADES)
def test_a_numeral_stands_out_from_its_fill_without_colour(grade):
    is_white = mark_pictures()[mark(row(grade))["key"]]["light"]
    one, other = luminance(FILLS[grade]), luminance("#FFFFFF" if is_white else INK)
    assert (max(one, other) + 0.05) / (min(one, other) + 0.05) >= 4.5
