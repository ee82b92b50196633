"""The demo book, loaded through the services: it says what the scenario says."""

import shutil
from datetime import date

import pytest
from skinpin.app import open_workshop
from skinpin.domain.errors import Refused
from skinpin.domain.history import history
from skinpin.domain.rivet_line import rivet_line
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
from skinpin_demo.workdays import SATURDAY, WEDNESDAY
from sqlalchemy import true

from tests.ready_book import ready_book


def test_every_entry_counts_and_cleared_records_have_stamps_that_hold(workshop):
    with workshop.reading() as connection:
        kept = LogShelf(connection, need_book(connection).seq).kept(true())
    assert [one.entry.id for one in kept if not one.verdict.counts] == []
    cleared = list_defects(workshop, {"state": "Cleared"})
    assert [row["stamps_hold"] for row in cleared] == [True] * 9
    stamped = {row["number"]: [one["act"] for one in row["stamps"]] for row in cleared}
    assert stamped.pop("A/0019") == []
    assert stamped["B/0006"][0] == stamped["A/0023"][0] == "DISPOSITION"
    assert sum(acts[0] == "INSPECTED" for acts in stamped.values()) == 6


def test_acts_lie_on_working_days_in_order():
    surveyed = {survey["survey"]: survey["date"] for survey in histories()["surveys"]}
    for record in histories()["records"]:
        assert record["at"][:10] == surveyed[record["survey"]]
        for move in record["moves"]:
            assert date.fromisoformat(move["at"][:10]).isoweekday() in (WEDNESDAY, SATURDAY)
        order = [act["at"] for act in (record, *record["moves"])]
        assert order == sorted(order)
        assert order[-1] < "2025-11-03"


def test_the_crack_shows_its_growth_from_observation_to_observation(workshop, rows):
    crack = rows["A/0009"]["record"]
    with workshop.reading() as connection:
        kept = LogShelf(connection, need_book(connection).seq).of_records([crack])
    seen = [
        (one.entry.wall[:10], one.entry.set["length"]["value"], "growth_shown" in one.entry.set)
        for one in sorted(kept, key=lambda one: one.entry.id)
        if "length" in one.entry.set
    ]
    assert seen == [
        ("2025-03-08", "0.62", False),
        ("2025-06-21", "0.66", False),
        ("2025-09-06", "0.79", True),
        ("2025-10-11", "0.81", False),
    ]
    told = [line["sentence"] for line in history([(one.entry, one.verdict) for one in kept], {})]
    assert any("0.62 ± 0.03 in measured again as 0.66 ± 0.03 in" in sentence for sentence in told)


def test_the_rivet_line_stands_as_found_and_as_now(workshop, rows):
    with workshop.reading() as connection:
        kept = LogShelf(connection, need_book(connection).seq).kept(true())
    written = [one.entry.set for one in kept if one.entry.kind == "rivet_line"]
    found, now = written
    assert found["defect"] == rows["B/0001"]["record"]
    line = {**found["design"], **found, **now}
    assert line["name"] == "RL-01"
    survey = rivet_line(line)
    shares = [survey[name]["share"] for name in ("as_found", "as_now")]
    assert shares == [{"low": "64.6", "high": "68.8"}, {"low": "72.7", "high": "76.8"}]


def test_stages_and_instruments_are_records_of_the_book(workshop):
    assert values_of(workshop, "stage", "title", "date", "scope") == {
        ("Stage 1", "2025-11-15", "Close port wing bays R4–R8"),
        ("Stage 2", "2025-11-22", "Hydraulics functional"),
        ("Stage 3", "2025-12-06", "Close hull bottom F4–F15"),
        ("Stage 4", "2026-04-18", "Roll-out"),
    }
    assert values_of(workshop, "instrument", "name", "range", "due") == {
        ("PG-04", "0–2000 psi", "2026-02-28"),
        ("PG-07", "0–2000 psi", "2025-09-30"),
        ("DG-1", None, "2026-05-31"),
        ("HG-1", None, "2026-05-31"),
    }


def test_surveys_are_those_of_the_scenario(workshop):
    assert values_of(workshop, "survey", "title", "date") == {
        ("SV-1", "2025-03-08"),
        ("SV-2", "2025-04-12"),
        ("SV-3", "2025-06-21"),
        ("SV-4", "2025-06-22"),
        ("SV-5", "2025-09-06"),
        ("SV-6", "2025-10-11"),
    }


def values_of(workshop, kind, *names):
    with workshop.reading() as connection:
        found = records_of_kind(connection, kind)
    values = [next(iter(one.standing.values.values())) for one in found]
    return {tuple(fields.get(name) for name in names) for fields in values}


def test_every_record_has_a_wide_and_a_close_picture_ringed_unless_nothing_was_found(
    workshop, rows
):
    nil = rows["A/0019"]["record"]
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
        assert one.record in ringed or fields["role"] == "after work" or fields["defect"] == nil
    assert len(roles) == 45
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


def test_a_load_cut_short_leaves_no_book_and_the_next_one_writes_the_same_entries(
    tmp_path, monkeypatch
):
    folder = tmp_path / "book"

    def stop(*given):
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(load, "_ground", stop)
        with pytest.raises(KeyboardInterrupt):
            load_demo(folder)
    assert not folder.exists()
    load_demo(folder)
    assert not (tmp_path / "book.loading").exists()
    assert lines_of(folder) == lines_of(ready_book())


def lines_of(folder):
    opened = open_workshop(read_settings(folder, {}))
    with opened.reading() as connection:
        kept = LogShelf(connection, need_book(connection).seq).kept(true())
    opened.close()
    return sorted(one.entry for one in kept)
