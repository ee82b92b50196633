"""The table of reports asked for: each is taken by one, however many ask at once."""

import threading

import pytest
from skinpin.storage import report_jobs as table
from skinpin.storage.report_jobs import Asked


def asked(count):
    return [Asked(f"{n:026}", "131", "Hull", "", "Clerk", "2025-11-03T08:15") for n in range(count)]


@pytest.fixture
def waiting(workshop):
    """Two hundred reports that wait."""
    with workshop.noting() as connection:
        table.add_jobs(connection, asked(200))
    return workshop


def test_threads_that_ask_at_once_get_each_report_once_and_the_longest_waiting_first(waiting):
    taken = {name: [] for name in "abcdef"}
    start = threading.Barrier(len(taken))

    def claim(name):
        start.wait()
        while True:
            with waiting.noting_beside() as connection:
                held = table.claim_job(connection, name)
            if held is None:
                return
            taken[name].append(held.asked.id)

    threads = [threading.Thread(target=claim, args=(name,)) for name in taken]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(sum(taken.values(), [])) == [one.id for one in asked(200)]
    assert all(some == sorted(some) for some in taken.values())
    with waiting.reading() as connection:
        found = {held.asked.id: held.claimed_by for held in table.list_jobs(connection)}
    assert found == {id: name for name, some in taken.items() for id in some}


def test_only_who_claimed_a_report_ends_it_and_only_once(waiting):
    with waiting.noting() as connection:
        held = table.claim_job(connection, "one")
        assert not table.end_job(connection, held.asked.id, "two", "done", {"sheets": 1})
        assert table.find_job(connection, held.asked.id).state == "running"
        assert table.end_job(connection, held.asked.id, "one", "done", {"sheets": 2})
        assert not table.end_job(connection, held.asked.id, "one", "failed", None)
        assert table.find_job(connection, held.asked.id).told == {"sheets": 2}


def test_one_that_beat_meanwhile_is_not_given_up(waiting):
    with waiting.noting() as connection:
        seen = table.claim_job(connection, "one")
        assert table.beat_job(connection, seen.asked.id, "one", ["photographs", 3, 20])
        assert not table.give_up_job(connection, seen, {"trouble": {}})
        now = table.find_job(connection, seen.asked.id)
        assert (now.state, now.step) == ("running", ["photographs", 3, 20])
        assert table.give_up_job(connection, now, {"trouble": {}})
        assert not table.beat_job(connection, seen.asked.id, "one", None)


def test_a_running_report_that_is_cancelled_is_told_so_at_its_next_beat(waiting):
    with waiting.noting() as connection:
        one = table.claim_job(connection, "one").asked.id
        other = asked(2)[1].id
        for id in (one, other):
            table.cancel_job(connection, id)
        assert table.find_job(connection, other).state == "cancelled"
        assert not table.beat_job(connection, one, "one", None)
        assert table.find_job(connection, one).state == "running"


def test_what_ended_lies_behind_the_newest_goes_and_what_waits_stays(waiting):
    with waiting.noting() as connection:
        for _ in range(5):
            held = table.claim_job(connection, "one")
            table.end_job(connection, held.asked.id, "one", "done", None)
        assert table.ids_to_go(connection, 3) == [f"{n:026}" for n in (1, 0)]
        table.remove_job(connection, f"{0:026}")
        assert table.ids_to_go(connection, 3) == [f"{1:026}"]
        assert table.count_open(connection) == 195
