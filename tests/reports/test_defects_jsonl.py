"""The defect book as JSON lines: one record a line, values as typed."""

import json

import pytest
from skinpin.reports.defects_jsonl import MEMBERS, ROW_MEMBERS, defects_jsonl

from tests.reports.ready import SAFETY, figures, inches, record


def lines(*records):
    return [json.loads(line) for line in defects_jsonl(records).decode().split("\n")[:-1]]


def test_a_record_is_one_line_with_every_member_that_is_documented():
    content = defects_jsonl([record("A/0001"), record("A/0002")])
    assert content.count(b"\n") == 2
    for one in lines(record("A/0002")):
        assert set(one) == {*ROW_MEMBERS, *MEMBERS}


def test_figures_stand_exactly_as_they_were_typed():
    one = record("A/0002", figures() | {"depth": [inches("0.0110"), inches(".012")]})
    [told] = lines(one | {"wording": SAFETY, "unit": "in"})
    assert [value["value"] for value in told["values"]["depth"]] == ["0.0110", ".012"]
    assert (told["station"], told["station_unit"], told["wording"]) == ("72.0", "in", SAFETY)


def test_a_copied_figure_says_so_and_its_field_is_named():
    one = record("D/0002", figures() | {"depth": [inches("0.012", copied_from="D/0001")]})
    one["row"]["copied"] = ["depth"]
    [told] = lines(one)
    assert told["values"]["depth"][0]["copied_from"] == "D/0001"
    assert told["copied"] == ["depth"]


def test_a_stamp_that_was_overtaken_says_so():
    one = record("A/0002")
    stamp = {"entry": "e1", "act": "INSPECTED", "number": "12", "date": "2025-06-21"}
    one["row"] |= {"stamps": [stamp | {"holds": False, "overtaken": "less"}], "stamps_hold": False}
    [told] = lines(one)
    assert told["overtaken"].startswith("INSPECTED stamp 12 of 2025-06-21 does not hold: it covers")
    assert lines(record("A/0002"))[0]["overtaken"] == ""


@pytest.mark.parametrize(
    "note", ["=1+1", "a\nb\u2028c\r\nd", "nul \x00", "\u202eevil", '"quotes" \\', "\t"], ids=repr
)
def test_hostile_text_comes_back_and_breaks_no_line(note):
    content = defects_jsonl([record("A/0002", figures() | {"note": [note]})])
    assert content.count(b"\n") == 1
    assert json.loads(content)["values"]["note"] == [note]
