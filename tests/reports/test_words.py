"""Words for paper."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from skinpin.reports.words import (
    found_words,
    only,
    printable,
    quantity_text,
    share_text,
    thickness_words,
)

from tests.reports.ready import inches, row


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (inches("0.011"), "0.011 in"),
        (inches("0.81", uncertainty={"value": "0.03", "unit": "in"}), "0.81 ± 0.03 in"),
        ("not measured", "not measured"),
        (3, "3"),
        ({"value": "thin", "unit": "in"}, ""),
        (None, ""),
    ],
)
def test_a_value_is_printed_exactly_as_typed(value, words):
    assert quantity_text(value) == words


def test_a_thickness_names_its_gauge():
    # 0.064 in is 16 SWG, 0.036 in 20 SWG: British Standard 3737 table, from memory, to verify.
    assert thickness_words(inches("0.064")) == "0.064 in (16 SWG)"
    assert thickness_words(inches("0.036")) == "0.036 in (20 SWG)"
    assert thickness_words({"value": "1.6", "unit": "mm"}) == "1.6 mm"
    assert thickness_words("not measured") == ""


def test_a_share_needs_both_figures():
    assert share_text(inches("0.011"), inches("0.064")) == "17.2 %"
    assert share_text("not measured", inches("0.064")) == ""
    assert share_text(inches("0.011"), inches("0")) == ""


def test_what_was_found_goes_by_its_deciding_figure():
    assert found_words(row("A/0002"), {"depth": [inches("0.011")]}) == "Pitting 0.011 in"
    assert found_words(row("A/0002"), {"length": [inches("5.5")]}) == "Pitting 5.5 in long"
    sure = {"length": [inches("5.5", uncertainty=inches("0.2"))]}
    assert found_words(row("A/0002"), sure) == "Pitting 5.5 ± 0.2 in long"
    two = {"depth": [inches("0.011"), inches("0.013")]}
    assert found_words(row("A/0002"), two) == "Pitting"
    assert only(two, "depth") is None


@given(text=st.text(max_size=80))
def test_printable_loses_only_what_cannot_be_printed(text):
    told = printable(text)
    assert not any(each in told for each in "\r\x00\x07\u202e\u2066\ufeff")
    kept = "".join(each for each in text.replace("\r\n", "\n").replace("\r", "\n") if each in told)
    assert told.replace("\u200b", "") == kept.replace("\u200b", "")
    assert all(len(word) <= 25 for word in told.replace("\u200b", " ").split(" ") if word.isascii())
