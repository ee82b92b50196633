"""Rows of defects, from acts to what lists and reports show."""

import json
from pathlib import Path

import pytest
from skinpin.domain.fields import counted_fields
from skinpin.domain.ledger import judge_all
from skinpin.domain.projection import defect_row
from skinpin.domain.projection_related import Related
from skinpin.domain.projection_stamped import ids_to_stamp
from skinpin.domain.same_as import Other
from skinpin.domain.stamp_words import overtaken_words, short_words
from skinpin.domain.verdicts import Known, act_of
from skinpin_sync.standing import Standing, standing

HERE = Path(__file__).parents[1]
VECTORS = json.loads((HERE / "vectors/projection.json").read_text("utf-8"))
BASE = json.loads((HERE / "vectors/judging.json").read_text("utf-8"))
DATA = HERE.parent / "sample_data/skinpin_demo/data"
DEFINITION = json.loads((DATA / "definition_2603.json").read_text("utf-8"))
STANDARD = json.loads((DATA / "standard_qs7.json").read_text("utf-8"))
KEYS = {
    *("record", "number", "also_numbers", "state", "states", "grade", "grade_known"),
    *("grade_words", "deciding", "fired", "overruled", "zone", "zones", "structure", "hand"),
    *("member", "station", "station_text", "place_words", "kind", "kind_words", "material"),
    *("part", "stage", "disposition", "deferral", "raised_on", "raised_by", "same_as"),
    *("same_as_number", "two_values", "waits", "stamps", "stamps_hold", "photographs"),
    "not_counting",
}


def book_in(case, book_of):
    blocks = [row for name in case["after"] for row in BASE["blocks"][name]]
    return book_of([*BASE["prologue"], *blocks, *case["entries"]])


def row_of(case, book, record="X"):
    grade = case.get("grade", 4)
    judged = judge_all(book.entries, Known({}, reached=lambda *_: True, grade_of=lambda *_: grade))
    pairs = [(entry, judged.verdicts[entry.id]) for entry in book.entries]

    def counts(entry):
        is_withdrawn = act_of(entry) in judged.withdrawn
        return counted_fields(entry, judged.verdicts[entry.id].counts, is_withdrawn)

    def standing_by_record(kind):
        records = {entry.record for entry in book.entries if entry.kind == kind}
        mine = {r: [e for e in book.entries if e.record == r] for r in sorted(records)}
        return {r: standing(entries, counts) for r, entries in mine.items()}

    shown = standing_by_record("photograph")
    related = Related(
        entries=[pair for pair in pairs if pair[0].record == record],
        stamps=[pair for pair in pairs if pair[0].kind == "stamp"],
        withdrawn=judged.withdrawn,
        photographs={r: one.values for r, one in shown.items() if one.values},
        marks={r: one.values for r, one in standing_by_record("mark").items()},
        scales={r: one.values for r, one in standing_by_record("scale").items()},
        measurements={r: one.values for r, one in standing_by_record("measurement").items()},
        lines={r: one.values for r, one in standing_by_record("rivet_line").items()},
        others={
            name: Other(one["number"], one["state"], tuple(one["targets"]), one["left"])
            for name, one in case.get("others", {}).items()
        },
    )
    places = later_issue(case.get("gone", []))
    documents = (places, STANDARD) if case.get("documents", True) else (None, None)
    mine = standing_by_record("defect").get(record, Standing({}))
    return defect_row(record, mine, related, *documents)


def later_issue(gone):
    """Return the demo's definition without some members of its hull."""
    hull, *others = DEFINITION["structures"]
    members = [one for one in hull["members"] if one["name"] not in gone]
    assert len(members) == len(hull["members"]) - len(gone)
    return {**DEFINITION, "structures": [{**hull, "members": members}, *others]}


def named(value, ids):
    """Put ids for '@name', nowhere else than where an entry is meant."""
    if isinstance(value, list):
        return [named(one, ids) for one in value]
    if isinstance(value, dict):
        return {key: named(one, ids) for key, one in value.items()}
    return ids[value[1:]] if isinstance(value, str) and value.startswith("@") else value


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_vector(case, book_of):
    book = book_in(case, book_of)
    row = row_of(case, book)
    assert {key: row[key] for key in case["row"]} == named(case["row"], book.ids)


@pytest.mark.parametrize(
    "case", [case for case in VECTORS["cases"] if "said" in case], ids=lambda case: case["name"]
)
def test_what_is_said_of_stamps(case, book_of):
    row = row_of(case, book_in(case, book_of))
    assert overtaken_words(row) == case["said"]
    assert [short_words(one) for one in row["stamps"]] == case["short"]


def test_every_row_has_the_same_keys_and_is_plain_json(book_of):
    rows = [row_of(case, book_in(case, book_of)) for case in VECTORS["cases"]]
    assert {tuple(row) for row in rows} == {tuple(rows[0])}
    assert set(rows[0]) >= KEYS
    assert all(json.loads(json.dumps(row)) == row for row in rows)


def test_a_record_of_which_nothing_is_known_has_a_row():
    row = defect_row("X", Standing({}), Related(), None, None)
    assert (row["state"], row["number"], row["grade_words"]) == (None, None, "Not graded ?")


def test_a_stamp_is_made_over_what_lies_on_the_photographs_too():
    lying = {
        "marks": {"mark": {"e1": {"shape": {}}}},
        "scales": {"scale": {"e2": {"points": [[1, 2], [3, 4]]}, "e3": {"unknown": 1}}},
        "measurements": {"length": {"e4": {"struck": True}}},
    }
    assert ids_to_stamp({}, Related(**lying)) == {"e1", "e2", "e4"}
