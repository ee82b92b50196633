"""Standards of acceptance: issued by a lead, and nothing is graded by a new one until again."""

import copy
import json
from pathlib import Path

import pytest
from skinpin.domain.errors import Refused
from skinpin.services.defects import list_defects
from skinpin.services.people import add_person
from skinpin.services.standards import (
    check_standard,
    issue_standard,
    list_standards,
    standard_file,
)
from skinpin_sync.chain import Draft

from tests.benches import PASSCODE, set_up
from tests.storage.power_cuts import files_below

ROOT = Path(__file__).parents[2]
QS7 = json.loads((ROOT / "sample_data/skinpin_demo/data/standard_qs7.json").read_text("utf-8"))


def issue_two():
    standard = copy.deepcopy(QS7)
    standard["issue"] = "2"
    for row in standard["rows"]:
        if row["rule"] == "AL2":
            row["grade"] = 3
    return standard


@pytest.fixture
def book(workshop):
    """A book that was set up with QS-7."""
    return set_up(workshop, standard=json.dumps(QS7).encode())


def refused_by(call):
    with pytest.raises(Refused) as refused:
        call()
    return refused.value


def test_a_book_without_one_is_given_one(workshop):
    bench = set_up(workshop)
    assert list_standards(workshop) == []
    made = issue_standard(workshop, bench.new.lead, QS7, "the first")
    assert list_standards(workshop) == [made._asdict()]
    assert json.loads(standard_file(workshop, made.record)) == QS7


def test_an_exported_standard_that_is_read_in_again_is_the_same_bytes(book):
    made = issue_standard(book.workshop, book.new.lead, issue_two(), "limits of 2026")
    content = standard_file(book.workshop, made.record)
    again = json.loads(content) | {"issue": "3"}
    third = issue_standard(book.workshop, book.new.lead, again, "as issue 2")
    back = json.loads(standard_file(book.workshop, third.record)) | {"issue": "2"}
    assert json.dumps(back, sort_keys=True) == json.dumps(json.loads(content), sort_keys=True)
    assert [one["issue"] for one in list_standards(book.workshop)] == ["3", "2", "1"]


def test_a_new_issue_changes_no_grade_until_graded_again(book):
    pin = {key: list_standards(book.workshop)[0][key] for key in ("name", "issue", "sha256")}
    depth = {"value": "0.006", "unit": "in"}
    values = {"kind": "pitting", "material": "AL", "depth": depth, "standard": pin}
    thickness = {"value": "0.128", "unit": "in"}
    tablet = book.tablet()
    place = {"airframe": book.new.airframe, "number": "A/0001", "thickness": thickness}
    written = tablet.defect("defect-1", **values, **place)
    book.push(written)
    assert [row["grade"] for row in list_defects(book.workshop, {})] == [2]
    made = issue_standard(book.workshop, book.new.lead, issue_two(), "AL2 is severe here")
    assert [row["grade"] for row in list_defects(book.workshop, {})] == [2]
    new = {"name": made.name, "issue": made.issue, "sha256": made.sha256}

    seen = {"standard": [written[0][0].id]}
    again = Draft("defect-1", "defect", {"standard": new}, seen, [book.role_entry], "graded again")
    book.push(tablet.write(again))
    assert [row["grade"] for row in list_defects(book.workshop, {})] == [3]


def test_a_wrong_row_is_refused_by_name_and_nothing_is_kept(book):
    wrong = issue_two()
    wrong["rows"][4]["grade"] = 9
    before = files_below(book.workshop.folder.root)
    told = refused_by(lambda: issue_standard(book.workshop, book.new.lead, wrong, "x"))
    assert (told.code, told.message) == (
        "not_a_standard",
        "Row 5, AL1: the grade is none of 0 to 4.",
    )
    [trouble] = check_standard(book.workshop, book.new.lead, wrong)["troubles"]
    assert trouble["at"] == "rows/4/grade"
    assert files_below(book.workshop.folder.root) == before
    assert len(list_standards(book.workshop)) == 1


@pytest.mark.parametrize(
    ("standard", "reason", "code"),
    [
        (QS7 | {"title": "Another one of the same name"}, "again", "standard_exists"),
        (issue_two(), "  ", "no_reason"),
        ([], "x", "not_a_standard"),
    ],
)
def test_what_is_there_already_or_gives_no_reason_is_refused(book, standard, reason, code):
    before = files_below(book.workshop.folder.root)
    told = refused_by(lambda: issue_standard(book.workshop, book.new.lead, standard, reason))
    assert told.code == code
    assert files_below(book.workshop.folder.root) == before
    assert len(list_standards(book.workshop)) == 1


def test_only_a_lead_issues_one(book):
    inspector = add_person(book.workshop, book.new.lead, "Inspector 1", "inspector", "12", PASSCODE)
    for call in (
        lambda: issue_standard(book.workshop, inspector, issue_two(), "x"),
        lambda: check_standard(book.workshop, inspector, issue_two()),
    ):
        assert refused_by(call).code == "not_allowed"


def test_a_record_that_is_none_has_no_file(book):
    assert refused_by(lambda: standard_file(book.workshop, "book")).code == "no_standard"
