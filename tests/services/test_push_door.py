"""Whatever bytes a device sends, each line is answered, and only what is right gets in."""

import json
import random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from skinpin.domain.errors import Refused
from skinpin.services.check_book import check_book
from skinpin.services.push import push
from skinpin_sync.canonical import parse
from sqlalchemy import text

from tests.benches import body_of
from tests.storage.test_hostile import VALUES

NAMES = st.sampled_from(
    ["id", "n", "prev", "act", "record", "kind", "set", "seen", "relies", "by", "device", "wall",
     "why", "schema", "sig", "another"]
)  # fmt: skip
BYTES = st.tuples(st.just("bytes"), st.integers(0, 2000), st.binary(max_size=6))
FIELD = st.tuples(st.just("field"), NAMES, VALUES)
CUT = st.tuples(st.just("cut"), st.integers(0, 2000), st.none())
SPACED = st.tuples(st.just("spaced"), st.none(), st.none())
HOSTILE = st.lists(st.one_of(BYTES, FIELD, CUT, SPACED), min_size=1, max_size=5)


def changed(line, how, one, other):
    """Return a line with one thing wrong, or by chance with nothing wrong."""
    if how == "bytes":
        at = one % len(line)
        return line[:at] + other.replace(b"\n", b"") + line[at + len(other) :]
    if how == "cut":
        return line[: one % len(line)]
    value = json.loads(line)
    if how == "field":
        value[one] = other
        return json.dumps(value, ensure_ascii=False, sort_keys=True, separators=(",", ":")).encode()
    return json.dumps(value, indent=None).encode()


@settings(
    deadline=None,
    max_examples=120,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(hostile=HOSTILE, seed=st.integers(0, 10**6), is_ended=st.booleans())
def test_hostile_lines_are_answered_one_by_one_and_change_nothing(bench, hostile, seed, is_ended):
    if not hasattr(bench, "device"):
        bench.device = bench.tablet()
    tablet, chance = bench.device, random.Random(seed)
    [(good, line)] = tablet.defect(f"good{tablet.acts}", note="köln")
    lines = [changed(line, *one) for one in hostile]
    lines.insert(chance.randrange(len(lines) + 1), line)
    body = body_of(lines) if is_ended else body_of(lines)[:-1]
    before = log(bench)
    if not body.endswith(b"\n"):
        with pytest.raises(Refused) as refused:
            push(bench.workshop, tablet.book, body)
        assert refused.value.code == "cut_short"
        assert log(bench) == before
        bench.push([(good, line)])
        return
    lines = body.split(b"\n")[:-1]
    results = push(bench.workshop, tablet.book, body)["results"]
    assert len(results) == len(lines)
    for one, sent in zip(results, lines, strict=True):
        if one["result"] == "refused":
            assert one["code"]
            assert one["reason"]
        else:
            assert parse(sent)["id"] == one["id"]
    added = log(bench)[len(before) :]
    assert all(sent in lines for sent in added)
    stored_as_its_id = [sent for sent in added if parse(sent)["id"] == good.id]
    assert len(stored_as_its_id) == 1
    assert stored_as_its_id == [line] or results[lines.index(line)]["code"] == "other_bytes"


def log(bench):
    with bench.workshop.reading() as connection:
        return [
            line.encode()
            for line in connection.scalars(text("SELECT line FROM entry ORDER BY seq"))
        ]


def test_the_book_is_whole_after_hostile_lines(bench):
    tablet = bench.tablet()
    for n in range(20):
        [(_, line)] = tablet.defect(f"d{n}", note="x")
        results = push(
            bench.workshop, tablet.book, body_of([line[:-1], line, line + b" ", b"{}", b"\xff"])
        )["results"]
        found = [one["result"] for one in results]
        assert found == ["refused", "stored", "refused", "refused", "refused"]
    assert check_book(bench.workshop) == []
