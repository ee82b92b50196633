import json
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.errors import Refused
from skinpin.domain.numbers import (
    CHECK,
    LETTERS,
    check_character,
    file_number,
    next_letter,
    read_number,
    tag,
    tag_holds,
    write_number,
)

VECTORS = json.loads((Path(__file__).parents[1] / "vectors" / "numbers.json").read_text("utf-8"))


@pytest.mark.parametrize("case", VECTORS["write"], ids=lambda case: case["number"])
def test_a_number_is_the_letter_and_four_digits(case):
    number = write_number(case["letter"], case["serial"])
    assert number == case["number"]
    assert file_number(number) == case["file"]
    assert read_number(number) == (case["letter"], case["serial"])


@pytest.mark.parametrize("case", VECTORS["write_refused"], ids=str)
def test_no_number_is_written_past_the_last_or_for_a_letter_left_out(case):
    with pytest.raises(Refused):
        write_number(case["letter"], case["serial"])


@pytest.mark.parametrize("case", VECTORS["read"], ids=lambda case: case["text"])
def test_a_number_is_read_as_people_write_it(case):
    assert read_number(case["text"]) == (case["letter"], case["serial"])


@pytest.mark.parametrize("text", VECTORS["read_refused"])
def test_what_is_no_number_is_refused(text):
    with pytest.raises(Refused, match="no record number"):
        read_number(text)


@pytest.mark.parametrize("case", VECTORS["next_letter"], ids=str)
def test_a_letter_follows_the_last_ever_given(case):
    assert next_letter(case["used"]) == case["letter"]


def test_letters_are_refused_when_all_are_given():
    given_letters = [next_letter([])]
    for _ in range(len(LETTERS) * (len(LETTERS) + 1) - 1):
        given_letters.append(next_letter(given_letters))
    assert len(set(given_letters)) == 21 + 21 * 21
    with pytest.raises(Refused, match="462"):
        next_letter(given_letters)


@pytest.mark.parametrize("case", VECTORS["check"], ids=lambda case: case["text"])
def test_the_check_character_agrees_with_published_examples(case):
    assert check_character(case["text"]) == case["check"]


@pytest.mark.parametrize("case", VECTORS["tag"], ids=lambda case: case["tag"])
def test_a_tag_is_constructors_number_record_number_and_check(case):
    assert tag(case["constructor"], case["number"]) == case["tag"]


@pytest.mark.parametrize("case", VECTORS["tag_holds"], ids=lambda case: case["text"])
def test_a_tag_read_wrongly_is_noticed(case):
    assert tag_holds(case["text"]) is case["holds"]


@settings(deadline=None)
@given(st.text("0O1IA", min_size=2, max_size=8), st.data())
def test_one_wrong_character_or_two_changed_about_never_check(body, data):
    # ISO/IEC 7064 promises all single substitutions and all transpositions of neighbours.
    whole = body + check_character(body)
    at = data.draw(st.integers(0, len(body) - 1))
    wrong = data.draw(st.sampled_from([c for c in CHECK[:36] if c != whole[at]]))
    assert not tag_holds(whole[:at] + wrong + whole[at + 1 :])
    for first, second in combinations([at, at + 1], 2):
        swapped = whole[:first] + whole[second] + whole[first] + whole[second + 1 :]
        if swapped != whole:
            assert not tag_holds(swapped)
