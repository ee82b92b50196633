"""What is told with a figure from a photograph long after it was taken."""

import json
from pathlib import Path

import pytest
from skinpin.domain.photo_warnings import figure_warnings

ROOT = Path(__file__).parents[2]
CASES = json.loads((ROOT / "tests/vectors/photo_warnings.json").read_text("utf-8"))["cases"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_the_warnings_of_a_figure(case):
    told = figure_warnings(case["measurement"], case["scale"], case["photograph"])
    assert told == case["words"]
