"""The defect book as a workbook: read back by another library, and looked at as it lies in it."""

import io
import re
import zipfile
from datetime import datetime
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import load_workbook
from skinpin.reports.columns import described
from skinpin.reports.defects_csv import COLUMNS
from skinpin.reports.defects_xlsx import CUT, MOST_LETTERS, About, defects_xlsx, is_exact

from tests.reports.ready import SAFETY, figures, inches, record

ABOUT = About([("Records", "1"), ("Of", "zone 111")], SAFETY)
HOSTILE = [
    "=1+1",
    "=cmd|'/C calc'!A0",
    "+44 1234",
    "-2+3",
    "@SUM(A1)",
    "\ttab",
    "two\nlines",
    "\r\nreturn",
    "'quoted",
    "http://example.test/=1",
    "12345678901234567890",
    "2025-11-03",
    "1-2",
    "TRUE",
    "_x0041_",
    "right to left \u202eevil\u202c \u05d0\u05d1",
    "nul \x00 bell \x07",
    "<b>&amp;</b>",
]


def opened(*records):
    content = defects_xlsx(records, ABOUT)
    return load_workbook(io.BytesIO(content)), content


def cells(book, line=2):
    sheet = book["Defects"]
    return {sheet.cell(1, at).value: sheet.cell(line, at) for at in range(1, sheet.max_column + 1)}


def texts(content):
    """Return the texts of a workbook as the standard says they are read (ISO 29500, ST_Xstring)."""
    with zipfile.ZipFile(io.BytesIO(content)) as parts:
        tree = ElementTree.fromstring(parts.read("xl/sharedStrings.xml"))
    found = [one.text or "" for one in tree.iter() if one.tag.endswith("}t")]
    escape = re.compile("_x([0-9A-Fa-f]{4})_")
    return [escape.sub(lambda letter: chr(int(letter[1], 16)), one) for one in found]


def with_note(note):
    return record("A/0002", figures() | {"note": [note]})


@pytest.mark.parametrize("note", HOSTILE, ids=repr)
def test_hostile_text_is_text_letter_for_letter_and_never_a_formula(note):
    book, content = opened(with_note(note))
    cell = cells(book)["note"]
    assert cell.data_type == "s"
    assert note in texts(content)
    with zipfile.ZipFile(io.BytesIO(content)) as parts:
        sheet = parts.read("xl/worksheets/sheet1.xml").decode()
        assert "<f>" not in sheet
        assert "<hyperlink" not in sheet
        assert not any("extern" in name.lower() for name in parts.namelist())


@settings(deadline=None, max_examples=60, print_blob=True)
@given(st.text(alphabet="=+-@'\t\n\"<&;x_041\x00\u202e\u2212", min_size=1, max_size=9))
def test_any_text_comes_back(note):
    book, content = opened(with_note(note))
    assert cells(book)["note"].data_type == "s"
    assert note in texts(content)


def test_numbers_are_numbers_with_the_decimals_that_were_typed():
    one = record("A/0002", figures() | {"depth": [inches("0.0110")], "run": ["7"]})
    found = cells(opened(one)[0])
    assert (found["depth_in"].value, found["depth_in"].number_format) == (0.011, "0.0000")
    assert (found["grade"].value, found["grade"].data_type) == (3, "n")
    assert (found["run"].value, found["station_in"].value) == (7, 72)


def test_a_figure_that_a_number_would_round_stays_text():
    assert is_exact("0.011")
    assert not is_exact("0.1234567890123456")
    one = record("A/0002", figures() | {"depth": [inches("0.1234567890123456")]})
    found = cells(opened(one)[0])["depth_in"]
    assert (found.value, found.data_type) == ("0.1234567890123456", "s")


def test_dates_are_dates():
    one = record("A/0002")
    one["row"] |= {"raised_on": "2025-03-08", "cleared_on": "not a day"}
    found = cells(opened(one)[0])
    assert (found["raised_on"].value, found["raised_on"].is_date) == (datetime(2025, 3, 8), True)
    assert found["raised_on"].number_format == "yyyy-mm-dd"
    assert (found["cleared_on"].value, found["cleared_on"].data_type) == ("not a day", "s")


def test_text_longer_than_a_cell_is_cut_and_says_so():
    found = cells(opened(with_note("\U0001f527" * 40_000))[0])["note"].value
    assert found.endswith(CUT)
    assert len(found.encode("utf-16-le")) // 2 <= MOST_LETTERS


def test_the_workbook_explains_its_columns_and_bears_the_safety_wording():
    about = opened(with_note("x"))[0]["About"]
    rows = [[cell.value for cell in row] for row in about.iter_rows()]
    assert rows[0] == ["Safety", None, SAFETY]
    assert [row[0] for row in rows if row[0] in COLUMNS] == COLUMNS
    assert all(len(meaning) > 3 for _, _, meaning in described())


def test_no_record_is_a_workbook_with_a_head():
    sheet = opened()[0]["Defects"]
    assert [cell.value for cell in sheet[1]] == COLUMNS
    assert sheet.max_row == 1


def test_the_same_records_give_the_same_bytes():
    assert defects_xlsx([with_note("x")], ABOUT) == defects_xlsx([with_note("x")], ABOUT)


def test_headings_have_their_unit_last():
    assert all(re.fullmatch("[a-z_]+", column) for column in COLUMNS)
