"""Cells that nobody looked at: hatch, crossed hatch, words and key."""

from skinpin.reports.lettering import width_mm
from skinpin.reports.not_looked_at import BLOCKED, UNSEEN, hatch, hatch_key, hatched_cells


def texts(items):
    return [one for one in items if one["what"] == "text"]


def covered(one):
    """Return left, top, right and bottom of words, upright or not."""
    long = width_mm(one["words"], one["size"], bold=one["bold"])
    x, y = one["x"], one["y"]
    if one["turned"]:
        return x - 2.2, y - long / 2, x + 0.2, y + long / 2
    return x - long / 2, y - 2.2, x + long / 2, y


def test_words_never_reach_out_of_their_cells_however_narrow_or_low():
    for wide in range(3, 60, 2):
        for high in range(5, 40):
            box = (10.0, 20.0, 10.0 + wide, 20.0 + high)
            for plain, stopped in (([box], []), ([], [box])):
                for one in texts(hatched_cells(plain, stopped, [])[0]):
                    left, top, right, bottom = covered(one)
                    assert box[0] <= left
                    assert box[1] <= top
                    assert right <= box[2]
                    assert bottom <= box[3]


def test_a_low_and_short_stretch_has_no_words_and_a_key_instead():
    low = (10.0, 20.0, 34.0, 25.0)
    assert texts(hatched_cells([low], [], [])[0]) == []
    assert [one["words"] for one in texts(hatch_key(0, 0, [low], []))] == [UNSEEN]
    wide = (10.0, 20.0, 60.0, 25.0)
    assert [one["words"] for one in texts(hatched_cells([wide], [], [])[0])] == ["NOT LOOKED AT"]
    assert hatch_key(0, 0, [wide], []) == []
    assert hatch_key(0, 0, [], []) == []


def test_a_blocked_cell_is_crossed_said_in_it_and_in_the_key():
    plain, stopped = (10.0, 20.0, 60.0, 40.0), (60.0, 20.0, 80.0, 40.0)
    items, taken = hatched_cells([plain], [stopped], [])
    lines = [one for one in items if one["what"] == "line" and one["fill"] is None]
    falling = [one for one in lines if one["points"][1][1] > one["points"][0][1]]
    assert falling
    assert all(60 <= x <= 80 for one in falling for x, _ in one["points"])
    assert [one["words"] for one in texts(items)] == ["NOT LOOKED AT", "BLOCKED"]
    assert len(taken) == 2
    key = [one["words"] for one in texts(hatch_key(0, 0, [plain], [stopped]))]
    assert key == [UNSEEN, BLOCKED]
    assert [one["words"] for one in texts(hatch_key(0, 0, [], [stopped]))] == [BLOCKED]


def test_a_hatch_keeps_in_its_box_either_way():
    for falling in (False, True):
        points = [p for one in hatch(10, 20, 33, 41, falling=falling) for p in one["points"]]
        assert len(points) > 20
        assert all(10 <= x <= 33 and 20 <= y <= 41 for x, y in points)
