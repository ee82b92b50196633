"""A standard of acceptance is looked through before it is issued: names, figures, bands."""

import copy
import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.grading import compile_standard
from skinpin.domain.standard_check import standard_troubles

ROOT = Path(__file__).parents[2]
QS7 = json.loads((ROOT / "sample_data/skinpin_demo/data/standard_qs7.json").read_text("utf-8"))
AL1 = next(at for at, row in enumerate(QS7["rows"]) if row["rule"] == "AL1")


def changed(at, **fields):
    standard = copy.deepcopy(QS7)
    standard["rows"][at] |= fields
    return standard


def first(standard):
    trouble = standard_troubles(standard)[0]
    return trouble.at, trouble.message


def test_the_standard_of_the_demo_has_no_trouble():
    assert standard_troubles(QS7) == []


@pytest.mark.parametrize(
    ("fields", "at", "words"),
    [
        ({"grade": 5}, "grade", "Row 5, AL1: the grade is none of 0 to 4."),
        ({"grade": True}, "grade", "Row 5, AL1: the grade is none of 0 to 4."),
        ({"rule": " "}, "rule", "Row 5: it has no name (rule)."),
        ({"kinds": ["pits"]}, "kinds", "Row 5, AL1: kinds is “any” or a list of known kinds."),
        ({"needs": ["deepness"]}, "needs", "Row 5, AL1: needs is a list of known fields."),
        ({"when": {"is": "perforate"}}, "when", "'perforate' is asked by no yes or no."),
        ({"when": {"word": "leak", "equals": "gush"}}, "when", "'gush' is no answer to 'leak'."),
        (
            {"when": {"figure": "deepness", "over": {"value": "1", "unit": "in"}}},
            "when",
            "deepness",
        ),
        ({"when": {"figure": "depth"}}, "when", "has no limit"),
        ({"when": {"figure": "depth", "over": {"value": "x", "unit": "in"}}}, "when", "“x”"),
        ({"when": {"any": 3}}, "when", "a condition is an object"),
        ({"basis": {"text": "x", "source": "", "marker": "source read"}}, "basis", "its source"),
        ({"basis": {"text": "x", "source": "y", "marker": "sure"}}, "basis", "one of:"),
    ],
)
def test_a_wrong_row_is_named_with_its_field(fields, at, words):
    where, message = first(changed(AL1, **fields))
    assert where == f"rows/{AL1}/{at}"
    assert words in message


def test_a_condition_within_conditions_ends_somewhere():
    when = {"is": "perforated"}
    for _ in range(5000):
        when = {"all": [when]}
    assert "at most eight deep" in first(changed(AL1, when=when))[1]


def test_a_figure_may_not_fall_between_two_bands():
    inches = {"value": "0.0005", "unit": "in"}
    _, message = first(changed(AL1, when={"figure": "depth", "at_most": inches}, text="0.0005"))
    assert message == "Row 5, AL1: just beyond 0.0005 in is no row of “AL depth”."
    mm = {"value": "0.0254", "unit": "mm"}
    made = changed(AL1, when={"figure": "depth", "at_most": mm}, text="to 0.0254 mm")
    assert standard_troubles(made) == []


def test_a_band_under_a_limit_and_one_over_it_leave_the_limit_out():
    limit = {"value": "0.001", "unit": "in"}
    where, message = first(changed(AL1, when={"figure": "depth", "under": limit}))
    assert where == f"rows/{AL1}/when"
    assert "just beyond 0.001 in" in message


def test_a_limit_that_was_changed_and_its_words_not_is_told():
    when = {"over": {"value": "0.001", "unit": "in"}, "at_most": {"value": "0.008", "unit": "in"}}
    where, message = first(changed(AL1 + 1, when={"figure": "depth", **when}))
    assert where == f"rows/{AL1 + 1}/text"
    assert message == "Row 6, AL2: its words do not name 0.008."


def test_a_middle_band_made_shorter_leaves_a_gap():
    when = {"over": {"value": "0.001", "unit": "in"}, "at_most": {"value": "0.008", "unit": "in"}}
    _, message = first(changed(AL1 + 1, when={"figure": "depth", **when}, text="0.001 to 0.008"))
    assert "AL2: just beyond 0.008 in is no row" in message


anything = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(
        st.sampled_from(["rows", "rule", "when", "any", "is", "figure", "over", "needs", "x"]),
        inner, max_size=4),
    max_leaves=12,
)  # fmt: skip


@settings(deadline=None)
@given(anything, anything)
def test_whatever_a_file_holds_it_is_told_in_sentences_and_what_passes_can_grade(value, when):
    for standard in (value, {"name": "n", "issue": "1", "rows": value}, changed(AL1, when=when)):
        troubles = standard_troubles(standard)
        assert all(one.message.endswith(".") for one in troubles)
        if not troubles:
            compile_standard(standard)
