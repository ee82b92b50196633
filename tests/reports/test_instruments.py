"""Instruments: whether their check was in date when they were used."""

import pytest
from skinpin.reports.instruments import in_date_words, instrument_note, instrument_rows, uses_of

from tests.reports.ready import inches, ready, record

KNOWN = ready()["instruments"]


def used(number, name, *days):
    values = [
        {"value": inches("0.011", instrument=name), "by": "x", "tablet": "A", "date": day}
        for day in days
    ]
    return record(number, measured={"depth": values})


@pytest.mark.parametrize(
    ("due", "days", "words"),
    [
        ("2026-05-31", ["2025-03-08"], "in date"),
        ("2025-09-30", ["2025-09-30"], "in date when used, check overdue now"),
        ("2025-09-30", ["2025-10-01", "2025-09-01"], "OUT OF DATE when used 2025-10-01"),
        ("", ["2025-10-01"], "due date not known"),
    ],
)
def test_in_date_goes_by_the_day_of_use(due, days, words):
    assert in_date_words(due, days, "2025-11-03") == words


def test_each_instrument_has_one_row_with_the_records_it_was_used_on():
    records = [used("A/0003", "DG-1", "2025-03-08"), used("A/0001", "DG-1", "2025-03-08")]
    records.append(used("A/0002", "XX-9", "2025-03-08"))
    assert instrument_rows(records, KNOWN, "2025-11-03") == [
        ["DG-1", "depth gauge", "2026-05-31", "in date", "A/0001, A/0003"],
        ["XX-9", "not in the register", "–", "due date not known", "A/0002"],
    ]


def test_a_value_that_is_no_figure_names_no_instrument():
    odd = record("A/0001", measured={"depth": [{"value": {"instrument": "DG-1"}, "date": "x"}]})
    assert uses_of([odd, used("A/0002", ["DG-1"], "x")]) == {}


def test_the_note_of_a_sheet_is_one_line():
    note = instrument_note("DG-1", ["2025-03-08"], KNOWN, "2025-11-03")
    assert note == "DG-1 depth gauge, check due 2026-05-31: in date"
    assert instrument_note("XX-9", [], KNOWN, "x").endswith("not in the register of instruments")
