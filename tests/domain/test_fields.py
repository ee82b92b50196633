"""The kind of a record, by the shared vectors."""

import json
from itertools import permutations
from pathlib import Path

import pytest
from skinpin.domain.fields import record_kind
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
