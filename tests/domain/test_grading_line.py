"""The grade as the rivet lines of a defect make it."""

import json
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from skinpin.domain.grading_line import UNREAD, grade_with_lines, line_inputs
from skinpin.domain.grading_words import open_words
from skinpin.domain.grading_worst import worst_grade
from skinpin.domain.quantities import MILLION, scaled
from skinpin.domain.rivet_line import rivet_line

ROOT = Path(__file__).parents[2]
VECTORS = json.loads((ROOT / "tests/vectors/grading_line.json").read_text("utf-8"))
QS7 = json.loads((ROOT / "sample_data/skinpin_demo/data/standard_qs7.json").read_text("utf-8"))
BASE = VECTORS["base"]
states = st.text("SSSSLWCTMDNRV", min_size=1, max_size=14)
anything = st.recursive(
    st.sampled_from([None, True, 0, -3, 2**53 - 1, "", "S", "1/8", "470", "__proto__", "hole"]),
    lambda inner: (
        st.lists(inner, max_size=2)
        | st.dictionaries(st.sampled_from([*BASE, "1", "2", "fitted", "value", "unit"]), inner)
    ),
    max_leaves=8,
)


def lines_of(case):
    def filled(one):
        return {**one, "design": BASE} if one.get("design") == "base" else one

    return {
        record: {id: filled(one) for id, one in values.items()}
        for record, values in case["lines"].items()
    }


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_vector(case):
    lines = lines_of(case)
    assert line_inputs(lines) == case["inputs"]
    graded = grade_with_lines({"e1": case["values"]}, lines, QS7)
    found = {
        "grade": graded.grade,
        "known": graded.known,
        "fired": [[one.rule, one.reason] for one in graded.fired],
        "missing": list(graded.missing),
        "could_be": list(graded.could_be),
        "unjudged": list(graded.unjudged),
    }
    assert found == {name: case[name] for name in found}
    if case["open"]:
        assert open_words(graded) == case["open"]


@settings(deadline=None, print_blob=True)
@given(found=states)
@example(found="NLLNNSLLLTN")
def test_share_and_run_are_those_of_the_survey_as_found(found):
    survey = rivet_line({**BASE, "as_found": found, "as_now": found})["as_found"]
    given = line_inputs({"R": {"e": {"design": BASE, "as_found": found}}})
    assert given["shear_share_percent"] == [survey["share"]["low"]]
    runs = [survey[name]["length"] for name in ("run", "possible_run")]
    assert given["run"] == sorted(set(runs))


@settings(deadline=None, print_blob=True)
@given(all_found=st.lists(states, max_size=4), run=st.none() | st.integers(0, 5))
def test_another_line_never_lowers_what_the_grade_may_be(all_found, run):
    values = {"e1": {"kind": "loose rivets", "material": "AL", "run": run}}
    before = -1
    for count in range(len(all_found) + 1):
        lines = {
            str(at): {"e": {"design": BASE, "as_found": found}}
            for at, found in enumerate(all_found[:count])
        }
        graded = grade_with_lines(values, lines, QS7)
        shares = [scaled(one, MILLION) for one in line_inputs(lines).get("shear_share_percent", ())]
        assert shares == sorted(shares)[:1]
        least = -1 if graded.grade is None else graded.grade
        assert least >= before
        assert graded.known == (not graded.could_be)
        before = least


@settings(deadline=None, print_blob=True)
@given(values=st.dictionaries(st.sampled_from(["l1", "l2"]), anything | st.none(), max_size=2))
def test_whatever_a_line_holds_it_is_graded_and_never_below_what_was_typed(values):
    own = {"e1": {"kind": "loose rivets", "material": "AL", "run": 2}}
    fields = {
        id: {"design": one, "as_found": one if isinstance(one, str) else "LS", "holes": one}
        for id, one in values.items()
    }
    graded = grade_with_lines(own, {"R": fields}, QS7)
    assert graded.grade >= worst_grade(own, QS7).grade
    unread = UNREAD in line_inputs({"R": fields}).get("shear_share_percent", ())
    assert graded.known != (unread and graded.grade < 4)


def test_past_sixty_four_combinations_the_share_is_open():
    values = {
        str(at): {"as_found": "S" * (at + 1), "design": {**BASE, "note": at}} for at in range(9)
    }
    assert line_inputs({"R": values})["shear_share_percent"] == ["100.0", UNREAD]
