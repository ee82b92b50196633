import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.figures import day_number, figures

VECTORS = Path(__file__).parents[1] / "vectors"
DEMO = json.loads((VECTORS / "demo_rows.json").read_text("utf-8"))
CASES = json.loads((VECTORS / "figures.json").read_text("utf-8"))


def counts(bars, key):
    return {bar[key]: bar["count"] for bar in bars}


def test_the_demo_has_the_check_figures():
    told = figures(DEMO["rows"], DEMO["today"])
    assert told == CASES["demo"]
    assert (told["records"]["count"], told["open"]["count"], told["live"]["count"]) == (45, 34, 42)
    states = counts(told["states"], "state")
    assert {state: count for state, count in states.items() if count} == {
        "Raised": 10,
        "Assessed": 9,
        "In work": 9,
        "Offered": 3,
        "Deferred": 3,
        "Cleared": 9,
        "Same as": 1,
        "Raised in error": 1,
    }
    assert counts(told["live_by_grade"], "grade") == {0: 0, 1: 6, 2: 12, 3: 16, 4: 8, None: 0}
    assert counts(told["open_by_grade"], "grade") == {0: 0, 1: 1, 2: 9, 3: 16, 4: 8, None: 0}
    assert [bar["count"] for bar in told["open_by_age"]] == [5, 3, 10, 16, 0]
    kinds = [(bar["kind"], bar["count"], bar["running_percent"]) for bar in told["kinds"]]
    assert kinds[:3] == [
        ("pitting", 11, "26.2"),
        ("surface corrosion", 6, "40.5"),
        ("loose rivets", 4, "50.0"),
    ]
    twice = [(kind, count) for kind, count, _ in kinds[3:7]]
    assert twice == [("crack", 2), ("dent", 2), ("leak", 2), ("wrong part", 2)]
    assert [count for _, count, _ in kinds[7:]] == [1] * 13
    assert told["days_to_clear"]["days"] == [0, 7, 14, 56, 70, 77, 77, 126]
    assert told["days_to_clear"]["median"] == "63"


@pytest.mark.parametrize("case", CASES["cases"], ids=lambda case: case["name"])
def test_figures_agree_with_the_shared_vectors(case):
    rows = [{**CASES["base"], **row} for row in case["rows"]]
    told = figures(rows, case["today"])
    assert {key: told[key] for key in case["figures"]} == case["figures"]


@pytest.mark.parametrize("case", CASES["days"], ids=str)
def test_a_date_is_a_day_or_none(case):
    assert day_number(case["text"]) == case["day"]


dates = st.sampled_from([None, "", "2025-02-30", "2025-03-08", "2025-10-04", "2025-11-03", "2026"])
states = ["Draft", "Raised", "Assessed", "Deferred", "Cleared", "Same as", "Raised in error", None]
rows = st.lists(
    st.fixed_dictionaries(
        {
            "state": st.sampled_from(states),
            "kind": st.sampled_from([None, "pitting", "crack", "nil"]),
            "grade": st.sampled_from([None, 0, 3, 4, 7]),
            "raised_on": dates,
            "cleared_on": dates,
        }
    ),
    max_size=30,
).map(lambda made: [{**row, "record": f"r{at}"} for at, row in enumerate(made)])


@settings(deadline=None)
@given(rows)
def test_bands_and_grades_sum_to_open_and_bars_count_what_they_open(made):
    told = figures(made, "2025-11-03")
    opened = sorted(told["open"]["records"])
    for bars in ("open_by_grade", "open_by_age"):
        assert sorted(record for bar in told[bars] for record in bar["records"]) == opened
    assert sorted(record for bar in told["kinds"] for record in bar["records"]) == sorted(
        told["live"]["records"]
    )
    groups = ["states", "live_by_grade", "open_by_grade", "open_by_age", "kinds"]
    for bar in [bar for group in groups for bar in told[group]] + [told["days_to_clear"]]:
        assert bar["count"] == len(bar["records"])
    if told["kinds"]:
        small = told["live"]["count"] < 20
        assert told["kinds"][-1]["running_percent"] == (None if small else "100.0")
