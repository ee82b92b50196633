"""Histories as sentences."""

import json
from pathlib import Path

import pytest
from skinpin.domain.history import history, value_words
from skinpin.domain.ledger import judge_all
from skinpin.domain.verdicts import Known

HERE = Path(__file__).parents[1] / "vectors"
VECTORS = json.loads((HERE / "history.json").read_text("utf-8"))
BASE = json.loads((HERE / "judging.json").read_text("utf-8"))


def lines_of(case, book, **more):
    judged = judge_all(book.entries, Known({}, reached=lambda *_: True))
    setup = {book.ids[row["name"]] for row in BASE["prologue"]}
    pairs = [(one, judged.verdicts[one.id]) for one in book.entries if one.id not in setup]
    return history(reversed(pairs), VECTORS["names"], withdrawn=judged.withdrawn, **more)


def book_in(case, book_of):
    blocks = [row for name in case["after"] for row in BASE["blocks"][name]]
    return book_of([*BASE["prologue"], *blocks, *case["entries"]])


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_vector(case, book_of):
    book = book_in(case, book_of)
    shown = {book.ids[name] for name in case["only"]} if "only" in case else set(book.ids.values())
    found = [line for line in lines_of(case, book) if line["entry"] in shown]
    assert [[one["entry"], one["sentence"], one["counts"]] for one in found] == [
        [book.ids[name], sentence, not more] for name, sentence, *more in case["lines"]
    ]
    if "parts" in case:
        told = {one["entry"]: one["parts"] for one in found if "parts" in one}
        assert told == {book.ids[name]: parts for name, parts in case["parts"].items()}


def test_the_parts_of_a_sentence_are_the_sentence(book_of):
    struck = 0
    for case in VECTORS["cases"]:
        for line in lines_of(case, book_in(case, book_of)):
            if "parts" in line:
                assert "".join(words for words, _ in line["parts"]) == line["sentence"]
                struck += any(is_struck for _, is_struck in line["parts"])
    assert struck >= 6


def test_days_and_times_are_those_of_the_workshop(book_of):
    case = VECTORS["cases"][0]
    told = lambda entry: (f"day of {entry.record}", f"time of {entry.record}")  # noqa: E731
    lines = lines_of(case, book_in(case, book_of), moment=told)
    assert [line["date"] for line in lines[:2]] == ["day of X", "day of P"]
    assert lines[0]["time"] == "time of X"
    first = lines_of(case, book_in(case, book_of))[0]
    assert (first["date"], first["time"]) == ("2025-03-08", "02:13")


def test_every_sentence_is_a_sentence(book_of):
    for case in VECTORS["cases"]:
        for line in lines_of(case, book_in(case, book_of)):
            assert line["sentence"][0].isupper()
            assert line["sentence"].endswith(".")


def test_a_part_on_a_bench_is_told_as_its_place_reads():
    off = {"off": "Bench 2", "part": "Strut, port", "marking": "P", "precision": "bay only"}
    told = value_words("defect", "place", off, {})
    assert told == "off aircraft, Bench 2 · Strut, port · marked P"
