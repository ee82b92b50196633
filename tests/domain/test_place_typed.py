"""Whole places as people type them, and back from their words."""

import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.errors import Refused
from skinpin.domain.place import place_words, station_of, structure_of, zone_of
from skinpin.domain.place_typed import read_place

ROOT = Path(__file__).parents[2]
VECTORS = json.loads((ROOT / "tests/vectors/place_typed.json").read_text("utf-8"))
SECOND = json.loads((ROOT / "tests/vectors/second_airframe.json").read_text("utf-8"))
MARRAM = json.loads(
    (ROOT / "sample_data/skinpin_demo/data/definition_2603.json").read_text("utf-8")
)


@pytest.mark.parametrize("case", VECTORS["read"], ids=lambda case: case["why"])
def test_a_place_typed_in_trade_notation_is_read(case):
    if "refused" in case:
        with pytest.raises(Refused) as refused:
            read_place(SECOND, case["text"], case.get("at"))
        assert (refused.value.code, refused.value.message[-1]) in {
            (case["refused"], end) for end in ".?"
        }
        said = {"message": refused.value.message, "hint": refused.value.hint}
        assert said == {**said, **{word: case[word] for word in said if word in case}}
    else:
        assert read_place(SECOND, case["text"], case.get("at")) == case["place"]


def placed(definition):
    """Return any place that the screens can make: a spot, a span, a bay, with all it may say."""

    def on(structure):
        unit, members = structure["unit"], structure["members"]
        figures = st.integers(-3000, 3000).map(lambda tenths: f"{tenths / 10:.1f}")
        end = st.fixed_dictionaries(
            {
                "member": st.sampled_from([one["name"] for one in members]),
                "offset": st.fixed_dictionaries({"value": figures, "unit": st.just(unit)}),
            }
        )
        lines = structure["strakes"]
        strakes = st.tuples(st.integers(0, 20), st.integers(0, 3)).map(
            lambda pair: [
                lines[pair[0] % len(lines)],
                lines[min(pair[0] % len(lines) + pair[1], len(lines) - 1)],
            ]
        )
        more = {"to": end, "layer": st.integers(1, 9), "precision": st.just("exact")}
        if lines:
            more["strakes"] = strakes
        if structure["faces"]:
            more["face"] = st.sampled_from(structure["faces"])
        whole = st.fixed_dictionaries(
            {"structure": st.just(structure["name"]), "hand": st.sampled_from(structure["hands"])},
            optional=more,
        )
        return st.tuples(whole, end).map(lambda pair: {**pair[0], **pair[1]})

    return st.sampled_from(definition["structures"]).flatmap(on)


def meaning(definition, place):
    """Return what a place says, however it is spelt: the metal it lies on."""
    try:
        zone = zone_of(definition, place)
    except Refused as refused:
        zone = refused.code
    spot = {word: place.get(word) for word in ("structure", "hand", "strakes", "face", "layer")}
    return spot, float(station_of(definition, place)["value"]), zone


@pytest.mark.parametrize("definition", [MARRAM, SECOND], ids=["Marram", "in mm"])
def test_the_words_of_a_place_read_back_as_the_same_place(definition):
    @settings(deadline=None, max_examples=300)
    @given(placed(definition))
    def read_back(place):
        words = place_words(definition, place)
        again = read_place(definition, words)
        assert place_words(definition, again) == words
        assert meaning(definition, again) == meaning(definition, place)

    read_back()


@pytest.mark.parametrize("definition", [MARRAM, SECOND], ids=["Marram", "in mm"])
def test_the_words_of_a_bay_read_back_as_the_bay(definition):
    for structure in definition["structures"]:
        for member in structure["members"][:-1]:
            words = f"{structure['name']} · {structure['hands'][0]} · {member['name']} · bay only"
            place = read_place(definition, words)
            assert place["precision"] == "bay only"
            assert place_words(definition, place).endswith(f"{member['name']} · bay only")
            assert structure_of(definition, place) is structure


@settings(deadline=None, max_examples=300)
@given(st.text(max_size=40) | st.text("Fuselage·;, S-4LRsheetbayonly+−0123456789.to", max_size=60))
def test_whatever_is_typed_is_read_or_refused_with_a_sentence(text):
    assert read_or_refused(text)


def read_or_refused(text):
    """Return the words of what was read, or the refusal where it is a sentence."""
    try:
        return place_words(SECOND, read_place(SECOND, text, {"structure": "Fuselage", "hand": "P"}))
    except Refused as refused:
        return refused.message if refused.message[-1] in ".?" else ""


SPACES = [chr(at) for at in (9, 11, 12, 13, 28, 31, 0x85, 0xA0, 0x1680, 0x2003, 0x2028, 0xFEFF)]
ODD = [*SPACES, "\u017f", "\u212a", "\u0130", "\u0131", "\u200b", "\u0662", "\ud800", "\n"]
ODD_TEXTS = st.lists(
    st.sampled_from([*ODD, *"FS2P4-·;,+", "Port", "F2", "S-4", "sheet", "in", "to"]), max_size=14
).map("".join)


@settings(deadline=None, max_examples=400)
@given(ODD_TEXTS, st.sampled_from(SPACES))
def test_every_kind_of_white_space_is_read_as_a_space(text, space):
    other = "".join(space if one in (*SPACES, " ") else one for one in text)
    assert read_or_refused(text)
    assert read_or_refused(other) == read_or_refused(other.replace(space, " "))


@settings(deadline=None, max_examples=200)
@given(st.integers(-(10**9), 10**9))
def test_no_offset_is_read_beyond_100_m(tenths):
    text = f"F2 + {tenths / 10:.1f}" if tenths >= 0 else f"F2 - {-tenths / 10:.1f}"
    is_far = abs(tenths) > 1_000_000
    assert ("more than 100 m" in read_or_refused(text)) == is_far


def test_a_very_long_text_is_refused_at_once():
    with pytest.raises(Refused):
        read_place(SECOND, "F2 + " + "1 " * 100_000, {"structure": "Fuselage", "hand": "P"})
