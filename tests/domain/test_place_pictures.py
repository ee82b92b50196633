import json
from pathlib import Path

import cv2
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.calibration_kept import kept_troubles
from skinpin.domain.errors import Refused
from skinpin.domain.place import (
    is_shown,
    picture_views,
    place_at,
    station_of,
    structure_of,
    view_point,
)
from skinpin.domain.place_pictures import to_picture

VECTORS = json.loads((Path(__file__).parents[1] / "vectors/place_pictures.json").read_text("utf-8"))
MADE = VECTORS["definition"]
VIEWS = {view["name"]: view for view in MADE["views"]}
HULL, FIN = MADE["structures"]


@pytest.mark.parametrize("case", VECTORS["places"], ids=str)
def test_a_place_has_its_pixel(case):
    view = VIEWS[case["view"]]
    assert view_point(view, MADE, case["place"]) == pytest.approx(case["px"], rel=1e-9)
    assert is_shown(view, MADE, case["place"]) is case["shown"]


@pytest.mark.parametrize("case", VECTORS["touches"], ids=str)
def test_a_touched_pixel_has_its_place(case):
    assert place_at(VIEWS[case["view"]], MADE, *case["px"], case["hand"]) == case["place"]


@pytest.mark.parametrize("case", VECTORS["refused"], ids=str)
def test_a_touch_beside_the_structure_is_refused(case):
    with pytest.raises(Refused) as refused:
        place_at(VIEWS[case["view"]], MADE, *case["px"], case["hand"])
    assert refused.value.code == case["code"]


@settings(deadline=None, max_examples=200)
@given(st.integers(0, 2390), st.integers(0, 5), st.sampled_from("PS"))
def test_a_place_is_found_again_where_it_is_shown(tenths, strake, hand):
    place = {
        "structure": "Hull",
        "hand": hand,
        "member": "F0",
        "offset": {"value": f"{tenths / 10:.1f}", "unit": "in"},
        "strakes": HULL["strakes"][strake : strake + 2],
    }
    view = VIEWS["sheet 13"]
    found = place_at(view, MADE, *view_point(view, MADE, place))
    assert found["hand"] == hand
    assert found["strakes"] == place["strakes"]
    assert abs(float(station_of(MADE, found)["value"]) - tenths / 10) < 0.11


@settings(deadline=None, max_examples=100)
@given(st.integers(0, 240), st.floats(0, 6))
def test_pixels_are_those_that_opencv_gives(along, strake):
    view = VIEWS["photograph 1"]
    matrix = np.array(to_picture(view)).reshape(3, 3)
    told = cv2.perspectiveTransform(np.array([[[along, strake]]], float), matrix)[0][0]
    found = place_at(view, MADE, float(told[0]), float(told[1]))
    assert abs(float(station_of(MADE, found)["value"]) - along) < 0.11
    lower = HULL["strakes"].index(found["strakes"][0])
    assert lower - 1e-6 <= strake <= lower + 1 + 1e-6


def test_the_pictures_of_a_structure_are_found_by_its_name():
    assert [one["name"] for one in picture_views(MADE, "Fin")] == ["fin sheet"]
    assert len(picture_views(MADE, "Hull")) == 3


def test_a_mark_of_the_other_hand_and_of_another_structure_is_not_shown():
    port, fin = VIEWS["sheet 12"], VIEWS["fin sheet"]
    place = {"structure": "Hull", "hand": "P", "member": "F6", "strakes": ["K", "B1"]}
    assert is_shown(port, MADE, place)
    assert not is_shown(port, MADE, {**place, "hand": "S"})
    assert not is_shown(fin, MADE, place)
    assert not is_shown(port, MADE, {"off": "Bench 2", "part": "Strut, port", "hand": "P"})


@pytest.mark.parametrize("view", MADE["views"], ids=lambda view: view["name"])
def test_calibrations_follow_from_their_points(view):
    assert list(kept_troubles(view, structure_of(MADE, view))) == []


def _changed(view, **change):
    return {**view, "calibration": {**view["calibration"], **change}}


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"to_picture": [4.0, 0, 90, 0, -4, 420, 0, 0, 1]}, "recalibrate"),
        ({"check": {"px": [10, 10], "at": [120.0, 60.0]}}, "check_point_off"),
        ({"method": "homography"}, "too_few_points"),
        ({"to_picture": [0, 0, 0, 0, 0, 0, 0, 0, -1]}, "beyond_horizon"),
    ],
)
def test_a_calibration_that_does_not_follow_stands_in_the_way(change, code):
    told = list(kept_troubles(_changed(VIEWS["sheet 12"], **change), HULL))
    assert [(one.code, one.weight) for one in told] == [(code, "refused")]


SIMILARITY = {
    "method": "similarity",
    # Both points on one water line: what lies off that line is left to the fit.
    "points": [{"px": [100, 300], "at": [0, 0]}, {"px": [900, 300], "at": [200, 0]}],
    "check": {"px": [500, 100], "at": [100, 50]},
    "to_picture": [4, 0, 100, 0, -4, 300, 0, 0, 1],
}


@pytest.mark.parametrize("times", [-1, -3, 1.01])
@pytest.mark.parametrize("checked", [True, False])
def test_kept_numbers_that_agree_at_the_points_alone_stand_in_the_way(times, checked):
    view = _changed(VIEWS["sheet 12"], **SIMILARITY)
    if not checked:
        del view["calibration"]["check"]
    weights = [one.weight for one in kept_troubles(view, HULL)]
    assert weights == ([] if checked else ["said"])
    across = [4, 0, 100, 0, -4 * times, 300, 0, 0, 1]
    told = list(kept_troubles(_changed(view, to_picture=across), HULL))
    assert [(one.code, one.weight) for one in told] == [("recalibrate", "refused")]


def test_the_check_point_is_judged_by_the_numbers_that_are_kept():
    # The limit is 1.0 in of 200: by the fit the point is 0.99 in off, by what is kept 1.04.
    off = {"px": [500, 103.96], "at": [100, 50]}
    near = _changed(VIEWS["sheet 12"], **SIMILARITY | {"check": off})
    assert list(kept_troubles(near, HULL)) == []
    kept = _changed(near, to_picture=[4, 0, 100, 0, -4, 299.8, 0, 0, 1])
    assert [one.code for one in kept_troubles(kept, HULL)] == ["check_point_off"]


def test_a_strake_put_in_asks_for_the_view_to_be_calibrated_again():
    view = _changed(VIEWS["sheet 13"], strakes=HULL["strakes"])
    assert list(kept_troubles(view, HULL)) == []
    more = {**HULL, "strakes": ["K", "B0", *HULL["strakes"][1:]]}
    assert [one.code for one in kept_troubles(view, more)] == ["recalibrate"]
