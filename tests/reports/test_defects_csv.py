"""The defect book as CSV: a spreadsheet shows text, and reading it back gives it all again."""

import csv
import io

from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.reports.defects_csv import (
    COLUMNS,
    defect_cells,
    defects_csv,
    defused,
    read_defects_csv,
)

from tests.reports.ready import figures, inches, record

NOTES = ["=1+1", "+44", "-0.5 loose", "@SUM(A1)", "\ttab", "\rreturn", "'quoted'", "''two", "plain"]
NASTY = st.text(alphabet="=+-@'\t\r\n\",;a1 \N{MINUS SIGN}", max_size=8)


def with_note(note, number="A/0002"):
    return record(number, figures() | {"note": [note]})


def raw(text):
    return list(csv.reader(io.StringIO(text, newline="")))


def test_one_row_a_record_under_snake_case_headings_with_units():
    rows = raw(defects_csv([with_note("a", "A/0001"), with_note("b", "A/0002")]))
    assert rows[0] == COLUMNS
    assert len(rows) == 3
    assert {"number", "state", "grade", "zone", "kind", "stage", "depth_in", "depth_mm"} <= set(
        rows[0]
    )
    assert all(name == name.lower() and " " not in name for name in rows[0])


def test_lines_end_as_rfc_4180_says_and_quotes_are_doubled():
    text = defects_csv([with_note('says "thin", then\nmore')])
    assert text.count("\r\n") == 2
    assert '"says ""thin"", then\nmore"' in text


def test_a_note_that_starts_like_a_formula_is_text():
    for note in NOTES[:-1]:
        cell = raw(defects_csv([with_note(note)]))[1][COLUMNS.index("note")]
        assert cell == f"'{note}"


def test_text_in_a_column_of_figures_is_text_and_no_formula():
    values = {"panel_percent": ["=1+1"], "run": ["@SUM(1)"]}
    values["depth"] = [{"value": "=2+2", "unit": "in"}]
    text = defects_csv([record("A/0002", figures() | values)])
    row = dict(zip(COLUMNS, raw(text)[1], strict=True))
    assert (row["panel_percent"], row["run"], row["depth_in"]) == ("'=1+1", "'@SUM(1)", "'=2+2")
    [back] = read_defects_csv(text)
    assert (back["panel_percent"], back["depth_in"], back["depth_mm"]) == ("=1+1", "=2+2", "")


def test_a_figure_finer_than_can_be_worked_out_stands_as_it_came_and_stops_no_other():
    fine = {"value": "0.00000000001", "unit": "mm"}
    rows = raw(defects_csv([record("A/0002", figures() | {"width": [fine]}), record("A/0003")]))
    row = dict(zip(COLUMNS, rows[1], strict=True))
    assert (row["width_mm"], row["width_in"], len(rows)) == ("0.00000000001", "", 3)


def test_a_figure_is_never_touched():
    one = record("A/0002", figures() | {"depth": [inches("-0.004")]})
    row = raw(defects_csv([one]))[1]
    assert row[COLUMNS.index("depth_in")] == "-0.004"
    assert row[COLUMNS.index("grade")] == "3"
    assert row[COLUMNS.index("station_in")] == "72.0"


def test_a_figure_typed_in_mm_stands_as_typed_and_is_worked_out_in_inches():
    one = record("A/0002", figures() | {"depth": [{"value": "0.28", "unit": "mm"}]})
    row = dict(zip(COLUMNS, raw(defects_csv([one]))[1], strict=True))
    # 0.28 / 25.4 = 0.0110236…
    assert (row["depth_mm"], row["depth_in"]) == ("0.28", "0.01102")


def test_what_figures_are_sure_to_stands_in_words_beside_them():
    sure = inches("0.81") | {"uncertainty": inches("0.03")}
    one = record("A/0002", figures() | {"length": [sure]})
    row = dict(zip(COLUMNS, raw(defects_csv([one]))[1], strict=True))
    assert (row["length_in"], row["uncertainty"]) == ("0.81", "length 0.81 ± 0.03 in")


def test_not_measured_and_two_values_are_named_and_leave_no_figure():
    values = {"depth": ["not measured"], "length": [inches("5.5"), inches("5.8")]}
    one = record("A/0002", figures() | values)
    one["row"]["two_values"] = ["length"]
    row = dict(zip(COLUMNS, raw(defects_csv([one]))[1], strict=True))
    assert (row["depth_in"], row["not_measured"]) == ("", "depth")
    assert (row["length_in"], row["two_values"]) == ("", "length")


def test_a_figure_whose_scale_was_struck_is_said_to_be_withdrawn_and_leaves_no_figure():
    struck = inches("0.81", method="photograph", measurement="m1", scale_withdrawn=True)
    one = record("D/0003", figures() | {"length": [struck | {"uncertainty": inches("0.03")}]})
    row = dict(zip(COLUMNS, raw(defects_csv([one]))[1], strict=True))
    assert (row["length_in"], row["uncertainty"]) == ("", "length scale withdrawn")
    assert "length" in row["not_measured"].split()


def test_a_copied_figure_is_named_as_not_measured_and_leaves_no_figure():
    copied = inches("0.012", copied_from="D/0001", uncertainty=inches("0.001"))
    one = record("D/0002", figures() | {"depth": [copied], "length": [copied]})
    row = dict(zip(COLUMNS, raw(defects_csv([one]))[1], strict=True))
    assert (row["depth_in"], row["depth_mm"], row["length_in"]) == ("", "", "")
    assert (row["not_measured"], row["uncertainty"]) == ("length depth", "")


def test_no_record_gives_the_headings_alone():
    assert defects_csv([]) == ",".join(COLUMNS) + "\r\n"


@settings(deadline=None, print_blob=True)
@given(notes=st.lists(NASTY, max_size=4), part=NASTY)
def test_reading_back_gives_what_was_written(notes, part):
    records = [with_note(note, f"A/{i:04}") for i, note in enumerate(notes)]
    for one in records:
        one["row"]["part"] = part
    assert read_defects_csv(defects_csv(records)) == [defect_cells(one) for one in records]


@given(NASTY)
def test_no_defused_text_starts_a_formula(text):
    assert not defused(text).startswith(("=", "+", "-", "@", "\t", "\r", "\n", "\N{MINUS SIGN}"))
