"""Whether a computer is fit to keep a book."""

import shutil
from collections import namedtuple

import pytest
from skinpin.services import check_setup as module
from skinpin.services.backup import back_up
from skinpin.services.check_setup import check_setup

from tests.benches import open_bench, set_up
from tests.test_cli import run

Usage = namedtuple("Usage", "total used free")


def by_name(workshop, data, backups):
    return {one.what: one for one in check_setup(workshop, data, backups)}


@pytest.fixture
def folders(bench):
    data = bench.workshop.folder.root.parent
    return data, data / "backups"


def test_every_thing_has_one_line_that_says_what_was_found(bench, folders):
    found = check_setup(bench.workshop, *folders)
    assert [one.what for one in found] == [
        *("data folder", "room", "clock", "time zone of the book", "database", "backup folder"),
        *("last backup", "last good rehearsal", "address for tablets", "package typst"),
        *("package pil", "Node"),
    ]
    assert all("\n" not in one.line() and one.found for one in found)
    named = {one.what: one for one in found}
    assert named["time zone of the book"].found == "Europe/London"
    assert named["database"].found.startswith("sqlite 3.")


def test_no_backup_or_one_on_the_same_disk_is_to_be_mended(bench, folders):
    named = by_name(bench.workshop, *folders)
    assert not named["last backup"].fit
    assert named["last backup"].line().endswith("none yet Run 'skinpin backup'.")
    back_up(bench.workshop, folders[1], lambda done, of: None)
    named = by_name(bench.workshop, *folders)
    assert named["last backup"].fit
    assert not named["backup folder"].fit
    assert "the same disk" in named["backup folder"].found


def test_too_little_room_a_clock_of_1970_and_a_missing_package_are_told(
    bench, folders, monkeypatch
):
    monkeypatch.setattr(shutil, "disk_usage", lambda path: Usage(10, 9, 1))
    monkeypatch.setattr(module, "computer_ms", lambda: 1000)
    monkeypatch.setattr(module.importlib.util, "find_spec", lambda name: None)
    named = by_name(bench.workshop, *folders)
    for what in ("room", "clock", "package typst", "package pil"):
        assert not named[what].fit, what


def test_the_verb_ends_with_1_while_something_is_to_be_mended(tmp_path):
    set_up(open_bench(tmp_path))
    done = run("check-setup", "--data", tmp_path)
    assert done.returncode == 1
    assert "MEND  last backup: none yet" in done.stdout
    assert len(done.stdout.splitlines()) == 12
