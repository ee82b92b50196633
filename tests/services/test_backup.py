"""Backups are consistent; a restore gives back what stood; a rehearsal proves it."""

import hashlib
import json
from datetime import date
from pathlib import Path

import pytest
from skinpin.domain.errors import Refused
from skinpin.services.backup import back_up
from skinpin.services.check_book import check_book
from skinpin.services.photographs import keep_bytes
from skinpin.services.rehearse import keeping, rehearse
from skinpin.services.restore import restore
from skinpin.services.workshop import DAY_MS
from skinpin.storage.backups import BackupFolder
from skinpin.storage.log import find_book
from sqlalchemy import text

from tests.benches import Bench, derived, open_bench
from tests.services.books import lines_in_order


@pytest.fixture
def filled(bench):
    """A book of seven records, one photograph, one refused line."""
    tablet = bench.tablet()
    written = [one for at in range(7) for one in tablet.defect(f"d{at}", number=f"A/000{at + 1}")]
    bench.push(written)
    keep_bytes(bench.workshop, b"first photograph")
    return bench


@pytest.fixture
def empty(tmp_path):
    """A workshop to restore into."""
    one = open_bench(tmp_path / "restored", seed=3)
    yield one
    one.close()


def test_a_restored_book_holds_every_line_and_derives_the_same(filled, empty, tmp_path):
    back_up(filled.workshop, tmp_path / "backups")
    found = restore(empty, tmp_path / "backups")
    assert [one for one in found if not one.agrees] == []
    assert lines_in_order(Bench(empty, filled.new, "")) == lines_in_order(filled)
    assert derived(empty) == derived(filled.workshop)
    assert check_book(empty) == []


def test_a_restored_book_is_the_same_book_in_a_new_epoch(filled, empty, tmp_path):
    back_up(filled.workshop, tmp_path / "backups")
    restore(empty, tmp_path / "backups")
    with filled.workshop.reading() as before, empty.reading() as after:
        old, new = find_book(before), find_book(after)
    assert (new.id, new.seq) == (old.id, old.seq)
    assert new.epoch != old.epoch


def test_a_restored_tablet_may_go_on_sending(filled, empty, tmp_path):
    tablet = filled.tablet("tableta2")
    back_up(filled.workshop, tmp_path / "backups")
    restore(empty, tmp_path / "backups")
    answer = Bench(empty, filled.new, "").push(tablet.defect("d9", number="B/0001"))
    assert [one["result"] for one in answer["results"]] == ["stored"]


def test_photographs_of_earlier_backups_are_not_copied_again(filled, tmp_path):
    first = back_up(filled.workshop, tmp_path / "backups")
    keep_bytes(filled.workshop, b"second photograph")
    filled.workshop.now_ms.now_ms += 1000
    second = back_up(filled.workshop, tmp_path / "backups")
    assert (first.copied, second.copied) == (first.photographs, 1)
    assert second.photographs == first.photographs + 1


def test_what_comes_during_a_backup_is_in_the_next_one(filled, empty, tmp_path):
    tablet = filled.tablet("tableta2")

    def push_meanwhile(done, of):
        if done == 1:
            filled.push(tablet.defect("late", number="B/0001"))

    made = back_up(filled.workshop, tmp_path / "backups", push_meanwhile)
    found = restore(empty, tmp_path / "backups")
    assert [one for one in found if not one.agrees] == []
    assert len(lines_in_order(filled)) == made.entries + 1


def test_a_restore_over_a_book_is_refused_and_changes_nothing(filled, tmp_path):
    back_up(filled.workshop, tmp_path / "backups")
    before = lines_in_order(filled)
    with pytest.raises(Refused, match="book here already") as refused:
        restore(filled.workshop, tmp_path / "backups")
    assert refused.value.code == "book_exists"
    assert lines_in_order(filled) == before


@pytest.mark.parametrize("name", ["entry.jsonl", "person_secret.jsonl", "manifest.json"])
def test_a_backup_with_one_changed_byte_is_refused_and_nothing_is_kept(
    filled, empty, tmp_path, name
):
    made = back_up(filled.workshop, tmp_path / "backups")
    file = made.folder / name
    content = bytearray(file.read_bytes())
    content[len(content) // 2] ^= 1
    file.write_bytes(content)
    with pytest.raises(Refused, match=name) as refused:
        restore(empty, tmp_path / "backups")
    assert refused.value.code == "backup_damaged"
    with empty.reading() as connection:
        assert find_book(connection) is None


@pytest.mark.parametrize("damage", [Path.unlink, lambda file: file.write_bytes(b"rot")])
def test_a_backup_without_one_of_its_photographs_gives_back_all_else_and_says_so(
    filled, empty, tmp_path, damage
):
    back_up(filled.workshop, tmp_path / "backups")
    lost = keep_bytes(filled.workshop, b"first photograph")
    damage(tmp_path / "backups" / "photographs" / lost[0] / lost[1] / lost)
    found = restore(empty, tmp_path / "backups")
    assert [one.what for one in found if not one.agrees] == ["photographs whole"]
    assert derived(empty) == derived(filled.workshop)


@pytest.mark.parametrize("damage", [Path.unlink, lambda file: file.write_bytes(b"rot")])
def test_a_photograph_lost_from_the_book_is_named_and_the_log_is_backed_up(
    filled, empty, tmp_path, damage
):
    lost = keep_bytes(filled.workshop, b"first photograph")
    damage(filled.workshop.folder.path(lost))
    assert back_up(filled.workshop, tmp_path / "backups").lacking == [lost]
    restore(empty, tmp_path / "backups")
    assert lines_in_order(Bench(empty, filled.new, "")) == lines_in_order(filled)


def test_a_photograph_that_rotted_in_the_backup_is_copied_again(filled, tmp_path):
    back_up(filled.workshop, tmp_path / "backups")
    sha256 = keep_bytes(filled.workshop, b"first photograph")
    BackupFolder(tmp_path / "backups").photographs().path(sha256).write_bytes(b"rot")
    filled.workshop.now_ms.now_ms += 1000
    assert back_up(filled.workshop, tmp_path / "backups").copied == 1
    assert BackupFolder(tmp_path / "backups").photographs().is_whole(sha256)


def test_a_second_backup_at_the_same_time_is_refused_and_harms_nothing(filled, empty, tmp_path):
    refused = []

    def another(done, of):
        if done == 1:
            with pytest.raises(Refused, match="under way") as error:
                back_up(filled.workshop, tmp_path / "backups")
            refused.append(error.value.code)

    back_up(filled.workshop, tmp_path / "backups", another)
    assert refused == ["backup_under_way"]
    assert all(one.agrees for one in restore(empty, tmp_path / "backups"))


def test_a_folder_without_a_backup_is_refused(empty, tmp_path):
    with pytest.raises(Refused, match="does not hold a complete backup"):
        restore(empty, tmp_path / "nothing")


def test_an_interrupted_backup_is_no_backup_and_is_swept_away(filled, tmp_path):
    root = tmp_path / "backups"
    with pytest.raises(RuntimeError):
        back_up(filled.workshop, root, _stop)
    assert [one.name[:7] for one in root.glob("*20*")] == ["making-"]
    with pytest.raises(Refused, match="complete backup"):
        restore(open_bench(tmp_path / "other"), root)
    filled.workshop.now_ms.now_ms += 1000
    back_up(filled.workshop, root)
    assert not list(root.glob("making-*"))


def _stop(done, of):
    raise RuntimeError("the plug was pulled")


def test_a_rehearsal_prints_its_page_and_leaves_no_scratch_behind(filled, tmp_path):
    back_up(filled.workshop, tmp_path / "backups")
    (tmp_path / "scratch").mkdir()
    found = rehearse(filled.workshop, tmp_path / "backups", tmp_path / "scratch")
    assert found.agrees
    assert "digest of standing values" in found.page()
    assert "The restore agrees." in found.page()
    told = {
        line.split()[1].rstrip(":"): int(line.split()[0])
        for line in found.page().splitlines()
        if line.startswith("  ")
    }
    records = next(one for one in found.compared if one.what == "records")
    assert sum(told.values()) == int(records.found)
    assert told["defects"] == found.kinds["defect"]
    assert list((tmp_path / "scratch").iterdir()) == []


def test_a_rehearsal_of_other_counts_says_that_it_differs(filled, tmp_path):
    made = back_up(filled.workshop, tmp_path / "backups")
    manifest = json.loads((made.folder / "manifest.json").read_text())
    manifest["standing"]["rows"] += 1
    changed = json.dumps(manifest).encode()
    (made.folder / "manifest.json").write_bytes(changed)
    (made.folder / "manifest.json.sha256").write_text(hashlib.sha256(changed).hexdigest())
    found = rehearse(filled.workshop, tmp_path / "backups")
    assert not found.agrees
    assert "DIFFERS" in found.page()
    assert keeping(filled.workshop, tmp_path / "backups")["rehearsal_days"] is None


@pytest.mark.parametrize(
    ("days", "backup_due", "rehearsal_due"),
    [(0, False, False), (6, False, False), (7, True, False), (29, True, False), (30, True, True)],
)
def test_a_backup_warns_after_7_days_and_a_rehearsal_after_30(
    filled, tmp_path, days, backup_due, rehearsal_due
):
    back_up(filled.workshop, tmp_path / "backups")
    rehearse(filled.workshop, tmp_path / "backups")
    filled.workshop.now_ms.now_ms += days * DAY_MS
    age = keeping(filled.workshop, tmp_path / "backups")
    assert age["backup_days"] == age["rehearsal_days"] == days
    assert (age["backup_due"], age["rehearsal_due"]) == (backup_due, rehearsal_due)


def test_a_book_that_was_never_backed_up_says_so(filled, tmp_path):
    age = keeping(filled.workshop, tmp_path / "backups")
    assert age == {
        "backup_days": None,
        "rehearsal_days": None,
        "backup_due": True,
        "rehearsal_due": True,
        "check_days": None,
        "check_faults": 0,
        "check_fault": None,
    }


def test_no_sign_in_and_no_code_goes_into_a_backup(filled, tmp_path):
    made = back_up(filled.workshop, tmp_path / "backups")
    names = sorted(one.name for one in made.folder.iterdir())
    assert "session.jsonl" not in names
    assert "enrolment_code.jsonl" not in names
    assert date.fromisoformat(made.folder.name[:10]) == date(2025, 11, 3)


def test_a_backup_of_no_book_is_refused(empty, tmp_path):
    with pytest.raises(Refused, match="no book here"):
        back_up(empty, tmp_path / "backups")


@pytest.mark.parametrize(
    ("damage", "sentence"),
    [
        ("DELETE FROM entry WHERE seq = 5", "at least one entry is missing"),
        ("DELETE FROM entry WHERE seq = (SELECT max(seq) FROM entry)", "order of arrival"),
        ("UPDATE entry SET line = replace(line, 'A/0003', 'A/0004')", "is not as it came"),
        ("UPDATE entry SET sha256 = substr(sha256, 2) || 'f' WHERE seq = 6", "is not as it came"),
    ],
)
def test_a_missing_or_changed_entry_is_named(filled, damage, sentence):
    assert check_book(filled.workshop) == []
    with filled.workshop.writing() as connection:
        connection.execute(text(damage))
    assert sentence in "\n".join(check_book(filled.workshop))


def test_a_missing_or_changed_photograph_is_named(filled):
    one, other = (keep_bytes(filled.workshop, each) for each in (b"one", b"other"))
    filled.workshop.folder.path(one).unlink()
    filled.workshop.folder.path(other).write_bytes(b"0ther")
    sentences = check_book(filled.workshop)
    assert f"The photograph {one} is missing." in sentences
    assert f"The photograph {other} is not as it came." in sentences
