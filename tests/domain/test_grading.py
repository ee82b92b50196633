import json
import random
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.cautions import CAUTIONS, cautions_for
from skinpin.domain.errors import Refused
from skinpin.domain.fields import FIELDS
from skinpin.domain.grading import compile_standard, grade, refuse_figures
from skinpin.domain.grading_figures import unreadable
from skinpin.domain.grading_words import deciding_words, grade_words, open_words
from skinpin.domain.grading_worst import worst_grade
from skinpin.domain.kinds import (
    ASKED,
    KINDS,
    MATERIALS,
    WORDING,
    commonest_kinds,
    dispositions_for,
    fields_for,
)

ROOT = Path(__file__).parents[2]
VECTORS = json.loads((ROOT / "tests/vectors/grading.json").read_text("utf-8"))
QS7 = json.loads((ROOT / "sample_data/skinpin_demo/data/standard_qs7.json").read_text("utf-8"))
MARKERS = {
    "source read",
    "source read, secondary",
    "from memory",
    "workshop's own",
    "common practice, no source",
}
lengths = st.builds(
    lambda value, unit: {"value": value, "unit": unit},
    st.sampled_from(["0.001", "0.010", "0.0101", "0.02", "0.040", "0.254", "1.016", "2"]),
    st.sampled_from(["in", "mm"]),
)
yes_no = st.sampled_from([True, False, None])
records = st.fixed_dictionaries(
    {"kind": st.sampled_from(list(KINDS)), "material": st.sampled_from([*MATERIALS, None])},
    optional={
        **{
            name: lengths | st.just("not measured")
            for name in ("depth", "thickness", "length", "width", "hole_major", "hole_minor")
        },
        **{name: yes_no for name, row in ASKED.items() if row["type"] == "yes_no"},
        "run": st.integers(1, 4),
        "leak": st.sampled_from(["weep", "running"]),
        "cleaned": st.sampled_from(["yes", "partly", "not yet"]),
        "panel_percent": st.sampled_from(["25", "25.1"]),
        "strength_percent": st.sampled_from(["69.9", "70"]),
        "shear_share_percent": st.sampled_from(["49", "50", "74", "75"]),
    },
)


def named(case):
    return case.get("number") or case.get("name") or str(case)


@pytest.mark.parametrize("case", VECTORS["demo"], ids=named)
def test_every_demo_record_has_its_grade_and_reasons(case):
    grading = grade(case["values"], QS7)
    assert (grading.grade, grading.known) == (case["grade"], case["known"])
    assert grade_words(grading) == case["words"]
    assert [[f.rule, f.reason] for f in grading.fired if f.deciding] == case["deciding"]
    assert [[f.rule, f.reason] for f in grading.fired if not f.deciding] == case["others"]


def test_there_are_forty_five_demo_records_of_every_grade():
    assert len({case["number"] for case in VECTORS["demo"]}) == 45
    assert {case["grade"] for case in VECTORS["demo"]} == {0, 1, 2, 3, 4}


@pytest.mark.parametrize("case", VECTORS["cases"], ids=named)
def test_limits_and_gaps_are_graded_as_the_standard_says(case):
    grading = grade(case["values"], QS7)
    assert grade_words(grading) == case["words"]
    assert [[f.rule, f.reason] for f in grading.fired if f.deciding] == case["deciding"]
    assert list(grading.missing) == case.get("missing", [])
    assert list(grading.could_be) == case.get("could_be", [])
    if "open" in case:
        assert open_words(grading) == case["open"]
    if "hand_off" in case:
        assert grading.hand_off is case["hand_off"]


@pytest.mark.parametrize("case", VECTORS["made"]["cases"], ids=named)
def test_a_standard_may_ask_whether_it_was_cleaned(case):
    grading = grade(case["values"], VECTORS["made"]["standard"])
    assert (grade_words(grading), open_words(grading)) == (case["words"], case["open"])


@pytest.mark.parametrize("case", VECTORS["worst"], ids=named)
def test_where_two_values_stand_the_worse_counts(case):
    grading = worst_grade(case["standing"], QS7)
    assert grade_words(grading) == case["words"]
    assert grading.must_choose is case.get("must_choose", False)
    if "deciding" in case:
        assert [[f.rule, f.reason] for f in grading.fired if f.deciding] == case["deciding"]
    if "could_be" in case:
        assert list(grading.could_be) == case["could_be"]


@pytest.mark.parametrize("case", VECTORS["fields"], ids=named)
def test_a_kind_asks_for_its_fields_in_order(case):
    asked = fields_for(case["kind"], case["material"])
    assert [row["field"] for row in asked] == case["fields"]


@pytest.mark.parametrize("case", VECTORS["refused"], ids=named)
def test_figures_that_cannot_be_true_together_are_refused(case):
    if case["code"] is None:
        refuse_figures(case["values"])
        return
    with pytest.raises(Refused) as refused:
        refuse_figures(case["values"])
    assert refused.value.code == case["code"]


def test_a_depth_past_the_thickness_is_told_what_to_enter():
    with pytest.raises(Refused, match=r"0\.065 in is deeper than the plate is thick.*perforated"):
        refuse_figures(VECTORS["refused"][0]["values"])


def test_every_row_of_the_standard_is_reached_by_a_vector():
    graded = [grade(case["values"], QS7) for part in ("demo", "cases") for case in VECTORS[part]]
    fired = {fired.rule for grading in graded for fired in grading.fired}
    assert fired == {row["rule"] for row in QS7["rows"]}


def test_every_row_says_truthfully_where_it_comes_from():
    for row in QS7["rows"]:
        assert row["basis"]["marker"] in MARKERS, row["rule"]
        assert row["basis"]["text"], row["rule"]
        assert row["basis"]["source"], row["rule"]
        assert set(row["needs"]).isdisjoint(row["uses"]), row["rule"]


def test_kinds_fields_and_cautions_name_each_other_rightly():
    kinds = {kind for row in QS7["rows"] for kind in row["kinds"]}
    assert kinds == set(KINDS)
    for kind in KINDS:
        for row in fields_for(kind):
            assert row["field"] in FIELDS["defect"]
            assert row["label"]
        assert {row["caution"] for row in cautions_for(kind)} <= set(CAUTIONS)
        assert dispositions_for(kind)
    assert cautions_for("leak", confined=True)[0]["caution"] == "confined_space"
    assert len(commonest_kinds()) == 8


def test_every_input_of_the_standard_is_asked_of_some_kind():
    asked = {row["field"] for kind in KINDS for row in fields_for(kind)}
    inputs = set(compile_standard(QS7).inputs)
    assert inputs - asked == {"kind", "material", "shear_share_percent"}


def test_the_safety_wording_stands_word_for_word():
    assert WORDING["short"] == "Sorting aid, not approved data"
    assert WORDING["full"] == (
        "Workshop record and sorting aid. Not approved repair data. Grades and strength shares do "
        "not release any part or aircraft for flight."
    )


@pytest.mark.parametrize(
    ("row", "code"),
    [
        ({"when": {"sparkles": True}}, "unknown_condition"),
        ({"when": {"figure": "depth"}}, "no_limit"),
        ({"when": {"figure": "girth", "over": {"value": "1", "unit": "in"}}}, "unknown_figure"),
        ({"when": {"figure": "depth", "over": {"value": "x", "unit": "in"}}}, "not_a_figure"),
        ({"when": None}, "not_a_standard"),
    ],
)
def test_a_standard_that_cannot_be_read_is_refused(row, code):
    broken = {**QS7, "rows": [{**QS7["rows"][0], **row}]}
    with pytest.raises(Refused) as refused:
        compile_standard(broken)
    assert refused.value.code == code


def test_a_new_issue_is_read_anew_and_leaves_the_old_one_alone():
    stricter = json.loads(json.dumps(QS7))
    stricter["issue"] = "2"
    for row in stricter["rows"]:
        if row["rule"] == "AL2":
            row["grade"] = 3
    values = VECTORS["demo"][0]["values"]
    assert [grade(values, each).grade for each in (QS7, stricter, QS7)] == [2, 3, 2]


def test_deciding_reasons_stand_on_one_line():
    grading = grade(next(c for c in VECTORS["demo"] if c["number"] == "A/0002")["values"], QS7)
    assert deciding_words(grading) == (
        "AL3: depth 0.011 in > 0.010 in; AL4: loss 17.2 % > 10 % of 0.064 in"
    )
    assert open_words(grading) == ""


@settings(deadline=None, max_examples=40)
@given(records, st.randoms(use_true_random=False))
def test_the_order_of_entry_changes_nothing(values, shuffler):
    items = list(values.items())
    shuffler.shuffle(items)
    assert grade(dict(items), QS7) == grade(values, QS7)


@settings(deadline=None, max_examples=40)
@given(records)
def test_both_units_give_one_grade(values):
    other = {name: _in_millimetres(value) for name, value in values.items()}
    first, second = grade(values, QS7), grade(other, QS7)
    assert (first.grade, first.known, first.missing, first.could_be) == (
        second.grade,
        second.known,
        second.missing,
        second.could_be,
    )


def _in_millimetres(value):
    if isinstance(value, dict) and value["unit"] == "in":
        tenths = round(float(value["value"]) * 254_000_000)
        return {"value": f"{tenths // 10_000_000}.{tenths % 10_000_000:07d}", "unit": "mm"}
    return value


@settings(deadline=None, max_examples=40)
@given(records)
def test_what_is_not_measured_never_reads_lower_than_the_truth(values):
    whole = grade(values, QS7)
    for field in ("depth", "thickness", "width", "hole_minor", "run"):
        part = grade({**values, field: "not measured"}, QS7)
        if part.known and whole.known and KINDS[values["kind"]].get("depth") == "loss":
            assert part.grade >= min(whole.grade, 2)
        if whole.known and not part.known:
            assert max([*part.could_be, part.grade or 0]) >= whole.grade


def test_a_loose_rivet_is_graded_without_a_figure():
    grading = grade({"kind": "loose rivets", "length": COPIED[0]}, QS7)
    assert (grading.grade, grading.known, grading.missing) == (2, False, ("run",))


COPIED = (
    {"value": "0.04", "unit": "in", "copied_from": "D/0001"},
    {"value": "0.001", "unit": "in", "method": "as D/0001, not measured here"},
    {"value": "1.016", "unit": "mm", "copied_from": "D/0001"},
)
hints = st.dictionaries(
    st.sampled_from(("depth", "thickness", "length", "width", "hole_major", "hole_minor")),
    st.sampled_from(COPIED),
)
by_entry = st.lists(st.tuples(records, hints), min_size=1, max_size=3)


@settings(deadline=None, max_examples=150)
@given(by_entry, st.booleans())
def test_a_copied_figure_is_none_beside_a_measured_one_and_unreadable_alone(entries, hints_first):
    with_hints, without = {}, {}
    for at, (measured, copied) in enumerate(entries):
        own = {name: value for name, value in measured.items() if not at or name != "kind"}
        # The same field may be copied in one entry and measured in another, before or after it.
        with_hints[f"e{at}{'b' if hints_first else 'a'}"] = own
        with_hints[f"e{at}{'a' if hints_first else 'b'}"] = copied
        without[f"e{at}{'b' if hints_first else 'a'}"] = own
        without[f"e{at}{'a' if hints_first else 'b'}"] = dict.fromkeys(copied, "?")
    measured = {
        field
        for values in without.values()
        for field, value in values.items()
        if isinstance(value, dict)
    }
    for values in without.values():
        for field in measured:
            if values.get(field) == "?":
                del values[field]
    assert _but_unreadable(worst_grade(with_hints, QS7)) == _but_unreadable(
        worst_grade(without, QS7)
    )
    first, copied = entries[0]
    unread = {**first, **dict.fromkeys(copied, "?")}
    assert _but_unreadable(grade({**first, **copied}, QS7)) == _but_unreadable(grade(unread, QS7))


def _but_unreadable(grading):
    return grading._replace(unreadable=())


@settings(deadline=None, max_examples=400)
@given(records, st.data())
def test_a_copied_figure_never_gives_a_firm_grade_lower_than_a_measured_one(values, data):
    figures = [field for field, value in values.items() if isinstance(value, dict)]
    if not figures:
        return
    field = data.draw(st.sampled_from(figures))
    copied = grade({**values, field: {**values[field], "copied_from": "D/0001"}}, QS7)
    whole = grade(values, QS7)
    assert (whole.grade or 0) <= max([*copied.could_be, copied.grade or 0])
    if copied.known:
        assert copied.grade >= (whole.grade or 0)


junk = st.sampled_from(["3 thou", "1.00000001", "-2", "yes", "", [1], {"value": "x", "unit": "in"}])


@settings(deadline=None, max_examples=60)
@given(records, st.sampled_from(compile_standard(QS7).inputs), junk)
def test_what_cannot_be_read_never_reads_lower_than_anything_it_may_stand_for(values, field, odd):
    if field in ("kind", "material") or not unreadable({field: odd}, field):
        return
    part = grade({**values, field: odd}, QS7)
    if field in values and not unreadable(values, field) and values[field] != "not measured":
        whole = grade(values, QS7)
        assert (whole.grade or 0) <= max([*part.could_be, part.grade or 0])
    if part.could_be and field in part.missing:
        assert field in part.unreadable
        assert "cannot be read" in open_words(part)


@settings(deadline=None, max_examples=40)
@given(records)
def test_a_grade_is_known_just_when_no_higher_one_is_open(values):
    grading = grade(values, QS7)
    assert grading.known is (grading.grade is not None and not grading.could_be)
    assert all(grading.grade is None or above > grading.grade for above in grading.could_be)
    assert all(fired.deciding is (fired.grade == grading.grade) for fired in grading.fired)
    assert max([f.grade for f in grading.fired], default=None) == grading.grade


@settings(deadline=None, max_examples=40)
@given(records, records)
def test_the_worst_is_no_better_than_either_of_two_records(first, second):
    worst = worst_grade({"e1": first, "e2": second}, QS7)
    if worst.must_choose:
        assert not worst.known
        return
    for values in (first, {**first, **second}):
        single = grade(values, QS7)
        assert (worst.grade if worst.grade is not None else -1) >= (
            single.grade if single.grade is not None else -1
        )


def test_the_worst_does_not_hang_on_the_order_of_entries():
    standing = VECTORS["worst"][2]["standing"]
    names = list(standing)
    random.Random(4).shuffle(names)
    assert worst_grade({name: standing[name] for name in names[::-1]}, QS7) == worst_grade(
        {name: standing[name] for name in names}, QS7
    )
