"""A rivet line on paper: RL-01 of the demo against its scenario."""

import json
from pathlib import Path

import pytest
from skinpin.reports.rivet_row import rivet_row

VECTORS = json.loads((Path(__file__).parents[1] / "vectors/rivet_line.json").read_text("utf-8"))
DEMO = VECTORS["demo"]["line"]
ALONG = "Rivet 1 at WS 92.5625, rivet 48 at WS 145.4375."


def shown(**changes):
    return rivet_row({"name": "RL-01", "line": DEMO | changes, "along": ALONG})


def words_of(row):
    return [item["words"] for item in row["items"] if item["what"] == "text"]


def test_the_demo_line_has_its_figures():
    told = shown()
    assert (told["title"], told["along"]) == ("Rivet line RL-01", ALONG)
    condition = {label: (found, now) for label, found, now in told["condition"]}
    assert condition["not effective"] == ("15", "12")
    assert condition["longest run"] == ("6 (holes 18–23)",) * 2
    assert condition["longest run, if those not reached are bad"] == ("7 (holes 18–24)",) * 2
    assert condition["shear share left"] == ("64.6–68.8 %", "72.7–76.8 %")
    assert condition["worst six in a row"] == ("0.0 % (holes 18–23)",) * 2
    assert told["decisions"][-1][0] == "21"
    assert told["decisions"][-1][3] == "refer to design authority"


def test_every_hole_has_its_number_and_its_letter_twice():
    rows = shown()["rows"]
    assert len(rows) == 2
    for first, row in zip((1, 25), rows, strict=True):
        words = words_of(row)
        assert words[:24] == [str(number) for number in range(first, first + 24)]
        letters = DEMO["as_found"][first - 1 : first + 23] + DEMO["as_now"][first - 1 : first + 23]
        assert [each for each in words if each in "SLWCTMDRVN"] == list(letters)


def test_a_run_over_two_rows_is_counted_once_and_bracketed_on_both():
    states = "S" * 22 + "LLLL" + "S" * 4
    first, second = shown(as_found=states, as_now="S" * 30)["rows"]
    assert words_of(first).count("4") == 2  # the number of the hole and the count of the run
    assert "4" not in words_of(second)
    medium = [item for item in second["items"] if item.get("weight") == "medium"]
    assert len(medium) == 1


def test_the_key_names_only_states_that_occur():
    assert shown(as_found="SSL", as_now="SSR")["key"].startswith("S sound · L loose · R renewed.")


@pytest.mark.parametrize("broken", [{"head": "999"}, {"as_now": "SS"}, {"sheets": None}])
def test_a_line_that_cannot_be_read_says_why_and_draws_nothing(broken):
    told = shown(**broken)
    assert told["rows"] == []
    assert told["lines"][0].startswith("It can't be worked out: ")
