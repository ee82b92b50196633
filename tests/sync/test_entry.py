import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin_sync.canonical import RefusedLine, canonical, sha256_hex
from skinpin_sync.entry import (
    Act,
    _check_shape,
    _is_common,
    from_line,
    make_entry,
    signed_bytes,
    to_line,
)

VECTORS = json.loads(Path("sync/vectors/entry.json").read_text("utf-8"))
several = settings(max_examples=300, deadline=None, print_blob=True)
BASE = json.loads(VECTORS["accepted"][0]["line"])
SEEN_ID = "1762157730249-ffff-zzzzzzzz"


def named(cases):
    return [pytest.param(case, id=case["what"]) for case in cases]


@pytest.mark.parametrize("case", named(VECTORS["accepted"]))
def test_an_entry_survives_byte_for_byte(case):
    entry = from_line(case["line"].encode())
    assert to_line(entry) == case["line"].encode()
    assert sha256_hex(to_line(entry)) == case["sha256"]


@pytest.mark.parametrize("case", named(VECTORS["refused"]))
def test_another_shape_is_refused_with_its_reason(case):
    with pytest.raises(RefusedLine) as refusal:
        from_line(case["line"].encode())
    assert refusal.value.code == case["code"]
    assert refusal.value.message.endswith(".")


@pytest.mark.parametrize("case", named(VECTORS["sizes"]))
def test_a_line_has_at_most_65536_bytes(case):
    head, tail = VECTORS["size_line"]
    line = (head + case["letter"] * case["times"] + tail).encode()
    if case["code"] is None:
        assert to_line(from_line(line)) == line
        return
    with pytest.raises(RefusedLine) as refusal:
        from_line(line)
    assert refusal.value.code == case["code"]


def test_an_author_who_errs_is_told_at_once():
    fields = {**BASE, "act": ("act1", 1)}
    with pytest.raises(RefusedLine, match="'wall' is '2025'"):
        make_entry(**{**fields, "wall": "2025"})
    with pytest.raises(RefusedLine, match=r"1\.5 is not a whole number"):
        make_entry(**{**fields, "set": {"length": 1.5}})


def test_what_is_left_out_is_empty():
    entry = from_line(canonical(BASE))
    assert (entry.prev, entry.seen, entry.relies, entry.why, entry.sig) == (
        None,
        {},
        (),
        None,
        None,
    )
    assert entry.act == Act("act1", 1)
    assert b"seen" not in to_line(make_entry(**{**BASE, "act": ("act1", 1), "seen": {}}))


def test_the_signature_is_made_over_the_line_without_it():
    bare = make_entry(**{**BASE, "act": ("act1", 1)})
    signed = bare._replace(sig={"key": SEEN_ID, "value": "A" * 86})
    assert signed_bytes(signed) == to_line(bare)
    assert sha256_hex(to_line(signed)) != sha256_hex(to_line(bare))


names = st.text(st.sampled_from("aZ_~!"), min_size=1, max_size=3)
plain = st.none() | st.integers(-2, 2) | st.sampled_from(["", "é", "\U0001f529", "\n"])
values = st.recursive(plain, lambda part: st.lists(part, max_size=2), max_leaves=4)


@several
@given(
    kind=names,
    fields=st.dictionaries(names, values, max_size=3),
    more=st.dictionaries(names, values, max_size=3),
    seen=st.dictionaries(names, st.lists(st.just(SEEN_ID), min_size=1), max_size=2),
)
def test_unknown_kinds_and_fields_survive_byte_for_byte(kind, fields, more, seen):
    value = {**more, **BASE, "kind": kind, "set": fields, **({"seen": seen} if seen else {})}
    line = canonical(value)
    entry = from_line(line)
    assert (entry.set, entry.more, entry.seen) == (fields, more, seen)
    assert to_line(entry) == line


@several
@given(st.sampled_from(sorted({*BASE, "prev", "seen", "relies", "why", "sig"})), values)
def test_any_value_in_any_place_is_taken_whole_or_refused_with_a_sentence(name, value):
    line = canonical({**BASE, name: value})
    try:
        answer = to_line(from_line(line))
    except RefusedLine as refusal:
        answer = refusal.code
    assert answer in (line, "wrong_shape")


ODD = ["", "a\n", "é", "A" * 65, 0, True, 2**53, None, {}, [], {"id": "a", "of": 0}]
parts = st.sampled_from([*ODD, "a1", 1, "f" * 64, SEEN_ID, {"id": "a", "of": 2}, {"a": 1}])


@several
@given(st.dictionaries(st.sampled_from([*sorted(BASE), "prev", "more"]), parts, max_size=2))
def test_the_short_way_takes_no_shape_that_the_long_way_refuses(changed):
    value = {**BASE, **changed}
    assert _is_common(BASE)
    if _is_common(value):
        _check_shape(value)
