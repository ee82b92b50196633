import json
from pathlib import Path

import pytest
from skinpin.domain.same_view_words import decimal_text, fit_words, is_good

VECTORS = json.loads((Path(__file__).parents[1] / "vectors/same_view.json").read_text("utf-8"))


@pytest.mark.parametrize(("fit", "words", "good"), VECTORS["words"])
def test_a_kept_fit_is_told_in_words_or_not_at_all(fit, words, good):
    assert fit_words(fit) == words
    assert is_good(fit) is good


@pytest.mark.parametrize(("number", "places", "text"), VECTORS["texts"])
def test_decimal_texts_are_rounded_half_away_from_nought(number, places, text):
    assert decimal_text(number, places) == text
