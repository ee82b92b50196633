"""A ± that reaches a limit leaves the grade open, in both languages alike."""

import json
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.grading_doubt import grade_with_doubt
from skinpin.domain.grading_words import grade_words, open_words
from skinpin.domain.grading_worst import worst_grade

ROOT = Path(__file__).parents[2]
CASES = json.loads((ROOT / "tests/vectors/grading_doubt.json").read_text("utf-8"))["cases"]
QS7 = json.loads((ROOT / "sample_data/skinpin_demo/data/standard_qs7.json").read_text("utf-8"))

thousandths = st.integers(0, 140)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_a_figure_is_graded_with_its_doubt(case):
    grading = grade_with_doubt(case["standing"], QS7)
    assert grade_words(grading) == case["words"]
    assert open_words(grading) == case["open"]
    assert list(grading.doubted) == case["doubted"]
    assert list(grading.could_be) == case["could_be"]


def inches(thousandth: Decimal | int, doubt: int = 0) -> dict[str, object]:
    given = {"value": f"{Decimal(thousandth) / 1000:.4f}", "unit": "in"}
    return given | (
        {"uncertainty": {"value": f"{doubt / 1000:.3f}", "unit": "in"}} if doubt else {}
    )


def pit(depth: dict[str, object], thickness: dict[str, object]) -> dict[str, dict[str, object]]:
    return {"e": {"kind": "pitting", "material": "AL", "depth": depth, "thickness": thickness}}


@settings(deadline=None)
@given(
    depth=thousandths,
    doubt=st.integers(0, 20),
    thickness=st.integers(1, 140),
    doubted_thickness=st.integers(0, 20),
    shares=st.tuples(st.integers(-10, 10), st.integers(-10, 10)),
)
def test_no_value_within_the_doubt_is_above_what_the_grade_may_be(
    depth, doubt, thickness, doubted_thickness, shares
):
    graded = grade_with_doubt(pit(inches(depth, doubt), inches(thickness, doubted_thickness)), QS7)
    firm = worst_grade(pit(inches(depth), inches(thickness)), QS7)
    assert graded.grade == firm.grade
    true_depth = depth + Decimal(doubt * shares[0]) / 10
    true_thickness = thickness + Decimal(doubted_thickness * shares[1]) / 10
    if true_depth < 0 or true_thickness <= 0:
        return
    truly = worst_grade(pit(inches(true_depth), inches(true_thickness)), QS7).grade
    assert truly <= max((graded.grade, *graded.could_be))
    assert graded.known is not bool(graded.could_be)
