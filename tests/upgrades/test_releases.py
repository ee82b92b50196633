"""What every released app sends is taken as it was by the server of today, in a new book or an
old one."""

import hashlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from fastapi.testclient import TestClient
from skinpin.services.check_book import check_book
from skinpin.services.restore import restore
from skinpin.services.workshop import Workshop
from skinpin.web.server import build_server

from tests.upgrades.accounts import account, without_servers_own
from tests.upgrades.releases import RELEASES, Release, database_of, workshop_in
from tests.upgrades.replay import Replay

pytestmark = pytest.mark.parametrize("release", RELEASES, ids=lambda one: one.folder.name)


@contextmanager
def replay_on(workshop: Workshop, folder: Path, **how: bool) -> Iterator[Replay]:
    """Serve a workshop to the browsers of a recording."""
    app = build_server(workshop, ["testserver"], folder / "no-page")
    yield Replay(TestClient(app), workshop, **how)
    app.state.reports.close()
    app.state.sticks.close()


def test_a_recording_is_as_it_was_made(release: Release) -> None:
    told = release.told("release")
    found = {
        one.name: hashlib.sha256(one.read_bytes()).hexdigest()
        for one in release.folder.iterdir()
        if one.name != "release.json"
    }
    # A page is only needed while tablets may still have it.
    gone = {} if "page.tar.xz" in found else {"page.tar.xz": told["sha256"]["page.tar.xz"]}
    assert found | gone == told["sha256"]


def test_a_recording_has_every_kind_of_entry_and_every_move(release: Release) -> None:
    kinds = {kind for kind, _ in release.told("whole")["records"].values()}
    assert kinds >= {
        *("book", "person", "tablet", "airframe", "standard", "survey", "defect", "photograph"),
        *("mark", "stamp", "coverage", "stage", "instrument", "rivet_line", "pair"),
        "borescope_run",  # a kind that nobody knows
    }


def test_a_book_is_set_up_by_its_first_pages(release: Release, folder: Path) -> None:
    with workshop_in(folder / "book", release) as workshop, replay_on(workshop, folder) as one:
        assert one.play(release.part("opening")) == []


def test_its_session_runs_in_a_book_restored_from_its_backup(
    release: Release, folder: Path
) -> None:
    backup = release.unpack("backup", folder / "backup")
    with workshop_in(folder / "book", release) as workshop, replay_on(workshop, folder) as one:
        assert [line for line in restore(workshop, backup) if not line.agrees] == []
        assert one.play(release.part("before", "after")) == []
        expected = without_servers_own(release.told("whole"))
        assert without_servers_own(account(workshop)) == expected
        assert check_book(workshop) == []


def test_its_database_comes_to_today_and_takes_what_its_tablets_still_hold(
    release: Release, folder: Path
) -> None:
    file = database_of(release, folder / "book")
    with (
        workshop_in(file.parent, release, f"sqlite:///{file}") as workshop,
        replay_on(workshop, folder, is_again=True) as again,
        replay_on(workshop, folder) as after,
    ):
        assert account(workshop) == release.told("stored")
        pushed = [one for one in release.part("before") if is_sending(one)]
        assert len(pushed) > 10
        assert again.play(pushed) == []
        assert account(workshop) == release.told("stored")
        after.know(release.part("before"))
        assert after.play(release.part("after")) == []
        expected = without_servers_own(release.told("whole"))
        assert without_servers_own(account(workshop)) == expected
        assert check_book(workshop) == []


def is_sending(one: dict[str, str]) -> bool:
    """Whether a browser sends entries or a photograph, rather than ask or enrol."""
    is_entries = one["method"] == "POST" and one["path"].startswith("/api/entries")
    return is_entries or one["method"] == "PUT"
