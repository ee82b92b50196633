"""A loss of power while a stick is taken in, a book transferred or a small copy made costs nothing.

And no other place writes files: each that does is named beside the test that walks it.
"""

import hashlib
import re
import shutil
from contextlib import closing
from pathlib import Path

import pytest
from skinpin.services.check_book import check_book
from skinpin.services.photographs import keep_bytes
from skinpin.services.stick_files import take_in
from skinpin.services.transfer import transfer
from skinpin.storage.log import find_book
from skinpin.storage.photographs import PhotographFolder

from tests.bags import stick_tablet, zipped
from tests.benches import open_bench, set_up
from tests.storage.power_cuts import PowerCut
from tests.storage.recording_disk import RecordingDisk

ROOT = Path(__file__).resolve().parents[2]
PHOTOGRAPHS = [bytes([n]) * (700 + n) for n in range(3)]
CALLS = re.compile(
    r"\.(?:open_new|open_parts|write_at|write_lines|put_if_absent|cache_rendition)\("
    r"|layer\.(?:rename|write)\(|put_in_place\("
)
BARE = re.compile(r"write_bytes\(|write_text\(|open\([^)\n]*\"[wxa]b?\"|os\.replace\(|shutil\.copy")

WALKED = {
    "storage/photographs.py": [
        "test_a_power_cut_at_any_step_leaves_a_file_whole_or_absent",
        "test_a_cut_at_any_step_of_a_small_copy_leaves_it_whole_or_to_be_made_again",
    ],
    "storage/photograph_parts.py": [
        "test_a_power_cut_at_any_step_leaves_the_photograph_whole_or_to_be_sent_again"
    ],
    "storage/backups.py": [
        "test_a_cut_at_any_step_of_a_backup_leaves_each_one_whole_or_absent",
        "test_a_rehearsal_noted_again_stands_as_before_or_as_now",
    ],
    "storage/reports_made.py": [
        "test_a_report_or_a_document_is_the_old_one_or_the_new_one_and_never_half"
    ],
    "services/outgoing.py": [
        "test_a_report_or_a_document_is_the_old_one_or_the_new_one_and_never_half"
    ],
    "services/photographs.py": [
        "test_a_cut_at_any_step_of_a_small_copy_leaves_it_whole_or_to_be_made_again"
    ],
    "services/backup.py": ["test_a_cut_at_any_step_of_a_backup_leaves_each_one_whole_or_absent"],
    "services/restore.py": [
        "test_a_cut_at_any_step_of_a_restore_leaves_an_empty_book_or_the_whole_one"
    ],
    "services/transfer.py": [
        "test_a_cut_at_any_step_of_a_transfer_leaves_an_empty_place_or_the_whole_book"
    ],
    # A file of a stick on its way in is begun anew after a stop; what is taken in of it is walked.
    "storage/uploads.py": ["test_a_cut_at_any_step_of_taking_in_is_made_good_by_the_same_file"],
    "storage/files.py": ["test_the_recording_disk_shows_what_a_missing_sync_loses"],
}
BARE_WRITES = {
    "services/outgoing.py": "to a terminal or a pipe",
    "storage/backups.py": "the lock, which holds nothing",
    "storage/files.py": "the layer itself",
    "reports/paper_form.py": "the typesetter's scratch folder",
    "reports/scale_card.py": "the typesetter's scratch folder",
    "reports/zone_report.py": "the typesetter's scratch folder",
}


def cut(work):
    """Do the work until the power goes; say whether it was done."""
    try:
        work()
    except PowerCut:
        return False
    return True


def after(disk, folder, again, *, names_kept):
    """Start the computer again: files as the disk surely held them, the database as committed."""
    disk.after_cut(folder, again, names_kept=names_kept)
    for file in folder.glob("book.sqlite*"):
        shutil.copy(file, again / file.name)
    return open_bench(again, seed=9)


@pytest.mark.parametrize("names_kept", [False, True])
def test_a_cut_at_any_step_of_taking_in_is_made_good_by_the_same_file(tmp_path, names_kept):
    (tmp_path / "first").mkdir()
    bench = set_up(open_bench(tmp_path / "first" / "book"))
    stick = stick_tablet(bench)
    lines = [text for n in range(3) for _, text in stick.tablet.defect(f"d{n}")]
    (tmp_path / "stick.zip").write_bytes(zipped(stick.files(lines, PHOTOGRAPHS)))
    bench.workshop.close()
    lead, path = bench.new.lead, tmp_path / "stick.zip"
    for cut_at in range(200):
        folder, disk = tmp_path / f"cut{cut_at}", RecordingDisk()
        shutil.copytree(tmp_path / "first" / "book", folder)
        with closing(open_bench(folder, layer=disk, seed=5)) as workshop:
            made = [file for file in (folder / "photographs").rglob("*") if file.is_file()]
            for file in made:  # what the set-up kept is durable
                disk.named[file] = disk.sure_named[file] = next(disk._numbers)
                disk.sure_bytes[disk.named[file]] = file.read_bytes()
            disk.cut_at = disk.steps + cut_at
            is_done = cut(lambda at=workshop: take_in(at, lead, path))
        again = tmp_path / f"again{cut_at}"
        again.mkdir()
        with closing(after(disk, folder, again, names_kept=names_kept)) as workshop:
            workshop.folder.sweep()
            assert check_book(workshop) == []
            taken = take_in(workshop, lead, path)
            assert (taken.stored, taken.photographs_stored) == (0, 0) or not is_done
            assert check_book(workshop) == []
            assert all(workshop.folder.read(sha256(one)) == one for one in PHOTOGRAPHS)
        if is_done:
            break
    assert 10 < cut_at < 199


def test_a_cut_at_any_step_of_a_transfer_leaves_an_empty_place_or_the_whole_book(bench, tmp_path):
    bench.push(bench.tablet().defect("d1"))
    for one in PHOTOGRAPHS:
        keep_bytes(bench.workshop, one)
    for cut_at in range(200):
        folder, disk = tmp_path / f"cut{cut_at}", RecordingDisk()
        with closing(open_bench(folder, layer=disk, seed=5)) as target:
            disk.cut_at = disk.steps + cut_at
            is_done = cut(lambda to=target: transfer(bench.workshop, to))
        again = tmp_path / f"again{cut_at}"
        again.mkdir()
        with closing(after(disk, folder, again, names_kept=False)) as target:
            target.folder.sweep()
            with target.reading() as connection:
                assert (find_book(connection) is not None) == is_done
            if not is_done:
                assert all(one.agrees for one in transfer(bench.workshop, target))
            assert check_book(target) == []
            assert all(target.folder.read(sha256(one)) == one for one in PHOTOGRAPHS)
        if is_done:
            break
    assert 10 < cut_at < 199


def test_a_cut_at_any_step_of_a_small_copy_leaves_it_whole_or_to_be_made_again(tmp_path):
    name, content = sha256(PHOTOGRAPHS[0]), b"a small copy" * 50
    for cut_at in range(20):
        folder, disk = tmp_path / f"cut{cut_at}", RecordingDisk()
        photographs = PhotographFolder(folder, disk)
        disk.cut_at = disk.steps + cut_at
        is_done = cut(lambda at=photographs: at.cache_rendition(name, 320, content, "t1"))
        for names_kept in (False, True):
            again = tmp_path / f"again{cut_at}{names_kept}"
            disk.after_cut(folder, again, names_kept=names_kept)
            found = PhotographFolder(again)
            found.sweep()
            path = found.rendition_path(name, 320)
            assert not path.exists() or path.read_bytes() == content
            found.cache_rendition(name, 320, content, "t2")
            assert path.read_bytes() == content
        if is_done:
            break
    assert 3 < cut_at < 19


def test_every_place_that_writes_files_is_walked_by_a_test():
    tests = "".join(file.read_text() for file in (ROOT / "tests/storage").glob("test_*.py"))
    here = {name for name, text in sources() if CALLS.search(text)}
    assert here == set(WALKED)
    missing = [one for names in WALKED.values() for one in names if f"def {one}(" not in tests]
    assert missing == []


def test_nothing_is_written_past_the_layer_but_what_is_named():
    assert {name for name, text in sources() if BARE.search(text)} == set(BARE_WRITES)


def sources():
    """Return every file of the server with its text."""
    root = ROOT / "backend/skinpin"
    return [(str(file.relative_to(root)), file.read_text()) for file in root.rglob("*.py")]


def sha256(content):
    return hashlib.sha256(content).hexdigest()
