"""The same book on PostgreSQL: migrated, pushed, pulled, rebuilt, and equal to SQLite's."""

import random
import threading

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from skinpin.domain.errors import Refused
from skinpin.services.devices import device_of, end_device, show_devices
from skinpin.services.people import add_person, people_here
from skinpin.services.photographs import keep_bytes, missing
from skinpin.services.pull import pull
from skinpin.services.roles import change_role
from skinpin.services.signing import sign_in, who_is
from skinpin.storage.engine import writing
from skinpin.storage.migrate import migrate
from skinpin.storage.rebuild import rebuild
from sqlalchemy import text

from tests.benches import PASSCODE, derived, open_bench, set_up
from tests.postgres import clusters
from tests.storage.test_derive import arrive, empty_book, history, kept, reference
from tests.sync.client import from_page


@pytest.fixture
def postgres_bench(tmp_path, new_database):
    bench = set_up(open_bench(tmp_path, new_database()))
    yield bench
    bench.workshop.close()


@settings(
    deadline=None,
    max_examples=6,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)
@given(seed=st.integers(0, 10**6), order=st.integers(0, 10**6))
def test_any_order_derives_the_same_on_both_databases(tmp_path_factory, new_database, seed, order):
    written, folder = history(seed, 20), tmp_path_factory.mktemp("book")
    one = empty_book(folder / "postgres", new_database())
    other = empty_book(folder / "sqlite")
    try:
        arrive(one, written, random.Random(order))
        arrive(other, written, random.Random(order + 1))
        verdicts, stands = reference(written, one.files.grade_of)
        assert kept(one, stands) == (verdicts, stands)
        incremental = derived(one)
        assert incremental == derived(other)
        with writing(one.engine) as connection:
            rebuild(connection, one.files)
        assert derived(one) == incremental
    finally:
        one.close()
        other.close()


def test_migrating_again_changes_nothing(postgres_bench):
    before = derived(postgres_bench.workshop)
    migrate(postgres_bench.workshop.engine)
    assert derived(postgres_bench.workshop) == before


def test_ids_are_in_the_order_of_their_bytes(postgres_bench):
    with postgres_bench.workshop.reading() as connection:
        connection.execute(text("INSERT INTO link VALUES ('1B', 'x', ''), ('1a', 'x', '')"))
        by_id = text("SELECT record FROM link WHERE field = 'x' ORDER BY record")
        as_words = text("SELECT v FROM (VALUES ('1B'), ('1a')) AS t (v) ORDER BY v")
        assert list(connection.scalars(by_id)) == ["1B", "1a"]
        assert list(connection.scalars(as_words)) == ["1a", "1B"]


def test_what_is_pushed_is_pulled(postgres_bench):
    tablet = postgres_bench.tablet()
    written = [line for n in range(30) for line in tablet.defect(f"d{n}", note="köln")]
    results = postgres_bench.push(written)["results"]
    assert {one["result"] for one in results} == {"stored"}
    body = pull(postgres_bench.workshop, tablet.book, epoch="", after=0, at="", limit=1000)
    assert from_page(body)[1][-30:] == [line for _, line in written]
    assert {one["result"] for one in postgres_bench.push(written)["results"]} == {"duplicate"}


def test_people_devices_and_files_live_here_too(postgres_bench):
    workshop, lead = postgres_bench.workshop, postgres_bench.new.lead
    tablet = postgres_bench.tablet()
    assert device_of(workshop, tablet.token).letter == "A"
    assert who_is(workshop, sign_in(workshop, lead, PASSCODE).token).role == "lead"
    add_person(workshop, lead, "Fitter Two", "fitter", "", "222222")
    assert [one["name"] for one in people_here(workshop, with_unlock=True)] == [
        *("Fitter Two", "Lead One")
    ]
    assert missing(workshop, [keep_bytes(workshop, b"x")]) == []


def test_a_role_is_withdrawn_and_a_device_ended_here_too(postgres_bench):
    workshop, lead = postgres_bench.workshop, postgres_bench.new.lead
    tablet = postgres_bench.tablet()
    postgres_bench.push(tablet.defect("d1", number="A/0001"))
    fitter = add_person(workshop, lead, "Fitter Nine", "fitter", "", "222222")
    assert change_role(workshop, lead, fitter, None, "left the workshop").role is None
    device_of(workshop, tablet.token, 3)
    [one] = [one for one in show_devices(workshop, lead) if one.name == tablet.name]
    assert (one.unsent, one.shut) == (3, None)
    end_device(workshop, lead, one.device, "left on the ferry")
    with pytest.raises(Refused, match="left on the ferry"):
        device_of(workshop, tablet.token)


def test_writers_at_once_leave_no_gap_and_a_reader_misses_nothing(postgres_bench):
    tablets = [postgres_bench.tablet(f"tablet{place}x") for place in range(4)]
    acts = [[one.defect(f"{one.name}{n}", note="a") for n in range(12)] for one in tablets]
    workers = [
        threading.Thread(target=lambda some=some: [postgres_bench.push(act) for act in some])
        for some in acts
    ]
    for one in workers:
        one.start()
    found, cursor = [], {"epoch": "", "after": 0, "at": ""}
    working = True
    while working:
        at_work = any(one.is_alive() for one in workers)
        body = pull(postgres_bench.workshop, postgres_bench.new.book, limit=5, **cursor)
        head, lines = from_page(body)
        found += lines
        working = at_work or head["to"] < head["seq"]
        cursor = {"epoch": head["epoch"], "after": head["to"], "at": head["at"]}
    for one in workers:
        one.join()
    with postgres_bench.workshop.reading() as connection:
        lines = connection.scalars(text("SELECT line FROM entry ORDER BY seq"))
        assert found == [line.encode() for line in lines]
    assert len(found) == cursor["after"]


def test_without_postgres_the_package_to_install_is_named(monkeypatch):
    monkeypatch.setattr(clusters.shutil, "which", lambda name: None)
    monkeypatch.setattr(clusters.Path, "glob", lambda self, pattern: iter(()))
    with pytest.raises(RuntimeError, match="apt-get install postgresql"):
        clusters.programs()
