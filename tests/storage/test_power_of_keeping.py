"""A loss of power at any step of a backup, a restore, a report or an export costs nothing kept."""

import shutil
from contextlib import closing

import pytest
from skinpin.services.backup import back_up
from skinpin.services.outgoing import write_document
from skinpin.services.photographs import keep_bytes
from skinpin.services.restore import restore
from skinpin.storage.backups import BackupFolder, checked_rows
from skinpin.storage.kept import Counted
from skinpin.storage.reports_made import ReportsMade

from tests.benches import open_bench
from tests.storage.power_cuts import PowerCut
from tests.storage.recording_disk import RecordingDisk

REPORT = "0123456789abcdefghjkmnpqrs"


def cut(work):
    """Do the work until the power goes; say whether it was done."""
    try:
        work()
    except PowerCut:
        return False
    return True


def whole(root):
    """Return the backups that are complete, having read every byte of each."""
    backups = BackupFolder(root, RecordingDisk())
    store = backups.photographs()
    for name in backups.names():
        for table, counted in backups.manifest(name)["tables"].items():
            rows = list(checked_rows(root / name / f"{table}.jsonl", Counted(**counted)))
            if table == "photograph_file":
                assert all(store.is_whole(row["sha256"]) for row in rows)
    return backups.names()


@pytest.fixture
def kept(bench, tmp_path):
    """A book with a backup; after it came an entry and a photograph."""
    root, disk = tmp_path / "backups", RecordingDisk()
    keep_bytes(bench.workshop, b"an older photograph" * 40)
    older = back_up(bench.workshop, root, layer=disk).folder.name
    bench.push(bench.tablet().defect("d1", note="after the backup"))
    keep_bytes(bench.workshop, b"a newer photograph" * 40)
    bench.workshop.now_ms.now_ms += 60_000
    return bench.workshop, root, disk, older


def test_a_cut_at_any_step_of_a_backup_leaves_each_one_whole_or_absent(kept, tmp_path):
    workshop, root, _, older = kept
    count = 0
    for cut_at in range(1000):
        disk = RecordingDisk()
        mine = tmp_path / f"cut{cut_at}"
        clone(root, mine, disk)
        disk.cut_at = disk.steps + cut_at
        is_done = cut(lambda mine=mine, disk=disk: back_up(workshop, mine, layer=disk))
        for names_kept in (False, True):
            again = tmp_path / "again"
            disk.after_cut(mine, again, names_kept=names_kept)
            found = whole(again)
            assert older in found
            assert len(found) == 2 or not is_done
            if not names_kept:
                workshop.now_ms.now_ms += 1000
                back_up(workshop, again, layer=RecordingDisk())
            shutil.rmtree(again)
        shutil.rmtree(mine)
        count += 1
        if is_done:
            break
    assert count > 30


def clone(root, mine, disk):
    """Copy a folder of backups so that all of it is durable."""
    shutil.copytree(root, mine)
    for file in filter(lambda one: one.is_file(), mine.rglob("*")):
        disk.named[file] = disk.sure_named[file] = next(disk._numbers)
        disk.sure_bytes[disk.named[file]] = file.read_bytes()


def test_a_cut_at_any_step_of_a_restore_leaves_an_empty_book_or_the_whole_one(kept, tmp_path):
    workshop, root, _, _ = kept
    back_up(workshop, root)
    for cut_at in range(200):
        disk, folder = RecordingDisk(), tmp_path / f"book{cut_at}"
        with closing(open_bench(folder, layer=disk)) as fresh:
            disk.cut_at = disk.steps + cut_at
            is_done = cut(lambda fresh=fresh: restore(fresh, root))
        again = tmp_path / f"again{cut_at}"
        disk.after_cut(folder, again, names_kept=False)
        (again / "photographs").mkdir(parents=True, exist_ok=True)
        shutil.copy(folder / "book.sqlite", again / "book.sqlite")
        with closing(open_bench(again)) as after:
            if is_done:
                with after.reading() as connection:
                    asked = "SELECT sha256 FROM photograph_file"
                    files = list(connection.exec_driver_sql(asked).scalars())
                assert len(files) > 2
                assert all(after.folder.is_whole(one) for one in files)
                break
            assert all(one.agrees for one in restore(after, root))
    assert 5 < cut_at < 199


def test_a_rehearsal_noted_again_stands_as_before_or_as_now(kept, tmp_path):
    _, root, _, older = kept
    for cut_at in range(20):
        disk, mine = RecordingDisk(), tmp_path / f"cut{cut_at}"
        clone(root, mine, disk)
        backups = BackupFolder(mine, disk)
        backups.note_rehearsal(older, {"at_ms": 1})
        disk.cut_at = disk.steps + cut_at
        is_done = cut(lambda one=backups: one.note_rehearsal(older, {"at_ms": 2}))
        for names_kept in (False, True):
            again = tmp_path / f"again{cut_at}{names_kept}"
            disk.after_cut(mine, again, names_kept=names_kept)
            found = BackupFolder(again).rehearsal(older)
            assert found["at_ms"] == 2 if is_done else found["at_ms"] in (1, 2)
        if is_done:
            break
    assert 3 < cut_at < 19


@pytest.mark.parametrize("kind", ["report", "document"])
def test_a_report_or_a_document_is_the_old_one_or_the_new_one_and_never_half(tmp_path, kind):
    old, new = b"%PDF old" * 90, b"%PDF new, longer" * 90

    def put(folder, disk, content):
        if kind == "document":
            write_document(folder / "zone.pdf", content, disk)
            return
        ReportsMade(folder, disk).keep(REPORT, content)

    for cut_at in range(40):
        disk, folder = RecordingDisk(), tmp_path / f"cut{cut_at}"
        folder.mkdir()
        put(folder, disk, old)
        disk.cut_at = disk.steps + cut_at
        is_done = cut(lambda folder=folder, disk=disk: put(folder, disk, new))
        for names_kept in (False, True):
            again = tmp_path / f"again{cut_at}{names_kept}"
            disk.after_cut(folder, again, names_kept=names_kept)
            [pdf] = again.glob("*.pdf")
            assert pdf.read_bytes() in ((new,) if is_done else (old, new))
        if is_done:
            break
    assert 4 < cut_at < 39


@pytest.mark.parametrize("lost", ["sync", "sync_folder"])
def test_the_recording_disk_shows_what_a_missing_sync_loses(tmp_path, monkeypatch, lost):
    monkeypatch.setattr(RecordingDisk, lost, lambda self, given: None)
    disk = RecordingDisk()
    write_document(tmp_path / "zone.pdf", b"%PDF", disk)
    (tmp_path / "again").mkdir()
    disk.after_cut(tmp_path, tmp_path / "again", names_kept=lost == "sync")
    found = [file.read_bytes() for file in (tmp_path / "again").iterdir()]
    assert found == ([b""] if lost == "sync" else [])
