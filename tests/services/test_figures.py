"""Check figures of the demo book: those that its scenario states."""

import shutil

import pytest
from skinpin.app import open_workshop
from skinpin.domain.errors import Refused
from skinpin.services.figures import check_figures
from skinpin.settings import read_settings

from tests.ready_book import ready_book

GRADES_LIVE = {0: 0, 1: 6, 2: 12, 3: 16, 4: 8, None: 0}
GRADES_OPEN = {0: 0, 1: 1, 2: 9, 3: 16, 4: 8, None: 0}
STATES = {
    "Draft": 0,
    "Raised": 10,
    "Assessed": 9,
    "In work": 9,
    "Offered": 3,
    "Cleared": 9,
    "Deferred": 3,
    "Same as": 1,
    "Raised in error": 1,
}
KINDS = [("pitting", 11, "26.2"), ("surface corrosion", 6, "40.5"), ("loose rivets", 4, "50.0")]


@pytest.fixture(scope="module")
def figures(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo") / "book"
    shutil.copytree(ready_book(), folder)
    workshop = open_workshop(read_settings(folder, {"SKINPIN_TODAY": "2025-11-03"}))
    yield check_figures(workshop)
    with pytest.raises(Refused, match="0 airframes"):
        check_figures(workshop, "2605")
    workshop.close()


def by(bars, name):
    return {bar[name]: bar["count"] for bar in bars}


def test_figures_of_the_demo_are_those_of_its_scenario(figures):
    assert figures["as_at"] == "2025-11-03"
    assert (figures["records"]["count"], figures["open"]["count"]) == (45, 34)
    assert by(figures["states"], "state") == STATES
    assert figures["live"]["count"] == 42
    assert by(figures["live_by_grade"], "grade") == GRADES_LIVE
    assert by(figures["open_by_grade"], "grade") == GRADES_OPEN
    assert [bar["count"] for bar in figures["open_by_age"]] == [5, 3, 10, 16, 0]
    kinds = [(bar["kind"], bar["count"], bar["running_percent"]) for bar in figures["kinds"]]
    assert kinds[:3] == KINDS
    assert [count for _, count, _ in kinds[3:]] == [2] * 4 + [1] * 13
    clearing = figures["days_to_clear"]
    assert (clearing["days"], clearing["median"]) == ([0, 7, 14, 56, 70, 77, 77, 126], "63")
    assert figures["deferred"]["count"] == 3
    assert figures["left_out"] == {"nil": 1, "same_as": 1, "raised_in_error": 1, "draft": 0}


def test_every_bar_names_as_many_records_as_it_counts(figures):
    bars = [*figures["states"], *figures["open_by_age"], *figures["kinds"], figures["open"]]
    assert all(len(set(bar["records"])) == bar["count"] for bar in bars)
