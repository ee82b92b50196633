"""Reports made one after the other: watched, cancelled, kept over a restart."""

import hashlib
import shutil
import threading
import time

import pytest
from skinpin.app import open_workshop
from skinpin.domain.errors import Refused
from skinpin.services import report_jobs
from skinpin.services.people import list_people
from skinpin.services.report_jobs import ReportJobs
from skinpin.settings import read_settings
from skinpin.storage.reports_made import ReportsMade

from tests.ready_book import ready_book

WAIT_S = 60


@pytest.fixture(scope="module")
def workshop(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo") / "book"
    shutil.copytree(ready_book(), folder)
    opened = open_workshop(read_settings(folder, {"SKINPIN_TODAY": "2025-11-03"}))
    yield opened
    opened.close()


@pytest.fixture
def clerk(workshop):
    with workshop.reading() as connection:
        return next(one for one in list_people(connection, "2025-11-03") if one.role == "clerk")


@pytest.fixture
def jobs(workshop, tmp_path):
    made = ReportJobs(workshop, tmp_path / "reports")
    yield made
    made.close()


def ended(jobs, id):
    until = time.monotonic() + WAIT_S
    while (job := jobs.one(id))["state"] in ("waiting", "running"):
        assert time.monotonic() < until, job
        time.sleep(0.02)
    return job


def held(monkeypatch):
    """Hold every report that begins, until it is let go; it can be cancelled meanwhile."""
    begun, go = threading.Event(), threading.Event()

    def make(workshop, zone, airframe, running):
        begun.set()
        while not go.wait(0.01):
            running.now("photographs", 3, 20)
        running.now("sheets")
        return report_jobs.make_report.__wrapped__(workshop, zone, airframe, running)

    make.__wrapped__ = report_jobs.make_report
    monkeypatch.setattr(report_jobs, "make_report", make)
    return begun, go


def test_a_report_is_made_and_handed_out_with_its_hash(jobs, clerk):
    [asked] = jobs.ask(clerk, ["131"])
    assert (asked["state"], asked["title"]) == ("waiting", "Hull bottom F15–F24, port")
    job = ended(jobs, asked["id"])
    path, _ = jobs.pdf(asked["id"])
    assert (job["state"], job["sheets"], job["records"]) == ("done", 2, 0)
    assert job["sha256"] == hashlib.sha256(path.read_bytes()).hexdigest()
    assert job["asked_by"] == "Records clerk"
    assert len(job["record_sha256"]) == 64


def test_several_zones_are_several_reports_the_newest_first(jobs, clerk):
    asked = jobs.ask(clerk, ["131", "132", "131"])
    assert [job["zone"] for job in asked] == ["131", "132"]
    for job in asked:
        assert ended(jobs, job["id"])["state"] == "done"
    assert {job["zone"] for job in jobs.all()} == {"131", "132"}


def test_how_far_it_is_is_said_in_words(jobs, clerk, monkeypatch):
    begun, go = held(monkeypatch)
    [asked] = jobs.ask(clerk, ["131"])
    assert begun.wait(WAIT_S)
    time.sleep(0.05)
    step = jobs.one(asked["id"])["step"]
    assert step["words"] == "Photographs made ready, 3 of 20"
    assert (step["done"], step["of"]) == (3, 20)
    go.set()
    assert ended(jobs, asked["id"])["state"] == "done"


def test_a_report_being_made_is_cancelled_and_leaves_no_file(jobs, clerk, monkeypatch):
    begun, _ = held(monkeypatch)
    running, waiting = jobs.ask(clerk, ["131", "132"])
    assert begun.wait(WAIT_S)
    assert jobs.cancel(waiting["id"])["state"] == "cancelled"
    jobs.cancel(running["id"])
    assert ended(jobs, running["id"])["state"] == "cancelled"
    for job in (running, waiting):
        with pytest.raises(Refused, match="is cancelled"):
            jobs.pdf(job["id"])


def test_a_report_that_is_made_can_not_be_cancelled_any_more(jobs, clerk):
    [asked] = jobs.ask(clerk, ["131"])
    ended(jobs, asked["id"])
    assert jobs.cancel(asked["id"])["state"] == "done"


def test_a_report_that_fails_says_why_and_the_next_is_made(jobs, clerk, monkeypatch):
    make = report_jobs.make_report

    def fails(workshop, zone, *more):
        if zone == "131":
            raise OSError(28, "No space left on device")
        return make(workshop, zone, *more)

    monkeypatch.setattr(report_jobs, "make_report", fails)
    bad, good = jobs.ask(clerk, ["131", "132"])
    job = ended(jobs, bad["id"])
    assert job["state"] == "failed"
    assert job["trouble"]["message"] == "The report could not be made: No space left on device."
    assert ended(jobs, good["id"])["state"] == "done"


def test_zones_that_are_none_are_refused_and_nothing_is_begun(jobs, clerk):
    with pytest.raises(Refused, match="no zone 999"):
        jobs.ask(clerk, ["131", "999"])
    with pytest.raises(Refused, match="for no zone"):
        jobs.ask(clerk, [])
    assert jobs.all() == []


def test_more_than_can_wait_are_refused(jobs, clerk, monkeypatch):
    held(monkeypatch)
    monkeypatch.setattr(report_jobs, "MOST_ASKED", 2)
    jobs.ask(clerk, ["131", "132"])
    with pytest.raises(Refused, match="2 reports are waiting"):
        jobs.ask(clerk, ["111"])


@pytest.mark.parametrize("id", ["", "x", "../../book", "0" * 26, "z" * 300])
def test_an_id_that_is_none_is_refused(jobs, id):
    with pytest.raises(Refused, match="no such report"):
        jobs.one(id)


def test_reports_made_outlive_a_restart_and_one_half_made_says_so(workshop, clerk, tmp_path):
    first = ReportJobs(workshop, tmp_path / "reports")
    [asked] = first.ask(clerk, ["131"])
    made = ended(first, asked["id"])
    first.close()
    broken = made | {"id": "0" * 26, "state": "running", "zone": "132"}
    ReportsMade(tmp_path / "reports").note("0" * 26, broken)
    second = ReportJobs(workshop, tmp_path / "reports")
    assert second.one(asked["id"]) == made
    assert second.pdf(asked["id"])[0].read_bytes()[:5] == b"%PDF-"
    assert second.one("0" * 26)["state"] == "failed"
    assert "server was stopped" in second.one("0" * 26)["trouble"]["message"]
    second.close()


def test_the_oldest_make_way_with_their_files(workshop, clerk, tmp_path, monkeypatch):
    monkeypatch.setattr(report_jobs, "KEPT", 2)
    jobs = ReportJobs(workshop, tmp_path / "reports")
    for zone in ("131", "132", "141"):
        [asked] = jobs.ask(clerk, [zone])
        ended(jobs, asked["id"])
    assert [job["zone"] for job in jobs.all()] == ["141", "132"]
    assert len(list((tmp_path / "reports").glob("*.pdf"))) == 2
    jobs.close()


def test_a_full_disk_refuses_a_report_and_leaves_none_waiting(jobs, clerk, monkeypatch):
    def full(self, id, said):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(ReportsMade, "note", full)
        with pytest.raises(OSError, match="No space left"):
            jobs.ask(clerk, ["131", "132"])
    assert jobs.all() == []


def test_reports_go_on_after_one_that_could_not_be_taken_away(jobs, clerk, monkeypatch):
    def refuse(self, id):
        raise OSError(30, "Read-only file system")

    with monkeypatch.context() as patched:
        patched.setattr(ReportsMade, "remove", refuse)
        patched.setattr(report_jobs, "KEPT", 1)
        jobs.ask(clerk, ["131", "132"])
        until = time.monotonic() + WAIT_S
        while any(job["state"] in ("waiting", "running") for job in jobs.all()):
            assert time.monotonic() < until
            time.sleep(0.02)
    [third] = jobs.ask(clerk, ["131"])
    assert ended(jobs, third["id"])["state"] == "done"
