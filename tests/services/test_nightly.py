"""A backup is made once a night by the server itself, whenever it runs."""

import time
from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from skinpin.services.backup import back_up
from skinpin.services.nightly import Nightly, is_due
from skinpin.services.workshop import DAY_MS
from skinpin.storage.backups import BackupFolder

LONDON = ZoneInfo("Europe/London")


def at(workshop, *when):
    """Set the workshop's clock to a local time."""
    workshop.now_ms.now_ms = int(datetime(*when, tzinfo=LONDON).timestamp() * 1000)


def test_a_book_never_backed_up_is_due_and_no_book_is_not(bench, workshop, tmp_path):
    assert is_due(bench.workshop, tmp_path / "backups")
    assert not is_due(workshop, tmp_path / "backups")


@pytest.mark.parametrize(
    ("made", "looked", "due"),
    [
        ((2025, 11, 3, 14, 0), (2025, 11, 4, 1, 59), False),
        ((2025, 11, 3, 14, 0), (2025, 11, 4, 2, 1), True),
        ((2025, 11, 4, 2, 1), (2025, 11, 4, 23, 0), False),
        ((2025, 11, 4, 1, 0), (2025, 11, 4, 3, 0), True),
        # The clocks go back at 02:00 on 2025-10-26: the night still has one backup.
        ((2025, 10, 26, 2, 30), (2025, 10, 26, 9, 0), False),
        ((2025, 10, 25, 9, 0), (2025, 10, 26, 9, 0), True),
    ],
)
def test_a_backup_is_due_once_two_in_the_morning_of_the_workshop_has_passed(
    bench, tmp_path, made, looked, due
):
    at(bench.workshop, *made)
    back_up(bench.workshop, tmp_path / "backups")
    at(bench.workshop, *looked)
    assert is_due(bench.workshop, tmp_path / "backups") is due


def test_the_server_makes_the_backup_and_only_one_a_night(bench, tmp_path):
    backups = BackupFolder(tmp_path / "backups")
    nightly = Nightly(bench.workshop, backups.root, every_s=0.01)
    nightly.start()
    wait_for(lambda: len(backups.names()) == 1)
    time.sleep(0.1)
    assert len(backups.names()) == 1
    bench.workshop.now_ms.now_ms += DAY_MS
    wait_for(lambda: len(backups.names()) == 2)
    nightly.stop()


def test_a_backup_that_fails_is_said_and_tried_again(bench, tmp_path, caplog):
    (tmp_path / "backups").write_text("no folder")
    nightly = Nightly(bench.workshop, tmp_path / "backups", every_s=0.01)
    nightly.start()
    wait_for(lambda: "nightly backup" in caplog.text)
    (tmp_path / "backups").unlink()
    wait_for(lambda: len(BackupFolder(tmp_path / "backups").names()) == 1)
    nightly.stop()


def wait_for(done, seconds=20):
    """Wait until something is so."""
    until = time.monotonic() + seconds
    while not done():
        assert time.monotonic() < until
        time.sleep(0.01)
