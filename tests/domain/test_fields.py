"""The kind of a record, by the shared vectors."""

import json
from itertools import permutations
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.fields import FIELDS, record_kind
from skinpin_sync.entry import make_entry

VECTORS = json.loads((Path(__file__).parents[1] / "vectors/record_kind.json").read_text("utf-8"))


def pair_of(at, row):
    entry = make_entry(
        id=f"174140000000{at}-0000-writerx1", n=1, act=(f"act-{at}", 1), record="X",
        kind=row["kind"], set=row["set"], by="P", device="A",
        wall="2025-11-03T08:15:30+00:00", schema=1,
    )  # fmt: skip
    counts = row["counts"]
    return entry, counts if isinstance(counts, bool) else frozenset(counts)


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_vector(case):
    pairs = [pair_of(at, row) for at, row in enumerate(case["entries"])]
    assert {record_kind(order) for order in permutations(pairs)} == {case["kind"]}


rows = st.builds(
    lambda kind, at, counts: {"kind": kind, "set": {sorted(FIELDS[kind])[at]: 1}, "counts": counts},
    st.sampled_from(["defect", "photograph", "mark", "coverage", "person"]),
    st.integers(0, 2),
    st.sampled_from([True, False, []]),
)


@settings(deadline=None, max_examples=300)
@given(st.lists(rows, min_size=1, max_size=7), st.randoms(use_true_random=False))
def test_the_kind_is_the_same_in_every_order(some, shuffler):
    pairs = [pair_of(at, row) for at, row in enumerate(some)]
    kind = record_kind(pairs)
    shuffler.shuffle(pairs)
    assert record_kind(pairs) == kind


captures = st.sampled_from([("defect", "note"), ("photograph", "role"), ("mark", "shape"),
                            ("coverage", "method"), ("bracket", "x")])  # fmt: skip


@settings(deadline=None, max_examples=300)
@given(captures, st.lists(captures, max_size=6))
def test_no_later_capture_takes_a_record_away(first, later):
    made = [{"kind": kind, "set": {field: 1}, "counts": True} for kind, field in (first, *later)]
    kinds = {record_kind([pair_of(*one) for one in list(enumerate(made))[:count]])
             for count in range(1, len(made) + 1)}  # fmt: skip
    assert kinds == {first[0]} or first[0] == "bracket"
