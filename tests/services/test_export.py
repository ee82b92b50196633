"""The demo's defect book taken away: as many rows as records, with what lists show."""

import hashlib
import io
import json
import shutil

import pytest
from openpyxl import load_workbook
from skinpin.app import open_workshop
from skinpin.domain.errors import Refused
from skinpin.domain.kinds import WORDING
from skinpin.reports.defects_csv import read_defects_csv
from skinpin.services.defects import list_defects
from skinpin.services.export import KINDS, export_defects, export_records
from skinpin.settings import read_settings

from tests.ready_book import ready_book


@pytest.fixture(scope="module")
def workshop(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo") / "book"
    shutil.copytree(ready_book(), folder)
    opened = open_workshop(read_settings(folder, {"SKINPIN_TODAY": "2025-11-03"}))
    yield opened
    opened.close()


def numbers_in(exported, ending):
    if ending == "csv":
        return [row["number"] for row in read_defects_csv(exported.content.decode())]
    if ending == "jsonl":
        return [json.loads(line)["number"] for line in exported.content.splitlines()]
    sheet = load_workbook(io.BytesIO(exported.content))["Defects"]
    return [row[0].value for row in sheet.iter_rows(min_row=2)]


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
    assert rows["A/0001"]["cleared_on"] == "2025-07-12"
    assert {row["wording"] for row in rows.values()} == {WORDING["full"]}


@pytest.mark.parametrize("ending", KINDS)
def test_every_kind_of_file_holds_the_same_records_and_says_how_many(workshop, ending):
    listed = [one["number"] for one in list_defects(workshop, {})]
    exported = export_records(workshop, ending)
    assert numbers_in(exported, ending) == listed
    assert (exported.records, exported.name) == (45, f"defects.{ending}")
    assert exported.sha256 == hashlib.sha256(exported.content).hexdigest()


@pytest.mark.parametrize("ending", KINDS)
def test_a_zone_can_be_taken_by_itself(workshop, ending):
    exported = export_records(workshop, ending, zone="111")
    assert numbers_in(exported, ending) == ["A/0001", "A/0002", "B/0015"]
    assert exported.name == f"defects-zone-111.{ending}"


def test_check_figures_of_the_scenario_stand_in_the_files(workshop):
    told = [json.loads(line) for line in export_records(workshop, "jsonl").content.splitlines()]
    states = [one["state"] for one in told]
    counts = {state: states.count(state) for state in ("Raised", "Assessed", "In work", "Offered")}
    assert counts == {"Raised": 10, "Assessed": 9, "In work": 9, "Offered": 3}
    assert (states.count("Deferred"), states.count("Cleared")) == (3, 9)
    live = [one for one in told if one["state"] not in ("Same as", "Raised in error")]
    grades = [one["grade"] for one in live if one["kind"] != "nil"]
    assert [grades.count(grade) for grade in (1, 2, 3, 4)] == [6, 12, 16, 8]


def test_a_kind_or_a_zone_that_is_none_is_refused_with_those_that_are(workshop):
    with pytest.raises(Refused, match="no export of the kind “docx”") as refused:
        export_records(workshop, "docx")
    assert refused.value.hint == "A file may end in .csv, .xlsx, .jsonl."
    with pytest.raises(Refused, match="no zone 999"):
        export_records(workshop, "csv", zone="999")
