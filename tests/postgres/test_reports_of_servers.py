"""Server processes over one book: each report is made once, and only what a dead one left ends."""

import os
import signal
import subprocess
import sys
import time
from collections import Counter
from contextlib import ExitStack, closing, contextmanager
from pathlib import Path

import pytest
from skinpin.services.people import Person
from skinpin.services.report_jobs import ReportJobs

from tests.benches import open_bench, set_up

ROOT = Path(__file__).resolve().parent.parent.parent
BY = Person("p", "Lead One", "lead", None, None)
WAIT_S = 60


@contextmanager
def maker(folder, address, hangs="none"):
    """Run a process that makes reports; those of one zone hang in it."""
    words = [sys.executable, "-m", "tests.postgres.report_makers", str(folder), address, hangs]
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE}
    with subprocess.Popen(words, cwd=ROOT, text=True, **pipes) as child:
        assert child.stdout.readline() == "ready\n"
        yield child
        child.stdin.close()


@pytest.fixture(params=["sqlite", "postgresql"])
def shared(request, tmp_path):
    """A book, the address of its database and its list of reports; nothing is made here."""
    folder = tmp_path / "book"
    if request.param == "sqlite":
        address = f"sqlite:///{folder / 'book.sqlite'}"
    else:
        address = request.getfixturevalue("new_database")()
    bench = set_up(open_bench(folder, address))
    jobs = ReportJobs(bench.workshop, folder / "reports")
    jobs.begin = lambda: None
    with closing(bench.workshop):
        yield folder, address, jobs


def until(look):
    end = time.monotonic() + WAIT_S
    while not (found := look()):
        assert time.monotonic() < end
        time.sleep(0.05)
    return found


def made(folder):
    return [line.split() for line in (folder / "made.txt").read_text().splitlines()]


def test_three_processes_make_each_report_exactly_once(shared):
    folder, address, jobs = shared
    for _ in range(6):
        jobs.ask(BY, ["110", "111", "112"])
    with ExitStack() as stack:
        for _ in range(3):
            stack.enter_context(maker(folder, address))
        for _ in range(6):
            jobs.ask(BY, ["110", "111", "112"])
        until(lambda: {job["state"] for job in jobs.all()} == {"done"})
    assert len(jobs.all()) == len(made(folder)) == 36
    assert len({pid for pid, _ in made(folder)}) > 1
    assert all(jobs.pdf(job["id"])[0].read_bytes() == b"%PDF" for job in jobs.all())


def test_what_a_killed_process_left_is_told_and_the_rest_goes_on(shared):
    folder, address, jobs = shared
    with maker(folder, address, hangs="111") as one:
        [left] = jobs.ask(BY, ["111"])
        until(lambda: jobs.one(left["id"])["state"] == "running")
        with maker(folder, address, hangs="112") as two:
            [alive] = jobs.ask(BY, ["112"])
            until(lambda: jobs.one(alive["id"])["state"] == "running")
            time.sleep(4)  # longer than a beat may stand still
            assert {job["state"] for job in jobs.all()} == {"running"}
            os.kill(one.pid, signal.SIGKILL)
            [waits] = jobs.ask(BY, ["110"])
            until(lambda: jobs.one(left["id"])["state"] == "failed")
            trouble = jobs.one(left["id"])["trouble"]
            assert trouble["message"].startswith("The server that made the report said nothing")
            assert jobs.one(alive["id"])["state"] == "running"
            jobs.cancel(alive["id"])
            until(lambda: jobs.one(waits["id"])["state"] == "done")
            assert jobs.one(alive["id"])["state"] == "cancelled"
            assert Counter(pid for pid, _ in made(folder))[str(two.pid)] == 2
