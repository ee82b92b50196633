"""The demo's defect book as CSV: as many rows as records, with what lists show."""

import shutil

import pytest
from skinpin.app import open_workshop
from skinpin.reports.defects_csv import read_defects_csv
from skinpin.services.defects import list_defects
from skinpin.services.export import export_defects
from skinpin.settings import read_settings

from tests.ready_book import ready_book


@pytest.fixture(scope="module")
def workshop(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo") / "book"
    shutil.copytree(ready_book(), folder)
    opened = open_workshop(read_settings(folder, {"SKINPIN_TODAY": "2025-11-03"}))
    yield opened
    opened.close()


def test_rows_of_the_file_are_the_records_of_the_book(workshop):
    rows = read_defects_csv(export_defects(workshop))
    listed = list_defects(workshop, {})
    for name in ("number", "state", "zone", "kind", "grade_words", "place_words"):
        assert [row[name] for row in rows] == [str(one[name] or "") for one in listed]
    assert [row["grade"] for row in rows] == [str(one["grade"]) for one in listed]


def test_figures_names_and_decisions_stand_in_their_columns(workshop):
    rows = {row["number"]: row for row in read_defects_csv(export_defects(workshop, "2603"))}
    second = rows["A/0002"]
    assert (second["depth_in"], second["thickness_in"], second["station_in"]) == (
        "0.011",
        "0.064",
        "72.0",
    )
    assert second["raised_by"] == "Inspector 1"
    assert second["disposition"] == "Repair by patch"
    assert rows["A/0004"]["independent"] == "yes"
    assert rows["B/0015"]["same_as_number"] == "A/0002"
