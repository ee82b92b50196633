"""The register of tablets: what each told, and its numbers accounted for."""

import pytest
from skinpin.domain.errors import Refused
from skinpin.services.devices import end_device
from skinpin.services.enrolment import enrol_desk
from skinpin.services.people import add_person
from skinpin.services.register import keep_told, register
from skinpin.storage.log import find_book, set_epoch
from skinpin_sync.chain import Chain, Draft
from skinpin_sync.clock import new_clock

from tests.benches import new_key


def epoch_of(bench):
    with bench.workshop.reading() as connection:
        return find_book(connection).epoch


def told(bench, **changes):
    said = {"version": "0.1.0", "epoch": epoch_of(bench), "entries": 0, "files": 0}
    said |= {"refused": 0, "oldest_ms": None, "offset_ms": 0, "last_number": None}
    return said | {"battery_percent": None, "room_photographs": None} | changes


def rows(bench, person=None):
    return {row["name"]: row for row in register(bench.workshop, person or bench.new.lead)}


def test_numbers_are_accounted_for_from_first_to_last(bench):
    tablet = bench.tablet()
    for n in (1, 2, 5):
        bench.push(tablet.defect(f"d{n}", number=f"A/{n:04d}"))
    [numbers] = [row["numbers"] for row in rows(bench).values()]
    assert (numbers["first"], numbers["last"], numbers["records"]) == ("A/0001", "A/0005", 3)
    # Without a move these records have no state: nobody made them a draft.
    missing = [one for one in numbers["words"] if one["why"] != "taken back"]
    assert missing == [{"why": "not in, or never used", "first": "A/0003", "last": "A/0004"}]
    keep_told(bench.workshop, "A", told(bench, entries=2, last_number="A/0007"))
    words = rows(bench)["A"]["numbers"]["words"]
    assert [(one["first"], one["last"]) for one in words if one["why"] == "not yet in"] == [
        ("A/0003", "A/0004"),
        ("A/0006", "A/0007"),
    ]
    keep_told(bench.workshop, "A", told(bench, last_number="A/0005"))
    words = rows(bench)["A"]["numbers"]["words"]
    assert [one for one in words if one["why"] == "never used"] == [
        {"why": "never used", "first": "A/0003", "last": "A/0004"}
    ]


def test_a_number_that_two_records_bear_and_one_that_was_changed_are_named(bench):
    tablet = bench.tablet()
    bench.push(tablet.defect("d1", number="A/0001"))
    bench.push(tablet.defect("d2", number="A/0001"))
    [(first, _)] = written = tablet.defect("d3", number="A/0002")
    bench.push(written)
    change = Draft("d3", "defect", {"number": "A/0003"}, {"number": [first.id]})
    bench.push(tablet.write(change))
    words = {one["first"]: one["why"] for one in rows(bench)["A"]["numbers"]["words"]}
    assert words["A/0001"] == "on two records"
    assert words["A/0002"] == "another number now"


def test_what_a_tablet_told_is_kept_and_what_waits_grows_older(bench):
    bench.tablet()
    assert rows(bench)["A"]["told"] is None
    said = told(bench, entries=3, files=2, oldest_ms=60_000, offset_ms=-4000, battery_percent=62)
    keep_told(bench.workshop, "A", said)
    bench.workshop.now_ms.now_ms += 3_600_000
    row = rows(bench)["A"]
    assert row["told"]["oldest_ms"] >= 3_660_000
    assert (row["told"]["battery_percent"], row["told"]["offset_ms"]) == (62, -4000)
    assert row["last_seen"] == row["told_at"]
    assert row["behind"] is False


def test_a_clock_pinned_to_a_day_puts_no_tablet_in_the_wrong(bench):
    bench.tablet()
    bench.workshop.shift_ms = lambda: -33_000_000_000
    said = told(bench, offset_ms=-33_000_000_000 + 4000)
    assert keep_told(bench.workshop, "A", said) == 4000
    assert rows(bench)["A"]["told"]["offset_ms"] == 4000


def test_a_tablet_that_was_not_here_since_the_book_was_put_back_is_named(bench):
    bench.tablet()
    keep_told(bench.workshop, "A", told(bench))
    with bench.workshop.writing() as connection:
        set_epoch(connection, "another epoch")
    assert rows(bench)["A"]["behind"] is True
    keep_told(bench.workshop, "A", told(bench))
    assert rows(bench)["A"]["behind"] is False


def test_two_starts_that_go_on_from_one_entry_are_two_copies_of_a_tablet(bench):
    tablet = bench.tablet()
    bench.push(tablet.defect("d1", number="A/0001"))
    end = tablet.chain.prev
    for writer in ("tableta2", "tableta3"):
        assert rows(bench)["A"]["forked"] is False
        tablet.chain = Chain(new_clock(writer), 0, end)
        bench.push(tablet.defect(f"d-{writer}", number="A/0002"))
    assert rows(bench)["A"]["forked"] is True


def test_a_tablet_that_was_ended_says_so_and_its_missing_numbers_may_exist(bench):
    tablet = bench.tablet()
    bench.push(tablet.defect("d2", number="A/0002"))
    keep_told(bench.workshop, "A", told(bench, last_number="A/0002"))
    end_device(bench.workshop, bench.new.lead, rows(bench)["A"]["device"], "left on the ferry")
    row = rows(bench)["A"]
    assert "left on the ferry" in row["shut"]
    assert row["numbers"]["words"][0]["why"] == "not in, and the tablet is out"


def test_a_tablet_that_runs_another_app_than_the_servers_is_named(bench):
    bench.tablet()
    keep_told(bench.workshop, "A", told(bench, version="zt_QOIxM"))
    lead = bench.new.lead
    assert [row["old_app"] for row in register(bench.workshop, lead, "zt_QOIxM")] == [False]
    assert [row["old_app"] for row in register(bench.workshop, lead, "another")] == [True]
    assert [row["old_app"] for row in register(bench.workshop, lead, None)] == [False]


def test_desks_come_after_tablets_and_have_no_numbers(bench):
    enrol_desk(bench.workshop, bench.new.lead, new_key())
    bench.tablet()
    listed = register(bench.workshop, bench.new.lead)
    assert [row["letter"] for row in listed] == ["A", None]
    assert listed[1]["numbers"] is None


def test_leads_and_clerks_look_and_nobody_else(bench):
    workshop, lead = bench.workshop, bench.new.lead
    clerk = add_person(workshop, lead, "Clerk", "clerk", "", "222222")
    assert register(workshop, clerk) == []
    fitter = add_person(workshop, lead, "Fitter", "fitter", "", "222222")
    with pytest.raises(Refused) as refused:
        register(workshop, fitter)
    assert refused.value.code == "not_allowed"
