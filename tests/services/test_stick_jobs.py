"""Files on their way in by several server processes."""

import errno
import os
import time
from concurrent.futures import ThreadPoolExecutor
from types import SimpleNamespace

import pytest
from skinpin.domain.errors import Refused
from skinpin.services import stick_jobs
from skinpin.services.people import Person
from skinpin.services.stick_jobs import MOST_KEPT, StickJobs

from tests.bags import stick_tablet, zipped


@pytest.fixture
def by(bench):
    return Person(bench.new.lead, "Lead One", "lead", None, None)


@pytest.fixture
def shared(bench):
    """The workshop of one of several servers, as on PostgreSQL."""
    engine = SimpleNamespace(dialect=SimpleNamespace(name="postgresql"))
    return SimpleNamespace(
        engine=engine, new_id=bench.workshop.new_id, reading=bench.workshop.reading,
        now_ms=bench.workshop.now_ms, real=bench.workshop,
    )  # fmt: skip


@pytest.fixture
def content(bench):
    stick = stick_tablet(bench)
    [(_, line)] = stick.tablet.defect("d1", number="A/0001")
    return zipped(stick.files([line], [b"\xff\xd8\xff" + b"p" * 5000]))


def ended(jobs, by, id):
    for _ in range(500):
        if (job := jobs.one(by, id))["state"] in ("done", "refused"):
            return job
        time.sleep(0.02)
    raise AssertionError(job)


@pytest.fixture
def real(monkeypatch):
    take_in = stick_jobs.take_in
    monkeypatch.setattr(stick_jobs, "take_in", lambda shop, *given: take_in(shop.real, *given))


def test_a_file_begun_at_one_server_goes_on_at_another_that_starts_meanwhile(
    shared, by, content, tmp_path, real
):
    one = StickJobs(shared, tmp_path / "sticks")
    id = one.begin(by, len(content))["id"]
    one.add(by, id, 0, content[:3000])
    two = StickJobs(shared, tmp_path / "sticks")
    assert two.one(by, id)["here_bytes"] == 3000
    assert two.add(by, id, 3000, content[3000:])["here_bytes"] == len(content)
    assert two.start(by, id, "")["state"] == "running"
    assert ended(one, by, id)["taken"]["stored"] == 1
    assert one.one(by, id) == two.one(by, id)
    two.close()
    assert not list((tmp_path / "sticks").glob("*.zip"))


def test_while_one_server_takes_a_file_in_another_says_so_and_does_not_begin(
    shared, by, content, tmp_path, monkeypatch
):
    go = []

    def slowly(shop, by, path, reason, tell):
        while not go:
            tell("files checked", 1, 2)
            time.sleep(0.01)
        raise Refused("not_a_bag", "No file of a tablet.", "")

    monkeypatch.setattr(stick_jobs, "take_in", slowly)
    monkeypatch.setattr(stick_jobs, "TELL_S", 0.05)
    one, two = (StickJobs(shared, tmp_path / "sticks") for _ in range(2))
    id = one.begin(by, len(content))["id"]
    one.add(by, id, 0, content)
    one.start(by, id, "")
    time.sleep(0.2)
    assert two.one(by, id)["state"] == "running"
    assert two.one(by, id)["step"] == {"words": "files checked", "done": 1, "of": 2}
    with pytest.raises(Refused) as refused:
        two.start(by, id, "")
    assert refused.value.code == "not_open"
    go.append(True)
    assert ended(two, by, id)["trouble"]["code"] == "not_a_bag"


def test_a_file_whose_server_was_killed_is_said_to_be_stopped_and_is_taken_in_again(
    shared, by, content, tmp_path, real
):
    jobs = StickJobs(shared, tmp_path / "sticks")
    id = jobs.begin(by, len(content))["id"]
    jobs.add(by, id, 0, content)
    jobs._uploads.note(id, jobs.one(by, id) | {"state": "running", "step": None})
    assert jobs.one(by, id)["trouble"]["message"] == "The server was stopped meanwhile."
    jobs.start(by, id, "")
    assert ended(jobs, by, id)["taken"]["stored"] == 1


def test_where_servers_share_the_folder_a_start_removes_only_what_is_days_old(
    shared, by, content, tmp_path
):
    jobs, folder = StickJobs(shared, tmp_path / "sticks"), tmp_path / "sticks"
    old, new = (jobs.begin(by, len(content))["id"] for _ in range(2))
    for name in (f"{old}.zip", f"{old}.json"):
        os.utime(folder / name, (time.time() - 8 * 86_400,) * 2)
    again = StickJobs(shared, folder)
    assert again.one(by, new)["state"] == "coming"
    with pytest.raises(Refused, match="not here"):
        again.one(by, old)


def test_a_sole_server_removes_at_its_start_what_was_left(bench, by, content, tmp_path):
    id = StickJobs(bench.workshop, tmp_path / "sticks").begin(by, len(content))["id"]
    again = StickJobs(bench.workshop, tmp_path / "sticks")
    with pytest.raises(Refused, match="not here"):
        again.one(by, id)
    assert list((tmp_path / "sticks").iterdir()) == []


@pytest.mark.parametrize("failing", ["held", "note"])
def test_a_disk_that_fails_at_the_start_is_told_at_once_and_the_file_can_be_started_again(
    bench, by, content, tmp_path, monkeypatch, failing
):
    jobs = StickJobs(bench.workshop, tmp_path / "sticks")
    id = jobs.begin(by, len(content))["id"]
    jobs.add(by, id, 0, content)

    def full(*given):
        raise OSError(errno.ENOSPC, "No space left on device")

    with monkeypatch.context() as patched, ThreadPoolExecutor(1) as pool:
        patched.setattr(jobs._uploads, failing, full)
        asked = pool.submit(jobs.start, by, id, "")
        with pytest.raises(OSError, match="No space"):
            asked.result(timeout=10)
    assert jobs.one(by, id)["state"] == "coming"
    assert not jobs._steps
    jobs.start(by, id, "")
    assert ended(jobs, by, id)["taken"]["stored"] == 1
    jobs.close()


def test_a_file_that_is_still_sent_outlasts_twenty_that_are_begun_later(
    bench, by, content, tmp_path
):
    jobs, folder = StickJobs(bench.workshop, tmp_path / "sticks"), tmp_path / "sticks"
    sent, idle = (jobs.begin(by, len(content))["id"] for _ in range(2))
    for name in (f"{sent}.zip", f"{sent}.json", f"{idle}.zip", f"{idle}.json"):
        os.utime(folder / name, (time.time() - 3600,) * 2)
    for at in range(MOST_KEPT):
        jobs.add(by, sent, at, content[at : at + 1])
        jobs.begin(by, len(content))
    assert jobs.one(by, sent)["here_bytes"] == MOST_KEPT
    with pytest.raises(Refused, match="not here"):
        jobs.one(by, idle)
    assert len(list(folder.glob("*.json"))) == MOST_KEPT
