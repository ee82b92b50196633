"""The zone report as paper: what is in the PDF, and that text is never taken for mark up."""

import io
import re

import pytest
from PIL import Image
from pypdf import PdfReader
from skinpin.domain.errors import Refused
from skinpin.reports import zone_report
from skinpin.reports.words import marker_words
from skinpin.reports.zone_report import zone_report_data, zone_report_pdf

from tests.papers import pages_of
from tests.reports.ready import SAFETY, figures, inches, ready, record


def sheets(data, pictures=None):
    return pages_of(zone_report_pdf(data, pictures or {}))


def three_records():
    first = record("A/0001", figures("0.006"))
    first["row"] |= {"state": "Cleared", "grade": 2, "grade_words": "Grade 2", "station": "63.5"}
    second, same = record("A/0002"), record("B/0015", figures("0.012"))
    same["row"] |= {"state": "Same as", "same_as_number": "A/0002"}
    second["same"] = [same]
    return [first, second, same]


def test_every_sheet_bears_the_full_safety_wording_and_its_number_of_all():
    pages = sheets(ready(three_records()))
    assert len(pages) == 4
    for number, page in enumerate(pages, start=1):
        assert SAFETY in page
        assert f"{number} of 4" in page
        assert page.count("DRAFT, NOT ISSUED") == 2
        assert "Data up to entry 412, 2025-11-03 17:20" in page
        assert "Record hash c4c4c4c4c4c4c4c4 · Skinpin 0.1.0" in page


def test_the_first_sheet_counts_cells_and_live_sightings():
    front, *_ = sheets(ready(three_records()))
    assert "24 of 28 cells" in front
    assert "Not looked at: F1–F2, all 4 strakes. Why: too narrow to enter or see." in front
    assert "BLOCKED" in front
    assert "all live sightings – – – – – 1 2" not in front
    assert "3 severe 1 – – – – – 1" in front
    assert "2 moderate – – – – – 1 1" in front
    assert "and B/0015, same as A/0002." in front
    assert "A/0002 · B/0015" in front


def test_a_sheet_has_grade_reason_rule_source_and_both_sightings():
    _, _, sheet, _ = sheets(ready(three_records()))
    for words in (
        "A/0002",
        "Grade 3 · Raised",
        "Grade 3 severe, and why: QS-7 issue 1",
        "AL3",
        "depth 0.011 in > 0.010 in",
        "TM 1-1520-238-23 · read in the source",
        "B/0015",
        "0.279 mm",
        "17.2 %",
        "18.8 %",
        "10 % 0.0064",
        "50 % 0.0320",
        "depth to scale, width not",
        "Fingerprint of the values (SHA-256): 5a5a5a5a5a5a5a5a",
    ):
        assert words in sheet


def test_a_zone_without_a_record_is_a_full_page():
    pages = sheets(ready())
    assert len(pages) == 2
    assert "There is no record in this zone." in pages[0]
    assert "24 of 28 cells" in pages[0]


def test_a_zone_nobody_looked_at_says_so():
    page, _ = sheets(ready(zone="131", coverage=[], surveys=[]))
    assert "0 of 36 cells" in page
    assert "Nothing in it was looked at." in page
    assert "Never looked at: F15–F24, all 4 strakes. No survey says why." in page
    assert "No survey has covered it yet." in page


@pytest.mark.parametrize(
    "zone", ["112", "120", "222", "241", "310", "410", "520", "630", "722", "731"]
)
def test_every_sort_of_zone_can_be_drawn(zone):
    pages = sheets(ready(zone=zone, coverage=[]))
    assert f"Zone {zone}" in pages[0]


def test_a_starboard_zone_on_the_port_view_is_said_to_lie_on_the_far_side():
    assert "PORT SIDE, PLACE ON THE FAR SIDE" in sheets(ready(zone="112"))[0]
    assert "FAR SIDE" not in sheets(ready(zone="111"))[0]


HOSTILE = [
    '#read("/etc/passwd")',
    '#eval("1 + 1") #image("data.json")',
    "$ integral $ *bold* _low_ = heading @label <label> // gone /* gone */",
    "quotes \" ' ` and \\ backslash \\n",
    "https://example.test/~a?b=#c",
    "[ unbalanced } ) ]",
]


@pytest.mark.parametrize("note", HOSTILE)
def test_a_hostile_note_is_printed_letter_for_letter(note):
    one = record("A/0002", figures() | {"note": [note]})
    _, sheet, *_ = sheets(ready([one]))
    assert note.replace(" ", "") in sheet.replace(" ", "")


def test_a_word_of_three_hundred_letters_stays_on_the_sheet():
    word = "corroded" * 38
    one = record("A/0002", figures() | {"note": [word]})
    one["row"]["part"] = word
    pdf = PdfReader(io.BytesIO(zone_report_pdf(ready([one]), {})))
    places = []
    pdf.pages[1].extract_text(
        visitor_text=lambda text, cm, tm, font, size: places.append((tm[4] + cm[4], text, size))
    )
    right = 200 / 25.4 * 72
    lines = [(x, line, size) for x, text, size in places for line in text.split("\n")]
    # On average these letters are wider than two fifths of their size in the condensed face.
    ends = [x + 0.4 * size * len(line) for x, line, size in lines if "corroded" in line]
    assert len(ends) > 4
    assert max(ends) < right
    flat = re.sub(r"\s|\u200b", "", "".join(page.extract_text() for page in pdf.pages))
    assert flat.count(word) >= 2


def test_a_long_history_goes_on_over_the_sheet_and_none_is_lost():
    one = record("A/0002")
    one["history"] = [
        {
            "date": f"2025-04-{day:02}",
            "time": "10:14",
            "sentence": f"Looked at again, time {day} of thirty.",
        }
        for day in range(1, 31)
    ]
    pages = sheets(ready([one]))
    assert len(pages) == 4
    assert "1 of 4" in pages[0]
    for day in range(1, 31):
        assert f"time {day} of thirty" in pages[1] + pages[2]


def test_a_record_that_spills_takes_its_history_and_stamps_as_one_block():
    one = record("A/0002")
    one["history"] = [
        {
            "date": f"2025-04-{day:02}",
            "time": "10:14",
            "sentence": f"Looked at again, time {day} of twenty.",
        }
        for day in range(1, 21)
    ]
    _, sheet, after, _ = sheets(ready([one]))
    assert "History" not in sheet
    assert "Decided and stamped" not in sheet
    assert "time 1 of twenty" in after
    assert "time 20 of twenty" in after
    assert "Decided and stamped" in after


def test_a_record_that_just_fails_to_fit_has_a_smaller_picture_and_one_sheet():
    one = record("A/0002")
    sentences = [f"Looked at again, time {day} of twelve." for day in range(1, 13)]
    one["history"] = [
        {"date": "2025-04-01", "time": "10:14", "sentence": words} for words in sentences
    ]
    pages = sheets(ready([one]))
    assert len(pages) == 3
    assert all(words in pages[1] for words in sentences)


@pytest.mark.parametrize("count", [1, 4, 6, 8, 44, 47, 50, 53, 56, 60])
def test_issues_never_stand_alone_on_a_sheet(count):
    records = [record(f"A/{number:04}") for number in range(1, count + 1)]
    for one in records:
        one["row"]["state"] = "Raised in error"
    pages = sheets(ready(records))
    [page] = [page for page in pages if "5 Issues" in page]
    assert f"A/{count:04} Port" in page
    assert all(f"A/{number:04} Port" in " ".join(pages) for number in range(1, count + 1))


@pytest.mark.parametrize(
    ("marker", "words"),
    [
        ("source read", "read in the source"),
        ("source read, secondary", "read in a secondary source"),
        ("from memory", "from memory, to verify"),
        ("workshop's own", "workshop's own figure"),
        ("of a kind not known", "of a kind not known"),
    ],
)
def test_how_a_limit_came_by_its_source_is_said_in_plain_words(marker, words):
    assert marker_words(marker) == words


@pytest.mark.parametrize(
    "value",
    [
        None,
        7,
        "plain",
        [],
        {},
        {"value": "thin", "unit": "in"},
        {"value": 5, "unit": "in"},
        {"value": "0.011", "unit": "cubit"},
        inches("0.011", uncertainty={"value": "x"}),
        inches("0.011", uncertainty=3, instrument=["DG-1"]),
    ],
    ids=repr,
)
def test_values_not_understood_never_break_the_page(value):
    fields = ("thickness", "length", "width", "depth", "run", "note", "no_photograph")
    one = record("A/0002", {field: [value] for field in fields})
    assert "A/0002" in sheets(ready([one]))[1]


def test_unsigned_stamps_are_said_to_be_unsigned_and_overtaken_ones_too():
    one = record("A/0002")
    stamp = {"act": "DISPOSITION", "number": "01", "role": "lead", "date": "2025-04-16"}
    one["stamps"] = [stamp | {"signed": False, "holds": False, "overtaken": "changed"}]
    _, sheet, *_ = sheets(ready([one]))
    assert "DISPOSITION 01 lead 2025-04-16" in sheet
    assert "stamp shown, not electronically signed · record changed since" in sheet
    assert "inspection stamp" in sheet
    assert "disposition stamp, lead" not in sheet


def test_a_record_whose_stamp_was_overtaken_says_so_and_what_to_do():
    one = record("A/0002")
    stamp = {"entry": "e1", "act": "INSPECTED", "number": "12", "date": "2025-06-21"}
    stamp |= {"holds": False, "overtaken": "lengths", "role": "inspector", "signed": True}
    one["stamps"] = [stamp]
    one["row"] |= {"stamps": [stamp], "stamps_hold": False, "state": "Offered"}
    _, sheet, *_ = sheets(ready([one]))
    assert "made without scales and lengths" in sheet
    assert "INSPECTED stamp 12 of 2025-06-21 does not hold: it was made without" in sheet
    assert "Inspect and stamp again. Until then the record counts as Offered for" in sheet
    one["row"] |= {"stamps": [stamp | {"holds": True, "overtaken": None}], "stamps_hold": True}
    _, sheet, *_ = sheets(ready([one]))
    assert "does not hold" not in sheet


def test_the_stamp_of_an_overrule_is_no_disposition():
    one = record("A/0002")
    stamp = {"act": "DISPOSITION", "number": "01", "role": "lead", "date": "2025-04-16"}
    one["stamps"] = [stamp | {"signed": True, "holds": True, "overrules": True}]
    _, sheet, *_ = sheets(ready([one]))
    assert "OVERRULE 01 lead 2025-04-16" in sheet
    assert "DISPOSITION" not in sheet
    assert "disposition stamp, lead" in sheet


def test_an_independent_inspection_asks_for_a_second_stamp():
    one = record("A/0002", figures() | {"independent": [True]})
    _, sheet, *_ = sheets(ready([one]))
    assert "independent inspection, a second person" in sheet


def test_two_values_are_both_printed():
    one = record("A/0002", figures() | {"depth": [inches("0.011"), inches("0.013")]})
    _, sheet, *_ = sheets(ready([one]))
    assert "0.011 in | 0.013 in" in sheet
    assert "judged on the worse until chosen" in sheet


def test_a_depth_not_measured_leaves_the_pit_open():
    one = record("A/0002", figures() | {"depth": ["not measured"]})
    one["row"] |= {"grade": 2, "grade_known": False, "grade_words": "Grade at least 2 ?"}
    one["row"]["missing"] = ["depth"]
    data = zone_report_data(ready([one]))
    section = data["defects"][0]["section"]
    assert "?" in [item["words"] for item in section["items"] if item["what"] == "text"]
    assert data["defects"][0]["mark"]["key"] == "2? Raised"
    assert data["defects"][0]["mark"]["numeral"] == "2?"
    assert data["defects"][0]["missing"] == "Not known yet: depth, deepest pit."


def test_pictures_are_in_the_pdf_and_a_missing_one_is_named(tmp_path):
    picture = tmp_path / "close.jpg"
    Image.new("RGB", (1000, 750), (90, 100, 90)).save(picture)
    one = record("A/0002")
    one["photographs"] = [
        {
            "file": "close.jpg",
            "role": "close",
            "taken": "2025-03-08T10:42:00",
            "by": "Inspector 1",
            "width_px": 1600,
            "height_px": 1200,
            "marks": [{"kind": "ring", "points": [[3000, 3000], [9000, 3000], [6000, 8000]]}],
        }
    ]
    pdf = PdfReader(io.BytesIO(zone_report_pdf(ready([one]), {"close.jpg": picture})))
    assert len(pdf.pages[1].images) == 1
    text = pdf.pages[1].extract_text()
    assert "Photograph, wide: not taken." in re.sub(r"\s+", " ", text)


def test_the_same_data_gives_the_same_bytes():
    data = ready(three_records())
    assert zone_report_pdf(data, {}) == zone_report_pdf(data, {})


def test_a_template_that_fails_is_one_sentence(monkeypatch, tmp_path):
    (tmp_path / "zone.typ").write_text("#panic()")
    monkeypatch.setattr(zone_report, "TEMPLATE", tmp_path)
    with pytest.raises(Refused, match="could not be typeset"):
        zone_report_pdf(ready(), {})


@pytest.mark.parametrize(
    ("read", "why"),
    [
        ('#read("../../secret.txt")', "would escape the project root"),
        ('#read("/etc/passwd")', "file not found"),
    ],
)
def test_the_typesetter_reads_nothing_outside_its_folder(monkeypatch, tmp_path, read, why):
    (tmp_path / "zone.typ").write_text(read)
    monkeypatch.setattr(zone_report, "TEMPLATE", tmp_path)
    with pytest.raises(Refused, match=why):
        zone_report_pdf(ready(), {})
