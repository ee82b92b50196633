"""The columns of the exports explain themselves."""

from skinpin.reports.columns import DATES, NUMBERS, described, meaning_of, sort_of
from skinpin.reports.defects_csv import COLUMNS


def test_every_column_is_described_once_and_in_order():
    assert [name for name, _, _ in described()] == list(COLUMNS)
    assert all(meaning for _, _, meaning in described())


def test_a_column_with_a_unit_says_its_unit():
    for column in COLUMNS:
        for unit in ("in", "mm"):
            if column.endswith(f"_{unit}"):
                assert meaning_of(column).endswith(f", in {unit}")
                assert sort_of(column) == "number"


def test_sorts_name_columns_that_are_there():
    assert set(COLUMNS) >= DATES
    assert set(COLUMNS) >= NUMBERS
    assert {sort_of(column) for column in COLUMNS} == {"number", "date", "text"}
