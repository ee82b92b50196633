"""The cells of a zone as drawn: what is hatched says so, clear of marks and their words."""

import random

from skinpin.reports.cells import Grid, cells_drawing, looked_at, looks_of
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


def look(structure="Hull", hand="P", **cell):
    cell = {"structure": structure, "hand": hand, **cell}
    return {"cell": cell, "looked_at": True, "survey": "s1"}


def test_a_look_at_a_whole_bay_counts_for_each_of_its_cells_in_the_zone():
    grid = Grid(definition(), ZONE)
    whole = look(bay=["F5", "F6"], strakes=["K", "C"])
    seen, why = looked_at(grid, [whole])
    rows = [("K", "B1"), ("B1", "B2"), ("B2", "B3"), ("B3", "C")]
    assert (seen, why) == ({(("F5", "F6"), row) for row in rows}, {})
    beyond = look(bay=["F6", "F10"], strakes=["B3", "C"])
    assert looked_at(grid, [beyond])[0] == {
        (("F6", "F7"), ("B3", "C")),
        (("F7", "F8"), ("B3", "C")),
    }
    other_side = look(hand="S", bay=["F5", "F6"], strakes=["K", "C"])
    assert looks_of(grid, [whole, beyond, other_side]) == {"s1": [whole, beyond]}


def test_what_no_airframe_has_is_no_cell():
    grid = Grid(definition(), ZONE)
    strange = [
        look(bay=["F5", "F99"], strakes=["K", "C"]),
        look(bay=["F6", "F5"], strakes=["K", "C"]),
        look(bay=None, strakes=["K", "C"]),
        look(bay=["F5", "F6"]),
    ]
    assert (looked_at(grid, strange), looks_of(grid, strange)) == ((set(), {}), {})


def test_a_look_at_a_bay_with_no_face_said_is_named_and_counts_for_no_face():
    rule = next(one for one in definition()["zones"] if one["structure"] == "Port wing")
    grid = Grid(definition(), rule)
    bay = list(grid.bays()[0])
    bare = look("Port wing", grid.hand, bay=bay)
    assert looked_at(grid, [bare])[0] == set()
    assert looks_of(grid, [bare]) == {"s1": [bare]}
    face = look("Port wing", grid.hand, bay=bay, face="lower skin")
    assert len(looked_at(grid, [face])[0]) == 1
