"""The plate cut through: depth to scale."""

import pytest
from skinpin.reports.section import plate_section

TOP, HIGH = 3.0, 15.5


def pit_of(drawing):
    """Return the deepest point of the white ground of the pit."""
    [ground] = [item for item in drawing["items"] if item.get("fill") == "white"]
    return max(y for _, y in ground["points"])


def words_of(drawing):
    return [item for item in drawing["items"] if item["what"] == "text"]


@pytest.mark.parametrize(("depth", "share"), [(8.0, 0.125), (32.0, 0.5), (64.0, 1.0), (90.0, 1.0)])
def test_a_pit_is_as_deep_as_its_share_of_the_plate(depth, share):
    assert pit_of(plate_section(64.0, depth, [], "0.064 in")) == pytest.approx(
        TOP + HIGH * share, abs=1e-3
    )


def test_a_depth_not_measured_has_sides_and_no_floor():
    drawing = plate_section(64.0, None, [], "0.064 in")
    assert "?" in [item["words"] for item in words_of(drawing)]
    heavy = [item for item in drawing["items"] if item.get("weight") == "medium"]
    assert [len(item["points"]) for item in heavy] == [2, 2]


def test_limits_lie_at_their_depth_and_their_words_stand_clear():
    limits = [("50 % 0.0320", 32.0), ("10 % 0.0064", 6.4), ("0.010 in", 10.0)]
    drawing = plate_section(64.0, 11.0, limits, "0.064 in")
    named = [item for item in words_of(drawing) if item["words"] in dict(limits)]
    assert [item["words"] for item in named] == ["10 % 0.0064", "0.010 in", "50 % 0.0320"]
    steps = [b["y"] - a["y"] for a, b in zip(named, named[1:], strict=False)]
    assert min(steps) >= 3.5
    chains = [item["points"][0][1] for item in drawing["items"] if item.get("kind") == "chain"]
    assert chains == pytest.approx(
        [TOP + HIGH * depth / 64 for depth in (6.4, 10.0, 32.0)], abs=1e-3
    )


def test_the_drawing_keeps_in_its_room():
    drawing = plate_section(64.0, 11.0, [("0.010 in", 10.0)], "0.064 in")
    for item in drawing["items"]:
        points = item.get("points") or [[item["x"], item["y"]]]
        assert all(0 <= x <= drawing["width"] and 0 <= y <= drawing["height"] for x, y in points)
