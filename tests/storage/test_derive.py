"""Whatever the order of arrival, the derived tables are those of the set of entries."""

import json
import random
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from skinpin.domain.fields import counted_fields
from skinpin.domain.ledger import judge_all
from skinpin.domain.verdicts import COUNTS, Known, act_of
from skinpin.services.photographs import keep_bytes
from skinpin.services.push import push
from skinpin.storage.engine import writing
from skinpin.storage.log import create_book
from skinpin.storage.rebuild import rebuild
from skinpin.storage.records import find_records
from skinpin.storage.verdicts import read_verdict
from skinpin_sync.canonical import sha256_hex
from skinpin_sync.chain import link, reached
from skinpin_sync.standing import standing
from sqlalchemy import text

from tests.benches import body_of, chained, derived, open_bench
from tests.domain.conftest import made_book
from tests.domain.test_ledger import random_book
from tests.storage.enriched import FILES, enriched

SLOW = settings(
    deadline=None, max_examples=40, suppress_health_check=[HealthCheck.too_slow], print_blob=True
)


def empty_book(folder, address=""):
    workshop = open_bench(folder, address)
    with writing(workshop.engine) as connection:
        create_book(connection, "book", "epoch", "1")
    return workshop


def history(seed, acts):
    return chained(enriched(random_book(seed, acts, made_book), seed))


def arrive(workshop, written, chance):
    """Push in a random order and random batches, some lines twice, with files in between."""
    lines, files = [line for _, line in written], list(FILES)
    chance.shuffle(lines)
    while lines or files:
        if files and (not lines or chance.random() < 0.1):
            keep_bytes(workshop, files.pop())
            continue
        size = chance.choice([1, 1, 3, 8])
        answer = push(workshop, "book", body_of(lines[:size]))
        assert {one["result"] for one in answer["results"]} <= {"stored", "duplicate"}
        again = chance.sample(lines[:size], chance.choice([0, 0, 1]))
        lines = [*lines[size:], *again] if len(lines) > size else lines[size:]


def reference(written, grade_of):
    """Return verdicts and standing values by the plain definition over the whole set."""
    entries = [one for one, _ in written]
    links = [link(one, sha256_hex(line)) for one, line in written]
    known = Known({}, reached=lambda one, ends: one.id in reached(links, ends), grade_of=grade_of)
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
    return judged.verdicts, stands


def kept(workshop, records):
    with workshop.reading() as connection:
        rows = connection.execute(text("SELECT id, verdict FROM entry")).all()
        stands = {name: one.standing for name, one in find_records(connection, records).items()}
    return {id: read_verdict(verdict) for id, verdict in rows}, stands


@SLOW
@given(seed=st.integers(0, 10**6), acts=st.integers(3, 30), order=st.integers(0, 10**6))
@example(seed=415, acts=27, order=0)  # confirmed, and its chain came later
def test_any_order_of_arrival_derives_what_the_whole_set_means(seed, acts, order):
    written = history(seed, acts)
    with TemporaryDirectory() as folder:
        one, other = empty_book(Path(folder, "one")), empty_book(Path(folder, "other"))
        try:
            arrive(one, written, random.Random(order))
            verdicts, stands = reference(written, one.files.grade_of)
            assert kept(one, stands) == (verdicts, stands)
            incremental = derived(one)
            with writing(one.engine) as connection:
                rebuild(connection, one.files)
            assert derived(one) == incremental
            for content in FILES:
                keep_bytes(other, content)
            push(other, "book", body_of(line for _, line in written))
            assert derived(other) == incremental
        finally:
            one.close()
            other.close()


def rows_of(folder, seed):
    workshop = empty_book(folder)
    for content in FILES:
        keep_bytes(workshop, content)
    push(workshop, "book", body_of(line for _, line in history(seed, 45)))
    with workshop.reading() as connection:
        rows = [json.loads(row) for row in connection.scalars(text("SELECT row FROM defect"))]
    workshop.close()
    return rows


def test_the_random_histories_reach_what_rows_are_made_of(tmp_path):
    rows = [row for seed in range(80) for row in rows_of(tmp_path / str(seed), seed)]

    def found(ask):
        return {ask(row) for row in rows}

    assert found(lambda row: row["state"]) >= {"Draft", "Raised", "Assessed", "In work", "Same as"}
    assert found(lambda row: row["grade"]) >= {None, 3, 4}
    assert found(lambda row: row["zone"]) >= {None, "110"}
    assert found(lambda row: row["same_as"]) >= {None, "X", "Z"}
    assert found(lambda row: row["choose_lead"]) == {False, True}
    assert found(lambda row: row["number_shared"]) == {False, True}
    assert found(lambda row: row["photographs"] > 0) == {False, True}
    assert found(lambda row: row["stamps_hold"]) >= {None, False}
