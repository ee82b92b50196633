"""Views on paper: how high they may be, and where their nose is."""

import pytest
from skinpin.domain.place import view_point
from skinpin.reports.drawing import forward_arrow, to_paper, view_lines, zone_outline
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


@pytest.mark.parametrize(("hand", "zone"), [("P", "121"), ("S", "122"), ("P", "221"), ("S", "222")])
@pytest.mark.parametrize("seen_from", ["outside", "inside"])
def test_a_zone_on_a_developed_view_holds_its_places_and_none_of_the_other_hand(
    hand, zone, seen_from
):
    every = definition()
    view = VIEWS["shell expansion"] | {"seen_from": seen_from}
    [rule] = [one for one in every["zones"] if one["zone"] == zone]
    outline = zone_outline(every, view, rule)
    low, high = rule["strakes"]
    strakes = next(one for one in every["structures"] if one["name"] == "Hull")["strakes"]

    def within(of_hand, line, member="F9"):
        place = {"structure": "Hull", "hand": of_hand, "member": member}
        place |= {"offset": {"value": "1.0", "unit": "in"}, "strakes": strakes[line : line + 2]}
        x, y = view_point(view, every, place)
        xs, ys = zip(*outline, strict=True)
        return min(xs) <= x <= max(xs) and min(ys) <= y <= max(ys)

    lines = range(len(strakes) - 1)
    assert [line for line in lines if within(hand, line)] == [*range(low, min(high, 12))]
    assert not any(within({"P": "S", "S": "P"}[hand], line) for line in lines)
    assert not any(within(hand, line, "F6") for line in lines)
