"""Whatever the order of arrival, the derived tables are those of the set of entries."""

import random
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from skinpin.domain.fields import counted_fields
from skinpin.domain.ledger import judge_all
from skinpin.domain.verdicts import COUNTS, Known, act_of
from skinpin.services.push import push
from skinpin.storage.engine import writing
from skinpin.storage.log import create_book
from skinpin.storage.rebuild import rebuild
from skinpin.storage.records import find_records
from skinpin.storage.verdicts import read_verdict
from skinpin_sync.chain import link, reached
from skinpin_sync.standing import standing
from sqlalchemy import text

from tests.benches import body_of, chained, derived, open_bench
from tests.domain.conftest import made_book
from tests.domain.test_ledger import random_book


def empty_book(folder, address=""):
    workshop = open_bench(folder, address)
    with writing(workshop.engine) as connection:
        create_book(connection, "book", "epoch", "1")
    return workshop


def pushed(workshop, written, chance):
    """Push in a random order and random batches, some lines twice."""
    lines = [line for _, line in written]
    chance.shuffle(lines)
    while lines:
        size = chance.choice([1, 1, 3, 8])
        answer = push(workshop, "book", body_of(lines[:size]))
        assert {one["result"] for one in answer["results"]} <= {"stored", "duplicate"}
        again = chance.sample(lines[:size], chance.choice([0, 0, 1]))
        lines = [*lines[size:], *again] if len(lines) > size else lines[size:]


def reference(written):
    """Return verdicts and standing values by the plain definition over the whole set."""
    entries = [one for one, _ in written]
    from skinpin_sync.canonical import sha256_hex

    links = [link(one, sha256_hex(line)) for one, line in written]
    root = None
    known = Known(
        {},
        reached=lambda one, ends: one.id in reached(links, ends),
        root=root,
        grade_of=lambda values, pins: 4,
    )
    judged = judge_all(entries, known)
    counts = {
        one.id: counted_fields(
            one, judged.verdicts.get(one.id, COUNTS).counts, act_of(one) in judged.withdrawn
        )
        for one in entries
    }
    by_record = {}
    for one in entries:
        by_record.setdefault(one.record, []).append(one)
    stands = {
        record: standing(
            mine, lambda one: counts[one.id], {one.id for one in entries if one.record != record}
        )
        for record, mine in by_record.items()
    }
    return judged, stands


@settings(
    deadline=None, max_examples=40, suppress_health_check=[HealthCheck.too_slow], print_blob=True
)
@given(seed=st.integers(0, 10**6), acts=st.integers(3, 30), order=st.integers(0, 10**6))
def test_any_order_of_arrival_derives_what_the_whole_set_means(seed, acts, order):
    written = chained(random_book(seed, acts, made_book))
    judged, stands = reference(written)
    with TemporaryDirectory() as folder:
        workshop = empty_book(Path(folder))
        try:
            pushed(workshop, written, random.Random(order))
            with workshop.reading() as connection:
                rows = connection.execute(text("SELECT id, verdict FROM entry")).all()
                kept = {id: read_verdict(verdict) for id, verdict in rows}
                now = {name: one.standing for name, one in find_records(connection, stands).items()}
            assert kept == judged.verdicts
            assert now == stands
            before = derived(workshop)
            with writing(workshop.engine) as connection:
                rebuild(connection, workshop.files)
            assert derived(workshop) == before
        finally:
            workshop.close()
