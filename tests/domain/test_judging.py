"""Verdicts of the shared vectors."""

import json
from pathlib import Path

import pytest
from skinpin.domain.judging import judge
from skinpin.domain.ledger import judge_all
from skinpin.domain.verdicts import COUNTS, Known, Needs, Verdict, act_of

VECTORS = json.loads((Path(__file__).parents[1] / "vectors/judging.json").read_text("utf-8"))


def known_of(case, book):
    reached = {book.ids[name] for name in case.get("reached", book.ids)}
    refused = {tuple(one) for one in case.get("refused", [])}
    return Known(
        entries={},
        reached=lambda entry, ends: entry.id in reached,
        grade_of=lambda values, pins: grade_of(case, values),
        root=book.ids[case["root"]] if "root" in case else None,
        refused=lambda writer, n: (writer, n) in refused,
    )


def grade_of(case, values):
    """Return the grade a case says, or the one it says of values with a field."""
    given = [grade for field, grade in case.get("grade_with", {}).items() if field in values]
    return given[0] if given else case.get("grade", 4)


def rows_of(case):
    blocks = [row for name in case["after"] for row in VECTORS["blocks"][name]]
    return [*VECTORS["prologue"], *blocks, *case["entries"]]


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_vector(case, book_of):
    book = book_of(rows_of(case))
    judged = judge_all(book.entries, known_of(case, book))
    found = {name: judged.verdicts[book.ids[name]] for name in case["verdicts"]}
    expected = {
        name: verdict if isinstance(verdict, str) else tuple(verdict)
        for name, verdict in case["verdicts"].items()
    }
    assert {
        name: one.result if one.counts else (one.result, one.code) for name, one in found.items()
    } == expected, {name: one.reason for name, one in found.items()}
    for name, reason in case.get("reasons", {}).items():
        assert judged.verdicts[book.ids[name]].reason == reason
    acts = {book.ids[row["name"]]: row.get("act", row["name"]) for row in rows_of(case)}
    withdrawn = {name for name in acts.values() if ("tableta1", name) in judged.withdrawn}
    assert withdrawn == set(case.get("withdrawn", []))


def test_every_verdict_that_does_not_count_says_why(book_of):
    for case in VECTORS["cases"]:
        book = book_of(rows_of(case))
        for verdict in judge_all(book.entries, known_of(case, book)).verdicts.values():
            assert verdict.counts == (verdict.reason == "")
            assert verdict.counts or verdict.reason.endswith(".")


def test_judge_asks_for_what_it_must_see_and_no_more(book_of):
    case = next(c for c in VECTORS["cases"] if c["name"].startswith("a defect goes"))
    book = book_of(rows_of(case))
    by_id = {entry.id: entry for entry in book.entries}
    raised = by_id[book.ids["raise"]]
    act = [entry for entry in book.entries if act_of(entry) == act_of(raised)]
    asked = judge(raised, act, Known({}))
    names = ("new", "kind", "photo", "role-inspector-1")
    assert asked == Needs(tuple(sorted(book.ids[name] for name in names)))
    entries = {id: (by_id[id], COUNTS) for id in asked.ids}
    assert judge(raised, act, Known(entries)) == Needs(people=("inspector-1",))
    people = {"inspector-1": [entries[book.ids["role-inspector-1"]]]}
    assert judge(raised, act, Known(entries, people)) == COUNTS


def test_an_entry_not_yet_here_is_waited_for_by_its_id(book_of):
    case = next(c for c in VECTORS["cases"] if c["name"].startswith("a defect goes"))
    book = book_of(rows_of(case))
    by_id = {entry.id: entry for entry in book.entries}
    raised = by_id[book.ids["raise"]]
    entries = {id: (by_id[id], COUNTS) for id in raised.relies}
    verdict = judge(
        raised, [raised], Known(entries | dict.fromkeys(map(book.ids.get, ["new", "kind"])))
    )
    assert isinstance(verdict, Verdict)
    assert (verdict.result, verdict.waits_for) == (
        "waits",
        (book.ids["new"], book.ids["kind"]),
    )
