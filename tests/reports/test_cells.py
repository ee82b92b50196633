"""The cells of a zone as drawn: what is hatched says so, clear of marks and their words."""

import random

from skinpin.reports.cells import Grid, cells_drawing
from skinpin_demo.definition import definition

from tests.reports.ready import row

ZONE = {"structure": "Hull", "hand": "P", "along": [None, "96"], "strakes": [0, 4]}


def shared(one, other):
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def drawn(rows):
    """Return the grounds of NOT LOOKED AT and of labels, and what marks cover."""
    items = cells_drawing(Grid(definition(), ZONE), set(), rows, "")["items"]
    grounds = [
        (min(x), min(y), max(x), max(y))
        for one in items
        if one["what"] == "line" and one["fill"] == "white"
        for x, y in [tuple(zip(*one["points"], strict=True))]
    ]
    words = sum(one["what"] == "text" and one["words"] == "NOT LOOKED AT" for one in items)
    marks = [
        (one["x"] - 3, one["y"] - 3, one["x"] + 3, one["y"] + 3)
        for one in items
        if one["what"] == "mark"
    ]
    return grounds[:words], grounds[words:], marks


def test_words_of_a_hatched_zone_stand_clear_of_a_mark_in_its_middle():
    words, labels, marks = drawn([row("A/0001", station="52", strakes=["B1", "B2"])])
    assert len(words) == 1
    assert len(labels) == 1
    assert not shared(words[0], marks[0])
    assert not shared(words[0], labels[0])


def test_words_and_labels_never_meet_wherever_records_lie():
    print("seed 7")
    chance = random.Random(7)
    strakes = ["K", "B1", "B2", "B3", "C"]
    for _ in range(60):
        rows = []
        for number in range(1, 5):
            at = chance.randrange(4)
            station = f"{chance.uniform(8, 95):.1f}"
            rows.append(row(f"A/{number:04}", station=station, strakes=strakes[at : at + 2]))
        words, labels, marks = drawn(rows)
        assert len(words) == 1
        assert not any(shared(words[0], other) for other in [*marks, *labels])
