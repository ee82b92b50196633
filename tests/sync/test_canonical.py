import json
from pathlib import Path

import orjson
import pytest
import rfc8785
from hypothesis import example, given, settings
from hypothesis import strategies as st
from skinpin_sync.canonical import PLAIN, Codec, RefusedLine, canonical, parse, sha256_hex

VECTORS = json.loads(Path("sync/vectors/canonical.json").read_text("utf-8"))
several = settings(max_examples=300, deadline=None, print_blob=True)


def orjson_encode(value):
    return orjson.dumps(value, option=orjson.OPT_SORT_KEYS)


CODECS = [PLAIN, Codec(orjson_encode, orjson.loads)]


def named(cases):
    return [pytest.param(case, id=case["what"]) for case in cases]


def is_fit(text):
    try:
        return canonical(text) is not None
    except RefusedLine:
        return False


texts = st.text(st.sampled_from('aB"\\/\b\n\x01\x7f\u2028é€\u0301\U0001f529')).filter(is_fit)
keys = st.text(st.sampled_from("aB_19\n\\"), max_size=3)
whole = st.one_of(
    st.integers(-3, 3), st.integers(2**53 - 2, 2**53 - 1), st.integers(1 - 2**53, 2 - 2**53)
)
values = st.recursive(
    st.none() | st.booleans() | whole | texts,
    lambda part: st.lists(part, max_size=4) | st.dictionaries(keys, part, max_size=4),
    max_leaves=12,
)


@pytest.mark.parametrize("case", named(VECTORS["lines"]))
def test_each_value_has_the_line_of_the_vectors(case):
    line = case["line"].encode()
    assert canonical(case["value"]) == line
    for codec in CODECS:
        assert parse(line, codec) == case["value"]


@pytest.mark.parametrize("codec", CODECS)
@pytest.mark.parametrize("case", named(VECTORS["refused"]))
def test_any_other_line_is_refused(case, codec):
    with pytest.raises(RefusedLine) as refusal:
        parse(case["line"].encode(), codec)
    assert refusal.value.code == "not_canonical"
    assert refusal.value.message.endswith(".")
    assert refusal.value.hint


@pytest.mark.parametrize("codec", CODECS)
@pytest.mark.parametrize("line", [b"\xff", b'"\xed\xa0\xbd"', b'"\xc0\x80"', b"\x00"])
def test_bytes_that_are_no_utf_8_are_refused(line, codec):
    with pytest.raises(RefusedLine):
        parse(line, codec)


@pytest.mark.parametrize("case", named(VECTORS["unfit"]))
def test_an_unfit_value_is_not_written(case):
    with pytest.raises(RefusedLine):
        canonical(case["value"])


@pytest.mark.parametrize(
    "value", ["\ud83d", ["\udd29"], {1: 2}, {"a": {1, 2}}, b"a", {"\ud83d": 1}]
)
def test_what_json_can_not_say_is_not_written(value):
    with pytest.raises(RefusedLine):
        canonical(value)


def test_sha256_as_published():
    for case in VECTORS["sha256"]:
        assert sha256_hex(case["text"].encode()) == case["sha256"]


@several
@given(values)
def test_the_line_is_that_of_rfc_8785_and_reads_back(value):
    line = canonical(value)
    assert line == rfc8785.dumps(value)
    assert line == orjson_encode(value)
    for codec in CODECS:
        assert parse(line, codec) == value


@several
@example("[1e999]")
@example('{"a":1,"a":1}')
@given(st.text(st.sampled_from('{}[]",:01-.eaé\\un \u0301'), max_size=12))
def test_a_line_is_refused_or_is_the_only_spelling_of_its_value(text):
    answers = []
    for codec in CODECS:
        try:
            answers.append(parse(text.encode(), codec))
        except RefusedLine:
            answers.append(RefusedLine)
    assert answers[0] == answers[1]
    if answers[0] is not RefusedLine:
        assert canonical(answers[0]) == text.encode()


@several
@given(st.dictionaries(keys, values, min_size=1), st.data())
def test_a_changed_line_never_reads_as_the_same_value(value, data):
    line = canonical(value)
    place = data.draw(st.integers(0, len(line) - 1))
    changed = line[:place] + data.draw(st.sampled_from([b"", b" ", b"0", b"a"])) + line[place + 1 :]
    try:
        other = parse(changed)
    except RefusedLine:
        return
    assert (canonical(other) == line) == (changed == line)
