import json
from fractions import Fraction
from itertools import combinations
from pathlib import Path
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.kinds import KINDS
from skinpin.domain.pairs import pairs

ROOT = Path(__file__).parents[2]
VECTORS = json.loads((ROOT / "tests/vectors/pairs.json").read_text("utf-8"))
DEMO = json.loads((ROOT / "tests/vectors/demo_rows.json").read_text("utf-8"))["rows"]
DATA = ROOT / "sample_data/skinpin_demo/data"
DEFINITION = json.loads((DATA / "definition_2603.json").read_text("utf-8"))
HULL = DEFINITION["structures"][0]
STATIONS = {member["name"]: Fraction(member["station"]) for member in HULL["members"]}


def told(found):
    return [[pair.query, *pair.records, pair.reason, pair.decided] for pair in found]


def asked(rows):
    return {(pair.query, frozenset(pair.records)) for pair in pairs(rows, DEFINITION)}


def test_the_demo_has_two_candidates_and_one_wrong_hand():
    found = pairs(DEMO, DEFINITION)
    assert [(pair.query, *pair.numbers) for pair in found] == [
        ("same defect", "A/0002", "B/0015"),
        ("same defect", "A/0008", "B/0019"),
        ("wrong hand", "A/0011", "B/0016"),
    ]
    assert told(found) == VECTORS["demo"]
    assert found[0].reason == (
        "B/0015 lies 0.5 in aft. Same hand, strakes and kind; asked up to 5.65 in."
    )


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_pairs_agree_with_the_shared_vectors(case):
    rows = [{**VECTORS["base"], **row} for row in case["rows"]]
    decisions = case.get("decisions", [])
    assert told(pairs(rows, DEFINITION, decisions)) == case["pairs"]
    Random(3).shuffle(rows)
    assert told(pairs(rows, DEFINITION, decisions)) == case["pairs"]


def test_without_a_definition_nothing_is_near():
    assert pairs(DEMO, None) == []


quarters = st.integers(-2, 12).map(lambda steps: f"{steps * 0.25:.2f}")
tenths = st.sampled_from(["-10", "0", "12.7", "25.4", "50.8", "50.9"])
quantities = st.builds(lambda value: {"value": value, "unit": "in"}, quarters) | st.builds(
    lambda value: {"value": value, "unit": "mm"}, tenths
)
places = st.fixed_dictionaries(
    {
        "structure": st.just("Hull"),
        "hand": st.sampled_from("PSC"),
        "member": st.sampled_from(["F12", "F12A", "F13"]),
        "offset": quantities,
        "strakes": st.sampled_from([["K"], ["K", "B1"], ["B1", "B3"], ["B2"], ["C", "B3"], []]),
    }
)
rows = st.lists(
    st.fixed_dictionaries(
        {
            "place": places,
            "kind": st.sampled_from(["pitting", "exfoliation", "crack", "nil"]),
            "part": st.sampled_from([None, "keel", "Keel"]),
            "length": st.none() | quantities,
        }
    ),
    max_size=12,
).map(
    lambda made: [
        {**VECTORS["base"], **row, "record": f"r{at}", "number": f"A/{at + 1:04d}"}
        for at, row in enumerate(made)
    ]
)


def inches(quantity):
    if quantity is None:
        return Fraction(0)
    return Fraction(quantity["value"]) / (1 if quantity["unit"] == "in" else Fraction("25.4"))


def lines(row):
    at = [HULL["strakes"].index(strake) for strake in row["place"]["strakes"]]
    return set(range(min(at), max(at) + 1)) if at else set()


def hand(row):
    return "C" if lines(row) == {0} else row["place"]["hand"]


def station_of(row):
    return STATIONS[row["place"]["member"]] + inches(row["place"]["offset"])


def nearest(row):
    """Return the member at or before a row, whatever member it was entered by."""
    names = sorted(STATIONS, key=STATIONS.get)
    return ([names[0]] + [name for name in names if STATIONS[name] <= station_of(row)])[-1]


def beside(row):
    part = (row["part"] or "").lower()
    return ("part", part) if part else ("member", nearest(row))


def is_same(a, b):
    if hand(a) != hand(b) or KINDS[a["kind"]]["group"] != KINDS[b["kind"]]["group"]:
        return False
    both = bool(lines(a)), bool(lines(b))
    if both == (True, True):
        meets = bool(lines(a) & lines(b))
    else:
        meets = both == (False, False) and beside(a) == beside(b)
    station = [station_of(row) for row in (a, b)]
    reach = sum(max(inches(row["length"]), 0) for row in (a, b)) / 2
    return meets and abs(station[0] - station[1]) <= max(2, reach)


def is_opposite(a, b):
    across = (lines(a), lines(b)) if lines(a) or lines(b) else (beside(a), beside(b))
    return (
        {hand(a), hand(b)} == {"P", "S"}
        and nearest(a) == nearest(b)
        and a["kind"] == b["kind"]
        and across[0] == across[1]
        and abs(station_of(a) - station_of(b)) <= 1
    )


def by_trying_all(made):
    real = [row for row in made if row["kind"] != "nil"]
    tests = {"same defect": is_same, "wrong hand": is_opposite}
    return {
        (query, frozenset((a["record"], b["record"])))
        for a, b in combinations(real, 2)
        for query, holds in tests.items()
        if holds(a, b)
    }


@settings(deadline=None, max_examples=300)
@given(rows)
def test_the_sweep_finds_what_trying_all_finds(made):
    found = pairs(made, DEFINITION)
    assert len(found) == len(asked(made))
    assert asked(made) == by_trying_all(made)


def test_the_sweep_finds_what_trying_all_finds_among_five_hundred():
    chance = Random(71)
    made = []
    for at in range(500):
        place = {
            "structure": "Hull",
            "hand": chance.choice("PS"),
            "member": chance.choice(list(STATIONS)),
            "offset": {"value": f"{chance.randrange(130) / 10}", "unit": "in"},
            "strakes": chance.choice([["K", "B1"], ["B1", "B2"], ["S1", "S3"], ["D1"]]),
        }
        row = {"place": place, "kind": chance.choice(["pitting", "exfoliation", "dent", "crack"])}
        row["length"] = {"value": f"{chance.randrange(90) / 10}", "unit": "in"}
        name = {"record": f"r{at}", "number": f"A/{at + 1:04d}"}
        made.append({**VECTORS["base"], **row, **name})
    found = asked(made)
    assert found == by_trying_all(made), "seed 71"
    assert len(found) > 150
