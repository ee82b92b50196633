"""What is said of a record that was cleared and whose stamps do not hold."""

import json
from pathlib import Path

import pytest
from skinpin.domain.stamp_words import overtaken_words

VECTORS = json.loads((Path(__file__).parents[1] / "vectors/stamp_words.json").read_text("utf-8"))


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_vector(case):
    assert overtaken_words(case["row"]) == case["said"]
