"""Records from paper: one by one, and a register read in as a whole or not at all."""

import csv
import io
import json

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from skinpin.domain.errors import Refused
from skinpin.domain.paper import COLUMNS
from skinpin.services import paper
from skinpin.services.defects import list_defects
from skinpin.services.enrolment import enrol, give_code
from skinpin.services.paper import enter, import_register
from skinpin.services.people import add_person
from sqlalchemy import text

from tests.benches import derived, new_key

LINE = {
    "paper_number": "17", "found_by": "Inspector 2", "found_on": "2025-10-01", "structure": "Hull",
    "hand": "Port", "position": "F2 + 2.0", "strakes": "K-B1", "face": "inner", "kind": "Pitting",
    "material": "al", "thickness": "0.064 in", "length": "5,5", "depth": "0.011", "cleaned": "yes",
    "note": "bilge water line",
}  # fmt: skip


def register(*lines, names=None, delimiter=","):
    out = io.StringIO()
    writer = csv.writer(out, delimiter=delimiter)
    names = names or [one.name for one in COLUMNS]
    writer.writerow(names)
    for line in lines:
        writer.writerow([line.get(name, "") for name in names])
    return out.getvalue().encode()


def lines_of(bench):
    with bench.workshop.reading() as connection:
        return list(connection.scalars(text("SELECT line FROM entry ORDER BY seq")))


def row_of(bench, number):
    [row] = [one for one in list_defects(bench.workshop, {}) if one["number"] == number]
    return row


def test_a_line_becomes_a_raised_record_with_a_number_of_the_paper_letter(bench):
    told = enter(bench.workshop, bench.new.lead, LINE)
    assert told == {"number": "A/0001", "troubles": []}
    row = row_of(bench, "A/0001")
    assert (row["state"], row["kind"], row["zone"]) == ("Raised", "pitting", "111")
    assert row["place_words"].startswith("Hull · Port · F2 + 2.0")
    assert (row["waits"], row["not_counting"]) == ([], [])


def test_who_found_it_and_when_stands_apart_from_who_typed_it(bench):
    enter(bench.workshop, bench.new.lead, LINE)
    raised = json.loads(lines_of(bench)[-1])
    assert raised["by"] == bench.new.lead
    paper = raised["set"]["paper"]
    assert (paper["by"], paper["date"], paper["number"]) == ("Inspector 2", "2025-10-01", "17")


def test_the_letter_of_paper_is_given_to_no_tablet_and_numbers_go_on(bench):
    first = bench.tablet().name
    numbers = [enter(bench.workshop, bench.new.lead, LINE | {"paper_number": n})["number"]
               for n in ("1", "2")]  # fmt: skip
    after = enrol(bench.workshop, give_code(bench.workshop, bench.new.lead), new_key()).letter
    assert (first, numbers, after) == ("A", ["B/0001", "B/0002"], "D")
    third = enter(bench.workshop, bench.new.lead, LINE | {"paper_number": "3"})
    assert third["number"] == "B/0003"


def test_the_same_paper_number_twice_is_refused_with_the_number_it_has(bench):
    enter(bench.workshop, bench.new.lead, LINE)
    before = lines_of(bench)
    told = enter(bench.workshop, bench.new.lead, LINE | {"note": "another"})
    assert told["number"] is None
    [trouble] = told["troubles"]
    assert trouble["column"] == "paper_number"
    assert "A/0001" in trouble["message"]
    assert lines_of(bench) == before


WRONG = {
    "paper_number": "", "found_by": "  ", "found_on": "1 October", "structure": "Keel",
    "hand": "Up", "position": "F99 + 2", "strakes": "Q-R", "face": "top", "kind": "nil",
    "material": "WOOD9", "thickness": "thin", "length": "-2", "depth": "0.0000000000000001",
    "cleaned": "maybe",
}  # fmt: skip


@pytest.mark.parametrize("column", WRONG)
def test_a_wrong_column_is_named_and_nothing_is_stored(bench, column):
    before = lines_of(bench)
    told = enter(bench.workshop, bench.new.lead, LINE | {column: WRONG[column]})
    assert told["number"] is None
    assert column in {one["column"] for one in told["troubles"]}
    assert all(one["message"].rstrip().endswith(".") for one in told["troubles"])
    assert lines_of(bench) == before


def test_a_day_to_come_and_a_figure_a_kind_does_not_have_are_refused(bench):
    for wrong in ({"found_on": "2025-11-04"}, {"kind": "leak"}):
        assert enter(bench.workshop, bench.new.lead, LINE | wrong)["troubles"]


def test_who_begins_no_record_enters_none(bench):
    clerk = add_person(bench.workshop, bench.new.lead, "The clerk", "clerk", "", "222222")
    with pytest.raises(Refused) as refused:
        enter(bench.workshop, clerk, LINE)
    assert refused.value.code == "not_allowed"


def test_a_register_is_read_in_once(bench):
    lines = [LINE | {"paper_number": str(n)} for n in range(1, 6)]
    content = register(*lines)
    first = import_register(bench.workshop, bench.new.lead, content)
    assert (first.records, first.stored, first.here, first.troubles) == (5, 5, 0, [])
    assert first.numbers == [f"A/000{n}" for n in range(1, 6)]
    before = lines_of(bench)
    again = import_register(bench.workshop, bench.new.lead, content)
    assert (again.records, again.stored, again.here) == (5, 0, 5)
    assert lines_of(bench) == before
    longer = import_register(bench.workshop, bench.new.lead, register(*lines, LINE))
    assert (longer.stored, longer.here) == (1, 5)


def test_one_faulty_line_stores_nothing_and_is_told_by_line_and_column(bench):
    before = lines_of(bench)
    content = register(
        LINE | {"paper_number": "1"},
        LINE | {"paper_number": "2", "depth": "deep", "hand": ""},
        LINE | {"paper_number": "1"},
    )
    told = import_register(bench.workshop, bench.new.lead, content)
    assert told.stored == 0
    assert [(one.line, one.column) for one in told.troubles] == [
        (3, "depth"), (3, "hand"), (4, "paper_number")]  # fmt: skip
    assert lines_of(bench) == before


def test_a_line_that_changed_since_is_a_trouble_and_no_second_record(bench):
    import_register(bench.workshop, bench.new.lead, register(LINE))
    told = import_register(bench.workshop, bench.new.lead, register(LINE | {"depth": "0.012"}))
    assert [(one.line, one.column) for one in told.troubles] == [(2, "paper_number")]
    assert len(list_defects(bench.workshop, {})) == 1


def test_another_register_may_use_the_same_numbers(bench):
    import_register(bench.workshop, bench.new.lead, register(LINE))
    told = import_register(bench.workshop, bench.new.lead, register(LINE), register="1998")
    assert (told.stored, len(list_defects(bench.workshop, {}))) == (1, 2)


@pytest.mark.parametrize(
    ("content", "where"),
    [
        (register(LINE, names=["paper_number", "found_by", "colour"]), (1, "colour")),
        (register(LINE).replace(b"depth,cleaned", b"note,cleaned"), (1, "note")),
        (register(LINE) + b"18,too,few\n", (3, "")),
    ],
)
def test_headings_and_lines_of_another_form_are_told(bench, content, where):
    told = import_register(bench.workshop, bench.new.lead, content)
    assert where in [(one.line, one.column) for one in told.troubles]
    assert told.stored == 0


@pytest.mark.parametrize("content", [b"", b"\xff\xfe,x", b'a,b\n"x', b"x" * (2**21 + 1)])
def test_what_is_no_register_is_refused(bench, content):
    before = derived(bench.workshop)
    try:
        told = import_register(bench.workshop, bench.new.lead, content)
        assert told.troubles
    except Refused as refused:
        assert refused.code in ("wrong_shape", "too_large")  # noqa: PT017
    assert derived(bench.workshop) == before


def test_semicolons_and_a_byte_order_mark_of_a_spreadsheet_are_read(bench):
    content = b"\xef\xbb\xbf" + register(LINE, delimiter=";")
    assert import_register(bench.workshop, bench.new.lead, content).stored == 1


@settings(deadline=None, max_examples=60,
          suppress_health_check=[HealthCheck.function_scoped_fixture])  # fmt: skip
@given(typed=st.dictionaries(st.sampled_from([one.name for one in COLUMNS]), st.text(max_size=40)))
def test_whatever_is_typed_is_stored_whole_or_told(bench, typed):
    before = lines_of(bench)
    told = enter(bench.workshop, bench.new.lead, LINE | typed)
    if told["number"] is None:
        assert told["troubles"]
        assert lines_of(bench) == before
    else:
        assert row_of(bench, told["number"])["state"] == "Raised"


def many(count):
    return register(*[{**LINE, "paper_number": str(n + 1)} for n in range(count)])


def test_others_write_between_the_lines_of_a_register(bench, monkeypatch):
    monkeypatch.setattr(paper, "BUSY_S", 0)
    tablet, pushed = bench.tablet(), []

    def others(seconds):
        pushed.extend(bench.push(tablet.defect(f"d{len(pushed)}", note="beside"))["results"])

    monkeypatch.setattr(paper, "sleep", others)
    read = import_register(bench.workshop, bench.new.lead, many(5))
    assert read.numbers == [f"B/000{n + 1}" for n in range(5)]
    assert [one["result"] for one in pushed] == ["stored"] * 4


def test_what_there_was_no_time_for_is_left_and_stored_when_it_is_read_in_again(bench, monkeypatch):
    monkeypatch.setattr(paper, "BUSY_S", 0)
    monkeypatch.setattr(paper, "sleep", lambda seconds: None)
    now = iter(range(1000))
    monkeypatch.setattr(paper, "monotonic", lambda: next(now))
    told = [import_register(bench.workshop, bench.new.lead, many(5), for_s=5) for _ in range(3)]
    assert [(one.stored, one.here, one.left) for one in told] == [(2, 0, 3), (2, 2, 1), (1, 4, 0)]
    rows = list_defects(bench.workshop, {})
    assert sorted(row["number"] for row in rows) == [f"A/000{n + 1}" for n in range(5)]


def test_after_a_stop_the_same_register_stores_what_lacks_and_each_line_once(bench, monkeypatch):
    class Stopped(BaseException):
        pass

    def stop(seconds):
        raise Stopped

    monkeypatch.setattr(paper, "BUSY_S", 0)
    with monkeypatch.context() as stopped:
        stopped.setattr(paper, "sleep", stop)
        with pytest.raises(Stopped):
            import_register(bench.workshop, bench.new.lead, many(4))
    read = import_register(bench.workshop, bench.new.lead, many(4))
    assert (read.records, read.stored, read.here) == (4, 3, 1)
    rows = list_defects(bench.workshop, {})
    assert sorted(row["number"] for row in rows) == [f"A/000{n + 1}" for n in range(4)]
    assert {row["state"] for row in rows} == {"Raised"}


def test_two_that_read_the_same_register_in_at_once_store_each_line_once(bench, monkeypatch):
    monkeypatch.setattr(paper, "BUSY_S", 0)
    found = []

    def once(seconds):
        if not found:
            found.append(None)
            found[0] = import_register(bench.workshop, bench.new.lead, many(4))

    monkeypatch.setattr(paper, "sleep", once)
    read = import_register(bench.workshop, bench.new.lead, many(4))
    assert (read.stored, found[0].stored) == (1, 3)
    assert len(list_defects(bench.workshop, {})) == 4


def test_a_line_that_came_meanwhile_with_other_words_is_refused(bench, monkeypatch):
    monkeypatch.setattr(paper, "BUSY_S", 0)
    monkeypatch.setattr(
        paper,
        "sleep",
        lambda seconds: enter(
            bench.workshop, bench.new.lead, {**LINE, "paper_number": "2", "note": "another"}
        ),
    )
    with pytest.raises(Refused, match="A/0002 came into the book meanwhile"):
        import_register(bench.workshop, bench.new.lead, many(3))
    assert len(list_defects(bench.workshop, {})) == 2
