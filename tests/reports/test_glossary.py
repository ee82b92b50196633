"""Words of a report and what they mean."""

from skinpin.reports.glossary import WORDS, glossary_of


def test_only_whole_words_that_occur_are_explained():
    assert glossary_of(["Baywatch and cellar"]) == []
    assert [word for word, _ in glossary_of(["Bays", "in two CELLS"])] == ["bay", "cell"]


def test_a_word_of_two_words_is_found_over_no_line_end():
    assert [word for word, _ in glossary_of(["not looked", "at all"])] == []
    assert [word for word, _ in glossary_of(["not looked at"])] == ["not looked at"]


def test_they_come_in_order_and_each_says_something_else():
    assert list(WORDS) == sorted(WORDS)
    assert len(set(WORDS.values())) == len(WORDS)
    assert all(word not in meaning.split(",")[0].split() for word, meaning in WORDS.items())
