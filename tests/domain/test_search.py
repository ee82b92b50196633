import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.search import search

ROOT = Path(__file__).parents[2]
VECTORS = json.loads((ROOT / "tests/vectors/search.json").read_text("utf-8"))
DEMO = json.loads((ROOT / "tests/vectors/demo_rows.json").read_text("utf-8"))
DATA = ROOT / "sample_data/skinpin_demo/data"
DEFINITION = json.loads((DATA / "definition_2603.json").read_text("utf-8"))
ODD = [{**VECTORS["base"], **row} for row in VECTORS["odd"]]


def numbers(words, definition=DEFINITION):
    found = search(DEMO["rows"], words, definition, DEMO["people"] if definition else None)
    return [row["number"] for row in found]


def test_a_phone_call_is_answered():
    assert numbers("F11 P crack") == ["A/0009"]


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda case: repr(case["words"][:30]))
def test_words_find_what_the_shared_vectors_say(case):
    assert numbers(case["words"]) == case["numbers"]


@pytest.mark.parametrize("case", VECTORS["bare"], ids=lambda case: case["words"])
def test_without_a_definition_place_words_are_words(case):
    assert numbers(case["words"], None) == case["numbers"]


@pytest.mark.parametrize("case", VECTORS["odd_cases"], ids=lambda case: repr(case["words"]))
def test_rows_that_hold_anything_are_searched(case):
    found = search(ODD, case["words"], DEFINITION)
    assert [row["record"] for row in found] == case["records"]


TERMS = [
    '"F11"',
    "port",
    "pitting",
    ">=3",
    "122",
    "open",
    "F10-F13",
    "2025-06",
    '"plating"',
    "K-B1",
]


@settings(deadline=None)
@given(st.lists(st.sampled_from(TERMS), min_size=1, max_size=4))
def test_terms_are_joined_with_and_in_any_order(terms):
    alone = [set(numbers(term)) for term in terms]
    found = numbers(" ".join(terms))
    assert set(found) == set.intersection(*alone)
    assert found == numbers(" ".join(reversed(terms)))


pieces = st.sampled_from(
    ["F11", "12A", "-", "..", '"', "grade", ">=", "3", "stage", "zone", "2025-", "A/", "0009", " "]
) | st.text(max_size=3)


@settings(deadline=None, max_examples=300)
@given(st.lists(pieces, max_size=10).map("".join))
def test_whatever_is_typed_finds_some_of_the_rows_in_their_order(words):
    found = search(DEMO["rows"] + ODD, words, DEFINITION, DEMO["people"])
    places = [(DEMO["rows"] + ODD).index(row) for row in found]
    assert places == sorted(places)
