"""Flags of measurements on a picture: clear of each other, of what was measured and of marks."""

import math
import random

import pytest
from skinpin.reports.lettering import width_mm
from skinpin.reports.picture_labels import placed_labels
from skinpin.reports.picture_marks import Ground, marks_on_picture, overlay

SIZES = [96.0, 72.0, 56.0, 54.0, 48.0]
CRACK = [[7600, 4500], [7800, 5000], [7600, 5400], [7900, 6000]]


def shape(kind, points, **more):
    return {"kind": kind, "points": points, "record": "m1", **more}


def closed(x, y, r):
    turns = [math.radians(each) for each in range(0, 361, 45)]
    return [[round(x + r * math.cos(t)), round(y + r * math.sin(t))] for t in turns]


CROWDED = [
    shape("ring", [[6000, 5200], [9200, 5200], [7600, 4200]]),
    shape("arrow", [[10300, 3000], [10300, 6400]]),
    shape("dot", [[12200, 7000]]),
    shape("number", [[13200, 7400]], label="1"),
    shape(
        "scale",
        [[3000, 5500], [6400, 6000], [6000, 8100], [2700, 7500]],
        label="bank card 85.60 ± 0.13 mm × 53.98 ± 0.06 mm",
        short="bank card",
    ),
    shape("measured", CRACK, label="45.5 ± 0.4 mm along"),
    shape("measured", closed(10300, 6700, 450), label="290 ± 50 mm²"),
    shape("measured", closed(12200, 7000, 240), label="12.09 ± 0.23 mm across"),
]


def drawn(shapes, wide):
    ground = Ground(1600, 1200, wide / 1600)
    return marks_on_picture(shapes, ground), wide, wide * 0.75


def boxes(placed):
    for one in placed:
        size, aside, over = one.flag
        half, high = width_mm(one.words, size, bold=True) / 2 + aside, 0.134 * size + over
        yield one.x - half, one.y - high, one.x + half, one.y + high


def covers(box, x, y):
    return box[0] < x < box[2] and box[1] < y < box[3]


def shared(one, other):
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


@pytest.mark.parametrize("wide", SIZES)
def test_flags_lie_on_no_flag_no_crack_and_no_number_however_small_the_picture(wide):
    marks, width, height = drawn(CROWDED, wide)
    placed = placed_labels(marks, width, height)
    every = list(boxes(placed))
    assert len(every) == 4
    assert not any(shared(a, b) for at, a in enumerate(every) for b in every[at + 1 :])
    [number] = [one for one in marks if one["what"] == "number"]
    for box in every:
        assert min(box) >= 0
        assert box[2] <= width
        assert box[3] <= height
        assert not any(covers(box, x * wide / 16000, y * wide / 16000) for x, y in CRACK)
        assert not shared(box, (number["x"] - 3, number["y"] - 3, number["x"] + 3, number["y"] + 3))


def test_a_flag_alone_keeps_its_place_and_one_that_moved_leads_back():
    way = [[1000, 5000], [15000, 5000]]
    [alone] = placed_labels(*drawn([shape("measured", way, label="1.0 ± 0.1 in")], 96.0))
    assert (round(alone.x), round(alone.y), alone.leader) == (48, 24, [])
    over = shape("number", [[8000, 4000]], label="1")
    marks = drawn([over, shape("measured", way, label="1.0 ± 0.1 in")], 96.0)
    [moved] = placed_labels(*marks)
    assert (moved.x, moved.y) != (alone.x, alone.y)
    area = shape("measured", closed(8000, 6000, 800), label="1.0 ± 0.1 in²")
    below = shape("number", [[8000, 7400]], label="1")
    [flag] = placed_labels(*drawn([below, area], 96.0))
    assert len(flag.leader) == 2


def test_a_quiet_measurement_is_drawn_thin_and_says_nothing():
    older = shape("measured", CRACK, label="45.6 ± 0.4 mm along", quiet=True)
    used = shape("measured", CRACK, label="45.5 ± 0.4 mm along")
    marks, width, height = drawn([older, used], 96.0)
    strokes, labels = overlay(marks, width, height)
    assert [one["label"] for one in labels] == ["45.5 ± 0.4 mm along"]
    assert 'stroke-width="0.15"' in strokes


def test_a_scale_without_room_says_only_what_it_is():
    scale = CROWDED[4]
    [wide] = placed_labels(*drawn([scale], 96.0))
    assert wide.words == scale["label"]
    [small] = placed_labels(*drawn([scale], 56.0))
    assert small.words == "bank card"


def test_wherever_two_measurements_lie_their_flags_never_meet():
    print("seed 11")
    chance = random.Random(11)
    for _ in range(40):
        ways = [
            [[chance.randrange(500, 15500), chance.randrange(500, 11500)] for _ in range(2)]
            for _ in range(3)
        ]
        some = [
            shape("measured", way, label=f"{at}.5 ± 0.4 mm along") for at, way in enumerate(ways)
        ]
        marks, width, height = drawn(some, 72.0)
        every = list(boxes(placed_labels(marks, width, height)))
        assert len(every) == len(marks)
        assert not any(shared(a, b) for at, a in enumerate(every) for b in every[at + 1 :])
