"""Line work becomes one picture under its words."""

from xml.etree import ElementTree

from skinpin.reports.drawing import line, text
from skinpin.reports.lettering import width_mm
from skinpin.reports.svg import as_pictures, circle, path, rect, svg


def drawing(*items):
    return {"width": 20.0, "height": 10.0, "items": list(items)}


def test_lines_go_into_the_picture_and_words_stay():
    words = text(3, 4, "F6")
    told = as_pictures({"front": [drawing(line([(0, 0), (5, 5)]), words)]})["front"][0]
    assert [item["words"] for item in told["items"]] == ["F6"]
    assert len(ElementTree.fromstring(told["svg"])) == 1


def test_words_are_placed_from_where_they_begin():
    wide = width_mm("F13", 9, bold=True)
    start, middle, end = (
        text(10, 4, "F13", anchor=anchor, bold=True) for anchor in ("start", "middle", "end")
    )
    told = as_pictures(drawing(start, middle, end))["items"]
    assert [round(10 - one["x"], 3) for one in told] == [0, round(wide / 2, 3), round(wide, 3)]


def test_hostile_words_never_reach_the_picture():
    told = as_pictures(drawing(text(0, 4, "<script>&'\""), line([(0, 0), (1, 1)])))
    assert "script" not in told["svg"]
    assert told["items"][0]["words"] == "<script>&'\""


def test_what_is_no_drawing_is_left_as_it_is():
    value = {"items": "a list of words", "height": 3, "more": [1, None, "x"]}
    assert as_pictures(value) == value


def test_shapes_are_well_formed():
    shapes = [
        path([(0, 0), (1, 2)], "#000000", 0.2, closed=True, dash=(1, 2)),
        rect((0, 0, 3, 4), "#000000", 0.2, radius=1),
        circle(1, 1, 0.5, "none", 0, "#FFFFFF"),
    ]
    root = ElementTree.fromstring(svg(5, 5, shapes))
    assert [one.tag.partition("}")[2] for one in root] == ["path", "rect", "circle"]
    assert root[0].attrib["d"] == "M0 0 1 2Z"
