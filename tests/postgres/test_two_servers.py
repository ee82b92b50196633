"""Two server processes over one database: no number lost or given twice, and either may die."""

import hashlib
import json
import os
import random
import signal
import threading
import time
from contextlib import closing

import pytest
from skinpin.services.backup import back_up
from skinpin.services.check_book import check_book
from skinpin.services.enrolment import give_code
from skinpin.services.photographs import keep_bytes
from skinpin.services.restore import restore
from sqlalchemy import text

from tests.benches import derived, new_key, open_bench, set_up
from tests.faults.workers import Acknowledged, Line, in_threads, served

SEED = 20251103


@pytest.fixture
def shared(tmp_path, new_database):
    """A book on PostgreSQL that nobody serves yet, with codes and tablets."""
    address = new_database()
    bench = set_up(open_bench(tmp_path / "book", address))
    tablets = [bench.tablet(f"tablet{letter}x") for letter in "abcd"]
    codes = [give_code(bench.workshop, bench.new.lead) for _ in range(8)]
    with bench.workshop.writing() as connection:  # the servers' clock is that of today
        connection.execute(text("UPDATE enrolment_code SET expires_at_ms = 9000000000000"))
    bench.workshop.close()
    return tmp_path / "book", address, tablets, codes


def all_at_once(work, given):
    """Do the work on everything given at the same time and return what came out."""
    found = [None] * len(given)

    def one(at):
        found[at] = work(given[at])

    threads = [threading.Thread(target=one, args=(at,)) for at in range(len(given))]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return found


def test_two_servers_push_and_enrol_at_once_and_lose_no_number(shared):
    folder, address, tablets, codes = shared
    with (
        served(folder, SKINPIN_DATABASE=address) as (one, _),
        served(folder, SKINPIN_DATABASE=address) as (two, _),
    ):

        def push(at):
            with Line((one, two)[at % 2], tablets[at]) as line:
                return [
                    result
                    for n in range(25)
                    for result in line.push(
                        tablets[at],
                        [text for _, text in tablets[at].defect(f"{at}-{n}", note="both")],
                    )
                ]

        def enrol(at):
            with Line((one, two)[at % 2], tablets[0]) as line:
                body = json.dumps({"code": codes[at], "public_key": new_key()}).encode()
                told = {
                    "Content_Type": "application/json",
                    "Origin": f"http://127.0.0.1:{line.port}",
                }
                return json.loads(line.ask("POST", "/api/enrol", body, **told))["letter"]

        jobs = [lambda at=at: push(at) for at in range(4)]
        jobs += [lambda at=at: enrol(at) for at in range(8)]
        found = all_at_once(lambda job: job(), jobs)
    results = [result for some in found[:4] for result in some]
    assert {one["result"] for one in results} == {"stored"}
    assert len({one["seq"] for one in results}) == 100
    assert sorted(found[4:]) == ["F", "G", "H", "J", "K", "L", "M", "N"]
    with closing(open_bench(folder, address, seed=2)) as workshop:
        assert check_book(workshop) == []
        with workshop.reading() as connection:
            seqs = list(connection.scalars(text("SELECT seq FROM entry ORDER BY seq")))
            assert seqs == list(range(1, connection.scalar(text("SELECT seq FROM book")) + 1))


def test_what_one_server_took_in_the_other_hands_out_when_the_first_is_killed(shared):
    folder, address, tablets, _ = shared
    done = Acknowledged()
    with (
        served(folder, SKINPIN_DATABASE=address) as (two, _),
        served(folder, SKINPIN_DATABASE=address) as (one, child),
    ):
        workers = in_threads(one, tablets[:2], SEED, done)
        chance, mine = random.Random(SEED), []
        with Line(two, tablets[2]) as line:
            until = time.monotonic() + 1.5
            while time.monotonic() < until:
                mine.append(line.put(chance.randbytes(30_000)))
                lines = [text for _, text in tablets[2].defect(f"two{len(mine)}", note="b")]
                assert line.push(tablets[2], lines)[0]["result"] == "stored"
            os.kill(child.pid, signal.SIGKILL)
            for worker in workers:
                worker.join()
            there = line.entries(tablets[0].book)
            assert {id: there.get(id) for id in done.entries} == done.entries
            assert line.missing([*done.photographs, *mine]) == []
            for sha256 in list(done.photographs)[-3:]:
                found = line.ask("GET", f"/api/photographs/{sha256}")
                assert hashlib.sha256(found).hexdigest() == sha256
    assert len(done.entries) > 5
    with closing(open_bench(folder, address, seed=2)) as workshop:
        assert check_book(workshop) == []


def test_a_backup_of_postgresql_is_restored_into_either_database(tmp_path, new_database):
    bench = set_up(open_bench(tmp_path / "book", new_database()))
    keep_bytes(bench.workshop, b"a photograph")
    bench.push(bench.tablet().defect("d1", note="before"))
    back_up(bench.workshop, tmp_path / "backups")
    expected = derived(bench.workshop)
    bench.workshop.close()
    for at, address in enumerate((new_database(), "")):
        with closing(open_bench(tmp_path / f"again{at}", address, seed=4)) as again:
            assert all(one.agrees for one in restore(again, tmp_path / "backups"))
            assert derived(again) == expected
            assert check_book(again) == []
