"""Every record of the demo has a view, and its point lies on the part of it that is meant."""

import pytest
from skinpin.domain.place import place_at, view_point
from skinpin_demo.definition import definition
from skinpin_demo.histories import histories

MARRAM = definition()
RECORDS = {record["number"]: record for record in histories()["records"]}


def views_of(structure):
    return [view for view in MARRAM["views"] if view["structure"] == structure]


def is_within(polygon, x, y):
    """Count crossings to the right; a point on an upright or level edge counts as within."""
    inside = False
    for (x0, y0), (x1, y1) in zip(polygon, [*polygon[1:], polygon[0]], strict=True):
        is_level_or_upright = (x0 == x1 == x) or (y0 == y1 == y)
        if (
            is_level_or_upright
            and min(x0, x1) <= x <= max(x0, x1)
            and min(y0, y1) <= y <= max(y0, y1)
        ):
            return True
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0):
            inside = not inside
    return inside


@pytest.mark.parametrize("number", RECORDS)
def test_the_point_of_a_record_lies_on_its_structure(number):
    place = RECORDS[number]["place"]
    views = views_of(place["structure"])
    assert views
    for view in views:
        x, y = view_point(view, MARRAM, place)
        if view["name"] == "shell expansion":
            assert 60 + 2.1 * 8 <= x <= 60 + 2.1 * 401
            assert 270 - 19 * 12 <= y <= 270 + 19 * 12
        else:
            assert is_within(view["lines"][0]["points"], x, y), view["name"]


def test_a_point_outside_is_told_from_one_within():
    square = [(0, 0), (4, 0), (4, 4), (0, 4)]
    assert is_within(square, 1, 3)
    assert not is_within(square, 5, 3)
    assert not is_within(square, 1, -1)


def test_every_structure_has_a_view_of_its_own_name_and_direction():
    names = [view["name"] for view in MARRAM["views"]]
    assert len(set(names)) == len(names)
    for structure in MARRAM["structures"]:
        for view in views_of(structure["name"]):
            assert view["forward"] in ("left", "right", "up", "down", "towards you")
            assert all(0 <= x <= view["box"][0] for x, _ in points_of(view))
            assert all(0 <= y <= view["box"][1] for _, y in points_of(view))
        assert views_of(structure["name"])


def points_of(view):
    return [point for line in view["lines"] for point in line["points"]]


@pytest.mark.parametrize("number", ["A/0026", "B/0010", "B/0011", "A/0023"])
def test_touching_the_point_of_a_record_gives_its_place_back(number):
    place = RECORDS[number]["place"]
    [view] = views_of(place["structure"])
    touched = place_at(view, MARRAM, *view_point(view, MARRAM, place))
    assert (touched["member"], touched["hand"]) == (place["member"], place["hand"])
    assert float(touched["offset"]["value"]) == 0


def test_the_fin_is_the_profiles_fin_turned_a_quarter():
    profile = next(view for view in MARRAM["views"] if view["name"] == "hull profile")
    [fin] = views_of("Fin")
    # Station and water line of the fin's corners, read back from either view.
    upright = {(round((x - 60) / 2.1), round((300 - y) / 2.2)) for x, y in fin_of(profile)}
    turned = {
        (round((y - 40) / 9 + 350), round((x - 60) / 9 + 40)) for x, y in fin["lines"][0]["points"]
    }
    assert upright == turned == {(352, 60), (376, 104), (392, 104), (384, 60)}


def fin_of(profile):
    corner = [round(60 + 2.1 * 376, 2), round(300 - 2.2 * 104, 2)]
    return next(line["points"] for line in profile["lines"] if corner in line["points"])
