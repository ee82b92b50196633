"""Marks on a picture: each kind as it is stored, and what is not understood left out."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.reports.picture_marks import Ground, marks_on_picture

WIDE = Ground(1600, 900, 0.06)
TURNED = WIDE._replace(mirrored=True)


def mark(kind, points, **more):
    return {"kind": kind, "points": points, "record": "m1", **more}


def box(mark_):
    points = [point for stroke in mark_["strokes"] for point in stroke]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


APP_RING = mark("ring", [[2000, 3000], [6000, 3000], [4000, 2000]])


def test_a_ring_of_the_app_is_round_its_axis():
    [ring] = marks_on_picture([APP_RING], WIDE)
    # Pixels 200 to 600 by 200 to 400, at 0.06 mm each.
    assert box(ring) == pytest.approx((12, 12, 36, 24), abs=0.4)


def test_in_a_mirror_a_mark_lies_as_far_from_the_other_edge():
    [ring] = marks_on_picture([APP_RING], TURNED)
    assert box(ring) == pytest.approx((96 - 36, 12, 96 - 12, 24), abs=0.4)


def test_a_ring_of_many_points_is_the_stroke_itself():
    stroke = [[1000, 1000], [2000, 1500], [1700, 2500], [900, 1900], [1010, 980]]
    [ring] = marks_on_picture([mark("ring", stroke)], WIDE)
    assert ring["strokes"] == [[[6, 6], [12, 9], [10.2, 15], [5.4, 11.4], [6.06, 5.88]]]


def test_an_arrow_points_from_tail_to_tip():
    [arrow] = marks_on_picture([mark("arrow", [[1000, 2000], [5000, 4000]])], WIDE)
    shaft, head = arrow["strokes"]
    assert (shaft[0], shaft[-1], head[1]) == ([6, 12], [30, 24], [30, 24])


def test_a_dot_and_a_number_are_where_they_were_put():
    dot, number = marks_on_picture(
        [mark("dot", [[1000, 2000]]), mark("number", [[3000, 5000]], label="7")], TURNED
    )
    assert (dot["what"], dot["x"], dot["y"]) == ("dot", 90, 12)
    assert (number["what"], number["x"], number["y"], number["label"]) == ("number", 78, 30, "7")


def test_a_line_is_wax():
    [line] = marks_on_picture([mark("line", [[1000, 2000], [5000, 4000]], label="seam")], WIDE)
    assert line == {"what": "wax", "strokes": [[[6, 12], [30, 24]]]}


def test_a_length_is_drawn_as_measured_only_with_what_it_is_sure_to():
    ends = [[1000, 5000], [5000, 5000]]
    [sure] = marks_on_picture([mark("line", ends, label="0.81 ± 0.03 in")], WIDE)
    assert (sure["what"], sure["label"], sure["x"]) == ("length", "0.81 ± 0.03 in", 18)
    for label in ("7.5 in", "12 mm", "0.81in"):
        assert marks_on_picture([mark("line", ends, label=label)], WIDE) == []


def test_an_outline_comes_back_to_where_it_began():
    corners = [[1000, 1000], [2000, 1000], [1500, 2000]]
    [outline] = marks_on_picture([mark("outline", corners)], WIDE)
    assert outline == {"what": "wax", "strokes": [[[6, 6], [12, 6], [9, 12], [6, 6]]]}


def test_a_scale_of_two_points_stands_off_under_them_and_four_are_its_sides():
    [rule] = marks_on_picture(
        [mark("scale", [[1000, 5000], [6000, 5000]], label="scale 3.00 in")], WIDE
    )
    assert (rule["what"], rule["label"], rule["x"]) == ("length", "scale 3.00 in", 21)
    assert {y for _, y in rule["bars"][0]} == {36}
    corners = [[1000, 1000], [5000, 1000], [5000, 4000], [1000, 4000]]
    words = "bank card 85.60 mm × 53.98 mm"
    [card] = marks_on_picture([mark("scale", corners, label=words)], WIDE)
    assert card["bars"] == [[[6, 6], [30, 6], [30, 24], [6, 24], [6, 6]]]
    assert (card["label"], card["heads"]) == (words, [])


def test_what_was_measured_stands_off_from_its_way_or_closes_round_its_area():
    way = [[1000, 5000], [3000, 5000], [6000, 5000]]
    [along] = marks_on_picture([mark("measured", way, label="0.81 ± 0.03 in along")], WIDE)
    assert along["bars"][0] == [[6, 24], [18, 24], [36, 24]]
    assert len(along["heads"]) == 2
    ring = [[1000, 1000], [5000, 1000], [5000, 4000], [1000, 1000]]
    [area] = marks_on_picture([mark("measured", ring, label="1.2 ± 0.1 in²")], WIDE)
    assert (area["heads"], area["label"]) == ([], "1.2 ± 0.1 in²")


def test_a_slanting_length_runs_from_end_to_end():
    ends = [[1000, 2000], [5000, 7000]]
    [length] = marks_on_picture([mark("line", ends, label="5.5 ± 0.2 in")], WIDE)
    assert length["bars"] == [[[6, 12], [30, 42]]]


HOSTILE = [
    None,
    "ring",
    {},
    mark("spiral", [[0, 0], [10, 10]]),
    mark(["ring"], [[0, 0], [10, 10]]),
    mark("ring", None),
    mark("ring", "[[0,0]]"),
    mark("ring", []),
    mark("ring", [[5000, 5000]]),
    mark("ring", [[5000, 5000], [5000, 5000]]),
    mark("ring", [[0, 0], [10**30, 10]]),
    mark("ring", [[0, 0], [float("nan"), 10]]),
    mark("ring", [[0, 0, 0], [10, 10, 10]]),
    mark("ring", [[0, 0], ["10", 10]]),
    mark("arrow", [[True, 0], [10, 10]]),
    mark("arrow", [[0, 0], {"x": 1}]),
    mark("line", [[0, 0], [float("inf"), 0]], label="1 ± 1 in"),
    mark("dot", [[]]),
]


@pytest.mark.parametrize("shape", HOSTILE, ids=repr)
def test_what_is_not_understood_is_left_out_and_the_rest_drawn(shape):
    assert len(marks_on_picture([shape, APP_RING], WIDE)) == 1


_ENDS = st.one_of(st.integers(-3, 20000), st.sampled_from([None, "1", 1.5, True, 10**40]))
_SHAPES = st.fixed_dictionaries(
    {"kind": st.sampled_from(["ring", "arrow", "line", "dot", "number", "x", None])},
    optional={
        "points": st.lists(st.lists(_ENDS, min_size=1, max_size=3), max_size=4),
        "label": st.sampled_from(["1", "1 ± 1 in", "5 in", 7, None, "x" * 99]),
        "record": st.sampled_from(["m1", 5, None]),
    },
)


@settings(deadline=None, print_blob=True)
@given(st.lists(_SHAPES, max_size=4))
def test_every_mark_drawn_has_points_on_paper(shapes):
    for drawn in marks_on_picture(shapes, WIDE):
        points = [p for line in drawn.get("strokes") or drawn.get("bars") or [] for p in line]
        assert all(-200 < end < 400 for point in points for end in point)
        assert points or drawn["what"] == "dot"
