"""The demo book, loaded through the services: it says what the scenario says."""

import json
import shutil
from datetime import date

import pytest
from skinpin.app import open_workshop
from skinpin.domain.errors import Refused
from skinpin.services.defects import list_defects
from skinpin.services.people import people_here
from skinpin.services.push import need_book
from skinpin.services.signing import sign_in
from skinpin.settings import read_settings
from skinpin.storage.records import records_of_kind
from skinpin.storage.shelf import LogShelf
from skinpin_demo import load
from skinpin_demo.histories import histories
from skinpin_demo.load import load_demo
from sqlalchemy import true

from tests.ready_book import ready_book

# Grade, state, deciding rules and zone of each record as the scenario lists them.
SCENARIO = {
    "A/0001": (2, "Cleared", ["AL2"], "111"),
    "A/0002": (3, "In work", ["AL3", "AL4"], "111"),
    "A/0003": (3, "Assessed", ["AL6", "AL3", "AL4"], "112"),
    "A/0004": (4, "In work", ["AL5"], "112"),
    "A/0009": (4, "Assessed", ["CK3"], "221"),
    "A/0017": (1, "Cleared", ["PT1"], "232"),
    "B/0015": (3, "Same as", ["AL3", "AL4"], "111"),
}


@pytest.fixture(scope="module")
def workshop(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo") / "book"
    shutil.copytree(ready_book(), folder)
    opened = open_workshop(read_settings(folder, {"SKINPIN_TODAY": "2025-11-03"}))
    yield opened
    opened.close()


def test_states_grades_rules_and_zones_are_those_of_the_scenario(workshop):
    rows = {row["number"]: row for row in list_defects(workshop, {})}
    assert set(rows) == set(SCENARIO)
    for number, (grade, state, rules, zone) in SCENARIO.items():
        row = rows[number]
        deciding = [fired["rule"] for fired in row["fired"] if fired["deciding"]]
        assert (row["grade"], row["state"], deciding, row["zone"]) == (grade, state, rules, zone)
        assert row["grade_known"]
    assert rows["B/0015"]["same_as_number"] == "A/0002"


def test_every_entry_counts_and_cleared_records_have_stamps_that_hold(workshop):
    with workshop.reading() as connection:
        kept = LogShelf(connection, need_book(connection).seq).kept(true())
    assert [one.entry.id for one in kept if not one.verdict.counts] == []
    cleared = list_defects(workshop, {"state": "Cleared"})
    assert {row["number"]: row["stamps_hold"] for row in cleared} == {
        "A/0001": True,
        "A/0017": True,
    }


def test_acts_lie_on_working_days_in_order():
    wednesday, saturday = 3, 6
    for record in histories()["records"]:
        for act in (record, *record["moves"]):
            assert date.fromisoformat(act["at"][:10]).isoweekday() in (wednesday, saturday)
        order = [act["at"] for act in (record, *record["moves"])]
        assert order == sorted(order)


def test_twenty_four_cells_of_twenty_eight_were_looked_at_on_either_side(workshop):
    seen = {}
    with workshop.reading() as connection:
        for one in records_of_kind(connection, "coverage"):
            (fields,) = one.standing.values.values()
            if fields["looked_at"]:
                cell = fields["cell"]
                seen.setdefault(cell["hand"], set()).add(json.dumps(cell, sort_keys=True))
    assert {hand: len(cells) for hand, cells in seen.items()} == {"P": 24, "S": 24}


def test_every_record_has_a_wide_and_a_close_picture_with_a_ring(workshop):
    with workshop.reading() as connection:
        photographs = records_of_kind(connection, "photograph")
        marks = records_of_kind(connection, "mark")
    ringed = set()
    for mark in marks:
        (fields,) = mark.standing.values.values()
        if fields["shape"]["kind"] == "ring":
            ringed.add(fields["photograph"])
    roles = {}
    for one in photographs:
        (fields,) = one.standing.values.values()
        assert workshop.folder.exists(fields["sha256"])
        roles.setdefault(fields["defect"], set()).add(fields["role"])
        assert one.record in ringed or fields["role"] == "after work"
    assert len(roles) == len(SCENARIO)
    assert all({"wide", "close"} <= each for each in roles.values())


def test_everybody_of_the_scenario_can_sign_in(workshop):
    people = {one["name"]: one for one in people_here(workshop, with_unlock=False)}
    given = histories()["people"]
    assert {one["name"]: one["stamp_number"] for one in given} == {
        name: one["stamp_number"] for name, one in people.items()
    }
    lead = given[0]
    assert sign_in(workshop, people["Lead"]["person"], lead["passcode"])


def test_a_second_load_changes_nothing_and_gives_fresh_codes(tmp_path, monkeypatch):
    monkeypatch.setenv("SKINPIN_TODAY", "2025-11-03")
    folder = tmp_path / "book"
    shutil.copytree(ready_book(), folder)
    before = seq_of(folder)
    first, second = load_demo(folder), load_demo(folder)
    assert seq_of(folder) == before
    assert first.passcodes == second.passcodes
    assert set(first.enrolment_codes).isdisjoint(second.enrolment_codes)


def seq_of(folder):
    opened = open_workshop(read_settings(folder, {}))
    with opened.reading() as connection:
        seq = need_book(connection).seq
    opened.close()
    return seq


def test_a_folder_that_holds_something_else_is_left_alone(tmp_path):
    (tmp_path / "letter.txt").write_text("mine")
    with pytest.raises(Refused, match="is not the demo book"):
        load_demo(tmp_path)
    assert [each.name for each in tmp_path.iterdir()] == ["letter.txt"]


def test_a_load_cut_short_leaves_no_book_and_the_next_one_works(tmp_path, monkeypatch):
    folder = tmp_path / "book"

    def stop(*given):
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(load, "_push", stop)
        with pytest.raises(KeyboardInterrupt):
            load_demo(folder)
    assert not folder.exists()
    load_demo(folder)
    assert seq_of(folder) > 200
    assert not (tmp_path / "book.loading").exists()


def test_two_loads_write_the_same_entries(tmp_path):
    folder = tmp_path / "again"
    load_demo(folder)
    assert lines_of(folder) == lines_of(ready_book())


def lines_of(folder):
    opened = open_workshop(read_settings(folder, {}))
    with opened.reading() as connection:
        kept = LogShelf(connection, need_book(connection).seq).kept(true())
    opened.close()
    return sorted(one.entry for one in kept)
