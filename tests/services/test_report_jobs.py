"""Reports made one after the other: watched, cancelled, kept over a restart."""

import hashlib
import json
import shutil
import threading
import time
from collections import Counter
from contextlib import contextmanager

import pytest
from skinpin.app import open_workshop
from skinpin.domain.errors import Refused
from skinpin.services import report_jobs
from skinpin.services.people import list_people
from skinpin.services.report_jobs import ReportJobs
from skinpin.services.report_watch import LEFT_S, Standstill
from skinpin.services.workshop import Workshop
from skinpin.settings import read_settings
from skinpin.storage import report_jobs as table
from skinpin.storage.engine import writing
from skinpin.storage.reports_made import ReportsMade
from sqlalchemy import text
from sqlalchemy.exc import OperationalError

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


@pytest.fixture(autouse=True)
def empty(workshop, monkeypatch):
    monkeypatch.setattr(report_jobs, "BEAT_S", 0.05)
    yield
    with workshop.noting() as connection:
        connection.execute(text("DELETE FROM report_job"))


@pytest.fixture
def jobs(workshop, tmp_path):
    made = ReportJobs(workshop, tmp_path / "reports")
    yield made
    made.close()


def eventually(look):
    until = time.monotonic() + WAIT_S
    while not (found := look()):
        assert time.monotonic() < until
        time.sleep(0.02)
    return found


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


def test_reports_made_outlive_a_restart(workshop, clerk, tmp_path):
    first = ReportJobs(workshop, tmp_path / "reports")
    [asked] = first.ask(clerk, ["131"])
    made = ended(first, asked["id"])
    first.close()
    second = ReportJobs(workshop, tmp_path / "reports")
    assert second.one(asked["id"]) == made
    assert second.pdf(asked["id"])[0].read_bytes()[:5] == b"%PDF-"


def test_a_stop_ends_the_report_being_made_and_the_next_start_makes_those_that_wait(
    workshop, clerk, tmp_path, monkeypatch
):
    with monkeypatch.context() as patched:
        begun, _ = held(patched)
        first = ReportJobs(workshop, tmp_path / "reports")
        running, waiting = first.ask(clerk, ["131", "132"])
        assert begun.wait(WAIT_S)
        first.close()
    second = ReportJobs(workshop, tmp_path / "reports")
    assert second.one(running["id"])["trouble"]["message"] == (
        "The server was stopped while the report was made."
    )
    assert second.one(waiting["id"])["state"] == "waiting"
    second.begin()
    assert ended(second, waiting["id"])["state"] == "done"
    second.close()


def test_what_an_earlier_version_noted_is_taken_over_once(workshop, jobs, tmp_path):
    notes = tmp_path / "reports"
    notes.mkdir()
    said = {"zone": "131", "title": "Hull", "airframe": "", "asked_by": "Clerk"}
    for id, state in (("0" * 26, "done"), ("1" * 26, "running")):
        told = {**said, "id": id, "state": state, "asked_at": f"2025-11-0{1 + int(id[0])}"}
        (notes / f"{id}.json").write_text(json.dumps(told | {"sheets": 4}))
    (notes / f"{'2' * 26}.json").write_text("{ cut off")
    (notes / f"{'0' * 26}.pdf").write_bytes(b"%PDF")
    jobs.begin()
    eventually(lambda: len(jobs.all()) == 2)
    assert jobs.pdf("0" * 26)[1]["sheets"] == 4
    assert jobs.all()[0]["trouble"]["message"].startswith("The server was stopped")
    eventually(lambda: [one.name for one in notes.glob("[01]*.json")] == [])


def test_two_servers_make_each_report_once_and_tell_the_same_list(
    workshop, clerk, tmp_path, monkeypatch
):
    made, make = Counter(), report_jobs.make_report

    def counted(workshop, zone, *more):
        made[zone] += 1
        return make(workshop, zone, *more)

    monkeypatch.setattr(report_jobs, "make_report", counted)
    both = [ReportJobs(workshop, tmp_path / "reports") for _ in range(2)]
    asked = [both[0].ask(clerk, ["131", "132", "141"]), both[1].ask(clerk, ["111", "112"])]
    for job in sum(asked, []):
        assert ended(both[1], job["id"])["state"] == "done"
        assert both[0].pdf(job["id"])[0] == both[1].pdf(job["id"])[0]
    assert both[0].all() == both[1].all()
    assert set(made.values()) == {1}
    assert len(made) == 5
    for one in both:
        one.close()


def test_another_server_sees_how_far_a_report_is_and_cancels_it(
    workshop, clerk, tmp_path, monkeypatch
):
    begun, _ = held(monkeypatch)
    mine, other = (ReportJobs(workshop, tmp_path / "reports") for _ in range(2))
    [asked] = mine.ask(clerk, ["131"])
    assert begun.wait(WAIT_S)
    eventually(lambda: other.one(asked["id"])["step"]["words"] == "Photographs made ready, 3 of 20")
    assert other.cancel(asked["id"])["state"] == "running"
    assert ended(other, asked["id"])["state"] == "cancelled"
    mine.close()


def test_a_server_that_starts_ends_only_what_was_left_by_one_that_is_gone(
    workshop, clerk, tmp_path, monkeypatch
):
    left_s = 3.0  # a busy computer holds a thread up for a second
    monkeypatch.setattr("skinpin.services.report_watch.LEFT_S", left_s)
    begun, go = held(monkeypatch)
    first = ReportJobs(workshop, tmp_path / "reports")
    [alive, left] = first.ask(clerk, ["131", "132"])
    assert begun.wait(WAIT_S)
    with workshop.noting() as connection:
        assert table.claim_job(connection, "gone").asked.id == left["id"]
    second = ReportJobs(workshop, tmp_path / "reports")
    second.begin()
    assert second.one(left["id"])["state"] == "running"
    assert "counts as stopped" in ended(second, left["id"])["trouble"]["message"]
    time.sleep(left_s + 0.5)
    assert second.one(alive["id"])["state"] == "running"
    go.set()
    assert ended(second, alive["id"])["state"] == "done"
    first.close()
    second.close()


def test_a_report_that_was_given_up_meanwhile_is_not_handed_out(
    workshop, jobs, clerk, tmp_path, monkeypatch
):
    begun, go = held(monkeypatch)
    monkeypatch.setattr(ReportJobs, "_beat", lambda self: None)
    [asked] = jobs.ask(clerk, ["131"])
    assert begun.wait(WAIT_S)
    with workshop.noting() as connection:
        assert table.give_up_job(connection, table.find_job(connection, asked["id"]), {"a": 1})
    go.set()
    eventually(lambda: jobs._making is None)
    assert jobs.one(asked["id"])["state"] == "failed"
    assert list((tmp_path / "reports").glob("*")) == []


def test_a_database_that_nobody_can_write_to_ends_no_report(workshop, jobs, clerk, monkeypatch):
    monkeypatch.setattr(jobs, "begin", lambda: None)
    [asked] = jobs.ask(clerk, ["131"])
    with workshop.noting() as connection:
        assert table.claim_job(connection, "other").asked.id == asked["id"]
    now = [0.0]
    jobs._standstill = Standstill(lambda: now[0])

    def look():
        now[0] += 1
        jobs._look()
        return jobs.one(asked["id"])["state"]

    assert look() == "running"
    with monkeypatch.context() as patched:

        def held_by_another(workshop):
            raise OperationalError("BEGIN IMMEDIATE", {}, Exception("database is locked"))

        patched.setattr(Workshop, "noting_beside", held_by_another)
        for _ in range(int(LEFT_S) + 5):
            with pytest.raises(OperationalError):
                look()
    # The other's beat was held up as well: it has its whole time from now on.
    assert {look() for _ in range(int(LEFT_S))} == {"running"}
    assert look() == "failed"
    assert jobs.one(asked["id"])["trouble"]["message"].startswith("The server that made the report")


def test_the_oldest_make_way_with_their_files(workshop, clerk, tmp_path, monkeypatch):
    monkeypatch.setattr(report_jobs, "KEPT", 2)
    jobs = ReportJobs(workshop, tmp_path / "reports")
    for zone in ("131", "132", "141"):
        [asked] = jobs.ask(clerk, [zone])
        ended(jobs, asked["id"])
    eventually(lambda: [job["zone"] for job in jobs.all()] == ["141", "132"])
    assert len(list((tmp_path / "reports").glob("*.pdf"))) == 2
    jobs.close()


def test_a_full_disk_refuses_a_report_and_leaves_none_waiting(jobs, workshop, clerk):
    with workshop.engine.connect() as connection:
        raw = connection.connection.dbapi_connection
        pages = raw.execute("PRAGMA page_count").fetchone()[0]
    titles = {"131": "x" * 400_000, "132": "y"}
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(ReportJobs, "_titles", lambda *given: titles)
        patched.setattr(workshop, "noting", lambda: limited(workshop, pages))
        with pytest.raises(OperationalError, match="full"):
            jobs.ask(clerk, ["131", "132"])
    assert jobs.all() == []


@contextmanager
def limited(workshop, pages):
    """Write into a database that may have no further page."""
    with writing(workshop.engine) as connection:
        connection.exec_driver_sql(f"PRAGMA max_page_count={pages}")
        try:
            yield connection
        finally:
            connection.exec_driver_sql("PRAGMA max_page_count=1073741823")


def test_an_end_that_the_database_does_not_take_is_noted_once_it_does(
    jobs, workshop, clerk, monkeypatch
):
    refused, end = [], table.end_job

    def away(*given):
        if len(refused) < 3:
            refused.append(given)
            raise OperationalError("UPDATE", {}, Exception("the database is away"))
        return end(*given)

    monkeypatch.setattr(table, "end_job", away)
    [asked] = jobs.ask(clerk, ["131"])
    assert ended(jobs, asked["id"])["state"] == "done"
    assert len(refused) == 3


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
