"""Marks that lie on one another are spread, and words find room beside them."""

import random

from skinpin.reports.mark_places import around, label_box, overlap, rooms_for, spread

TOP, BOTTOM = 12.0, 44.0
BOUNDS = (28.0, 9.0, 88.5, 48.0)
SEED = 11


def scattered(chance, count):
    return [(chance.uniform(32, 82), chance.choice([16.0, 24.0, 32.0, 40.0])) for _ in range(count)]


def pairs(boxes):
    return [(a, b) for at, a in enumerate(boxes) for b in boxes[at + 1 :]]


def test_marks_that_touch_stand_apart_each_on_its_own_station():
    print(f"seed {SEED}")
    chance, moved = random.Random(SEED), 0
    for _ in range(200):
        places = [(chance.uniform(40, 48), chance.uniform(TOP, BOTTOM)) for _ in range(3)]
        drawn = spread(places, TOP, BOTTOM)
        assert [x for x, _ in drawn] == [x for x, _ in places]
        assert not any(overlap(*pair) for pair in pairs([around(*at) for at in drawn]))
        assert all(TOP <= y <= BOTTOM for _, y in drawn)
        moved += sum(one != other for one, other in zip(places, drawn, strict=True))
    assert moved > 100


def test_marks_that_do_not_touch_stay_where_they_are():
    places = [(40.0, 20.0), (60.0, 20.0), (40.0, 36.0)]
    assert spread(places, TOP, BOTTOM) == places


def test_where_there_is_no_room_a_mark_stays_at_its_place():
    assert spread([(40.0, 20.0)] * 2, 19.0, 21.0) == [(40.0, 20.0)] * 2


def test_words_cover_neither_marks_nor_other_words():
    print(f"seed {SEED}")
    chance, placed = random.Random(SEED), 0
    for _ in range(40):
        drawn = spread(scattered(chance, 4), TOP, BOTTOM)
        marks = [around(*at) for at in drawn]
        wides = [chance.uniform(15, 19) for _ in drawn]
        rooms = rooms_for(drawn, wides, marks, BOUNDS)
        labels = [label_box(*room, wide) for room, wide in zip(rooms, wides, strict=True) if room]
        placed += len(labels)
        assert not any(overlap(*pair) for pair in pairs(labels))
        assert not any(overlap(label, one) for label in labels for one in marks)
    assert placed >= 0.95 * 4 * 40


def test_what_has_no_room_at_all_is_left_out():
    assert rooms_for([(40.0, 20.0)], [15.0], [(0, 0, 200, 200)], BOUNDS) == [None]
