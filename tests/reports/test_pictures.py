"""Pictures on a defect's sheet, looked at as pixels of the printed page."""

import io
import re
import shutil
import subprocess

import pytest
from PIL import Image
from pypdf import PdfReader
from skinpin.reports.pictures import CLOSE, pictures, repeat_words
from skinpin.reports.zone_report import zone_report_data, zone_report_pdf

from tests.reports.ready import ready, record

DPI = 150
GREEN = (90, 140, 90)
# The sheet's column begins 24 mm from the left; detail B lies in the drawing's block.
LEFT_MM = 24.0
WIDE_PX, HIGH_PX = 1600, 900
RING = {"kind": "ring", "points": [[2000, 3000], [6000, 3000], [4000, 2000]], "record": "m1"}


def photograph(role="wide", marks=(), **more):
    return {
        "file": "one.jpg",
        "role": role,
        "taken": "2025-03-08T10:42:00",
        "by": "Inspector 1",
        "width_px": WIDE_PX,
        "height_px": HIGH_PX,
        "mirrored": False,
        "marks": list(marks),
        **more,
    }


def printed(tmp_path, *photographs):
    """Return the defect's sheet as a picture, and its text."""
    picture = Image.new("RGB", (1000, 562), GREEN)
    picture.paste((200, 60, 60), (0, 0, 100, 562))
    picture.save(tmp_path / "one.jpg")
    one = record("A/0002")
    one["photographs"] = list(photographs)
    pdf = zone_report_pdf(ready([one]), {"one.jpg": tmp_path / "one.jpg"})
    (tmp_path / "page.pdf").write_bytes(pdf)
    words = ["pdftoppm", "-r", str(DPI), "-f", "2", "-l", "2", "-png", "page.pdf", "page"]
    assert shutil.which("pdftoppm"), "pdftoppm (poppler-utils) is needed to look at a page."
    subprocess.run(words, cwd=tmp_path, check=True)
    page = PdfReader(io.BytesIO(pdf)).pages[1]
    text = " ".join(page.extract_text().replace("\u200b", "").split())
    return Image.open(next(tmp_path.glob("page-*.png"))).convert("RGB"), text, len(page.images)


def picture_top(page):
    """Return the first row of pixels that belongs to detail B: its coloured ground."""
    x = round((LEFT_MM + 60) / 25.4 * DPI)
    rows = [y for y in range(page.height) if is_near(page.getpixel((x, y)), GREEN)]
    return rows[0]


def is_near(pixel, other):
    return all(abs(a - b) < 25 for a, b in zip(pixel, other, strict=True))


def is_ink(page, top, x_px, y_px):
    """Say whether a wax stroke runs within 1.2 mm of a place in the photograph's own pixels."""
    mm = CLOSE["width"] / WIDE_PX
    x = round((LEFT_MM + x_px * mm) / 25.4 * DPI)
    y = top + round(y_px * mm / 25.4 * DPI)
    reach = round(1.2 / 25.4 * DPI)
    around = [
        page.getpixel((x + dx, y + dy))
        for dx in range(-reach, reach + 1)
        for dy in range(-reach, reach + 1)
    ]
    return any(max(pixel) < 60 for pixel in around)


def test_a_ring_of_the_app_prints_round_all_four_sides_of_its_place(tmp_path):
    page, text, _ = printed(tmp_path, photograph(marks=[RING]))
    top = picture_top(page)
    for side in ((200, 300), (600, 300), (400, 200), (400, 400)):
        assert is_ink(page, top, *side), side
    for off in ((400, 300), (900, 300), (400, 600), (1400, 300)):
        assert not is_ink(page, top, *off), off
    assert "Marks on the picture only." in text


def test_a_picture_in_a_mirror_is_turned_with_its_marks(tmp_path):
    page, text, _ = printed(tmp_path, photograph(marks=[RING], mirrored=True))
    top = picture_top(page)
    for side in ((1400, 300), (1000, 300), (1200, 200), (1200, 400)):
        assert is_ink(page, top, *side), side
    assert not is_ink(page, top, 200, 300)
    mm = CLOSE["width"] / WIDE_PX
    right = round((LEFT_MM + 1540 * mm) / 25.4 * DPI)
    assert is_near(page.getpixel((right, top + 100)), (200, 60, 60))
    assert "wide, seen in a mirror, shown turned, 2025-03-08" in text


@pytest.mark.parametrize(
    ("mark", "on", "off"),
    [
        ({"kind": "arrow", "points": [[8000, 6000], [12000, 4000]]}, (1200, 400), (800, 400)),
        ({"kind": "line", "points": [[8000, 6000], [12000, 4000]]}, (1000, 500), (1000, 300)),
        ({"kind": "dot", "points": [[11000, 7000]]}, (1100, 700), (1000, 700)),
        ({"kind": "number", "points": [[9000, 5000]], "label": "8"}, (900, 500), (900, 700)),
    ],
)
def test_every_other_kind_prints_where_it_was_put(tmp_path, mark, on, off):
    page, _, _ = printed(tmp_path, photograph(marks=[mark | {"record": "m2"}]))
    top = picture_top(page)
    assert is_ink(page, top, *on)
    assert not is_ink(page, top, *off)


def test_the_label_of_a_number_and_a_sure_length_are_words_of_the_page(tmp_path):
    number = {"kind": "number", "points": [[9000, 5000]], "label": "38", "record": "m3"}
    ends = [[3000, 6000], [9000, 6000]]
    sure = {"kind": "line", "points": ends, "label": "5.75 ± 0.25 in", "record": "m4"}
    unsure = {"kind": "line", "points": ends, "label": "9.25 in", "record": "m5"}
    _, text, _ = printed(tmp_path, photograph(marks=[number, sure, unsure]))
    assert "38" in text
    assert "5.75 ± 0.25 in" in text
    assert "9.25" not in text


def test_the_only_photograph_is_printed_once_large_and_said_to_be_the_only_one(tmp_path):
    _, text, count = printed(tmp_path, photograph())
    assert count == 1
    assert "Detail B: wide, 2025-03-08, Inspector 1." in text
    assert "The only photograph of this record, so shown once." in text
    assert "Detail A" not in text


def test_two_wide_photographs_are_two_details():
    one = record("A/0002")
    one["photographs"] = [photograph(by="first"), photograph(by="second", taken="2025-04-01")]
    wide, close = pictures(one)
    assert (wide["letter"], close["letter"]) == ("A", "B")
    assert "second" in wide["caption"]
    assert "first" in close["caption"]


def test_a_photograph_without_camera_time_says_when_it_was_received(tmp_path):
    one = photograph(taken="", received="2025-11-03 10:14")
    _, text, _ = printed(tmp_path, one)
    said = "Detail B: wide, received 2025-11-03 10:14, camera gave no time, Inspector 1."
    assert said in re.sub(r"\s+", " ", text)
    older = photograph(by="camera", taken="2025-03-08T10:42:00")
    late = with_pictures(photograph(role="close"), older, one)
    assert "received" in pictures(late)[0]["caption"]


@pytest.mark.parametrize("size", [None, 0, -5, "1600", 1.5, 10**12, True])
def test_a_picture_of_no_known_size_is_shown_without_marks(tmp_path, size):
    one = photograph(marks=[RING, {"kind": "spiral", "points": 7}], width_px=size)
    page, _, count = printed(tmp_path, one)
    assert count == 1
    assert not is_ink(page, picture_top(page), 400, 200)


def test_marks_that_are_not_understood_do_not_break_the_page(tmp_path):
    marks = [None, "x", {}, {"kind": "ring", "points": [[1, 2], None]}, {"kind": {}, "points": 3}]
    page, _, _ = printed(tmp_path, photograph(marks=[*marks, RING], taken=None, by=None))
    assert is_ink(page, picture_top(page), 200, 300)


def test_a_caption_of_many_lines_has_its_room(tmp_path):
    long = photograph(by="Inspector of a workshop with a name of many letters", mirrored=True)
    plain, longer = (zone_report_data(ready([with_pictures(one)])) for one in (photograph(), long))
    [low], [lower] = ([each["layout"] for each in data["defects"]] for data in (plain, longer))
    assert lower["height"] >= low["height"] + 3.5


def with_pictures(*photographs):
    one = record("A/0002")
    one["photographs"] = list(photographs)
    return one


@pytest.mark.parametrize(("repeats", "words"), [
    ({"number": "", "role": "close", "day": "2025-03-08",
      "fit": {"turn_deg": "1.20", "scale_percent": "0.80"}},
     "Same view as close (2025-03-08), turned 1.2° anticlockwise, 0.8 % smaller."),
    ({"number": "A/0002", "role": "wide", "day": "",
      "fit": {"turn_deg": "-7.00", "scale_percent": "0.00"}},
     "Same view as A/0002, wide (day not known), turned 7.0° clockwise, of the same size, "
     "not good enough to compare."),
    ({"number": "", "role": "wide", "day": "2025-03-08", "fit": 7},
     "Same view as wide (2025-03-08), not fitted."),
    (None, ""),
])  # fmt: skip
def test_a_picture_of_the_same_view_says_whose_and_how_it_lies_on_that_one(repeats, words):
    assert repeat_words(photograph(repeats=repeats)) == words


def test_whose_view_it_is_stands_in_the_caption(tmp_path):
    fit = {"turn_deg": "1.20", "scale_percent": "0.80"}
    repeats = {"number": "", "role": "close", "day": "2025-03-08", "fit": fit}
    _, text, _ = printed(tmp_path, photograph(), photograph("close", repeats=repeats))
    assert "Same view as close (2025-03-08), turned 1.2° anticlockwise, 0.8 % smaller." in " ".join(
        text.split()
    )
