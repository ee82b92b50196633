"""The border of a sheet as line work."""

import re
from xml.etree import ElementTree

from skinpin.reports.border import BLOCK_TOP, BOTTOM, HIGH, LEFT, RIGHT, TOP, WIDE, border_svg


def parts():
    return list(ElementTree.fromstring(border_svg()))


def test_every_line_lies_on_the_sheet():
    for one in parts():
        if one.tag.endswith("path"):
            figures = [float(each) for each in re.findall(r"-?[0-9.]+", one.attrib["d"])]
            assert all(0 <= x <= WIDE for x in figures[::2])
            assert all(0 <= y <= HIGH for y in figures[1::2])


def test_the_fields_are_named_on_all_four_sides():
    names = [one.text for one in parts() if one.tag.endswith("text")]
    assert sorted(names) == sorted(["1", "2", "3", "4", *"ABCDEF"] * 2)


def test_the_title_block_stands_in_the_frame():
    frame, block = [one.attrib for one in parts() if one.tag.endswith("rect")]
    assert [float(frame[name]) for name in ("x", "y")] == [LEFT, TOP]
    assert float(block["y"]) == BLOCK_TOP
    assert float(block["y"]) + float(block["height"]) == BOTTOM
    assert float(block["x"]) + float(block["width"]) == RIGHT
