"""A figure rests on its measurement, its scale and its photograph: without them it is none."""

import json
from pathlib import Path

import pytest
from skinpin.domain.scale_struck import fallen, fallen_figures, fallen_in, without_fallen

ROOT = Path(__file__).parents[2]
CASES = json.loads((ROOT / "tests/vectors/scale_struck.json").read_text("utf-8"))["cases"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_what_a_figure_rests_on(case):
    gone = fallen(case["measurements"], case["scales"], case["photographs"])
    assert sorted(gone) == case["gone"]
    told = fallen_figures(case["values"], gone)
    assert [[one["entry"], one["reason"]] for one in told] == case["told"]
    assert fallen_in({"not_counting": told}) == {one["measurement"] for one in told} <= gone
    left = without_fallen(case["values"], gone)
    assert fallen_figures(left, gone) == []
    assert (left == case["values"]) is (case["told"] == [])
