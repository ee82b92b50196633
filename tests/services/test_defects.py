"""What the defect book finds, over the loaded demo: the same words find the same on a tablet."""

import json
import shutil
from pathlib import Path

import pytest
from skinpin.app import open_workshop
from skinpin.services.defects import find_defects, list_defects
from skinpin.settings import read_settings

from tests.ready_book import ready_book

VECTORS = json.loads((Path(__file__).parents[1] / "vectors/find.json").read_text("utf-8"))


@pytest.fixture(scope="module")
def workshop(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo") / "book"
    shutil.copytree(ready_book(), folder)
    workshop = open_workshop(read_settings(folder, {"SKINPIN_TODAY": "2025-11-03"}))
    yield workshop
    workshop.close()


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda case: case["words"])
def test_words_find_in_the_demo_book(workshop, case):
    found = find_defects(workshop, case["words"], {})
    assert [row["number"] for row in found] == case["numbers"]


def test_words_are_looked_for_among_the_rows_that_meet_the_wishes(workshop):
    found = find_defects(workshop, "pitting open", {"zone": "111"})
    assert [row["number"] for row in found] == ["A/0002"]
    every = {row["record"] for row in list_defects(workshop, {"zone": "111"})}
    assert {row["record"] for row in found} < every
