"""Views on paper: how high they may be, and where their nose is."""

import pytest
from skinpin.reports.drawing import forward_arrow, to_paper, view_lines
from skinpin_demo.definition import definition

VIEWS = {view["name"]: view for view in definition()["views"]}


@pytest.mark.parametrize("name", VIEWS)
def test_a_view_is_neither_wider_than_asked_nor_higher_than_its_room(name):
    paper, high = to_paper(VIEWS[name], 2, 6, 92.0)
    points = [point for line in view_lines(VIEWS[name], paper) for point in line["points"]]
    assert max(x for x, _ in points) <= 94.001
    assert high <= 34.001
    assert min(x for x, _ in points) >= 1.999


@pytest.mark.parametrize(
    ("towards", "tip"),
    [("left", (0.0, 7.0)), ("right", (9.0, 7.0)), ("up", (4.5, 4.0)), ("down", (4.5, 10.0))],
)
def test_the_arrow_points_to_the_nose(towards, tip):
    _, head, words = forward_arrow(0, 7, towards)
    assert tuple(head["points"][0]) == tip
    assert words["words"] == "FWD"


def test_an_arrow_along_the_line_of_sight_is_words():
    [words] = forward_arrow(0, 7, "towards you")
    assert words["words"] == "FWD, TOWARDS YOU"
