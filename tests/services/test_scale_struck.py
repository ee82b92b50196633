"""A figure from a photograph counts no longer once its scale is struck, whatever came first."""

import itertools
from pathlib import Path

import pytest
from skinpin.services.defects import list_defects
from skinpin.storage.records import records_of_kind
from skinpin_sync.chain import Draft

from tests.benches import set_up

ROOT = Path(__file__).parents[2]
QS7 = (ROOT / "sample_data/skinpin_demo/data/standard_qs7.json").read_bytes()
POINTS = [[0, 0], [1000, 0]]
INCH = {"value": "1", "unit": "in"}
WIDTH = {"value": "0.30", "unit": "in", "method": "photograph", "measurement": "m1"}


@pytest.fixture
def book(workshop):
    """A book with a dent whose width decides: 0.02 deep in 0.30 is 0.067, over 0.05."""
    return set_up(workshop, standard=QS7)


def written(book):
    """Return the acts of two tablets by name: what is measured, used, and struck meanwhile."""
    pin = {"name": "QS-7", "issue": "1"}
    with book.workshop.reading() as connection:
        [standard] = records_of_kind(connection, "standard")
    pin["sha256"] = next(
        one["sha256"] for one in standard.standing.values.values() if "sha256" in one
    )
    first, second = book.tablet("tableta1"), book.tablet("tabletb1")
    relies = [book.role_entry]
    dent = {
        **{"number": "A/0001", "airframe": book.new.airframe, "kind": "dent", "material": "AL"},
        **{"depth": {"value": "0.02", "unit": "in"}, "standard": pin, "creased": False},
        "on_member": False,
    }
    scale = {"photograph": "p1", "method": "two points", "points": POINTS, "length": INCH}
    measured = {"photograph": "p1", "scale": "s1", "shape": "length", "points": POINTS}
    return {
        "measured": first.write(
            Draft("d1", "defect", dent, relies=relies),
            Draft("p1", "photograph", {"defect": "d1", "role": "close"}, relies=relies),
            Draft("s1", "scale", scale, relies=relies),
            Draft("m1", "measurement", measured, relies=relies),
        ),
        "used": first.write(Draft("d1", "defect", {"width": WIDTH}, relies=relies)),
        "struck": second.write(Draft("s1", "scale", {"struck": True}, relies=relies, why="bent")),
    }


def row_of(book):
    [row] = list_defects(book.workshop, {})
    return row


def test_a_figure_whose_scale_stands_is_graded_on(book):
    acts = written(book)
    book.push(acts["measured"] + acts["used"])
    assert (row_of(book)["grade"], row_of(book)["not_counting"]) == (2, [])


@pytest.mark.parametrize("order", list(itertools.permutations(["measured", "used", "struck"])))
def test_once_it_is_struck_the_figure_is_told_and_not_graded_on(book, order):
    acts = written(book)
    for name in order:
        book.push(acts[name])
    row = row_of(book)
    assert row["grade_words"] == "Not graded ?"
    assert row["missing"] == ["width"]
    [told] = row["not_counting"]
    assert told["code"] == "scale struck"
    assert told["reason"].startswith("Width 0.30 in was measured on a photograph")
