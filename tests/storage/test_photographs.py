"""A file that was acknowledged is there, whole, whatever happens; any other is not there."""

import hashlib
from pathlib import Path
from random import Random

import pytest
from skinpin.domain.errors import Refused
from skinpin.storage import photographs
from skinpin.storage.photographs import UNHASHED_BYTES, PhotographFolder

from tests.storage.power_cuts import CuttingLayer, FullDisk, PowerCut, files_below

OLD, NEW = b"an older photograph" * 50, b"a newer photograph, longer" * 70
ROOT = Path("photographs")


def sha256(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def put(folder: PhotographFolder, content: bytes, token: str) -> None:
    arriving = folder.begin(sha256(content), token)
    try:
        for at in range(0, len(content), 400):
            arriving.write(content[at : at + 400])
        arriving.keep()
    finally:
        arriving.abandon()


def cut_during_second(cut_at: int) -> tuple[CuttingLayer, bool]:
    """Put a file, then another with the power going; say whether that one was acknowledged."""
    layer = CuttingLayer()
    folder = PhotographFolder(ROOT, layer)
    put(folder, OLD, "t1")
    layer.cut_at = layer.steps + cut_at
    try:
        put(folder, NEW, "t2")
    except PowerCut:
        return layer, False
    return layer, True


def steps_of_a_put() -> int:
    layer = CuttingLayer()
    folder = PhotographFolder(ROOT, layer)
    put(folder, OLD, "t1")
    before = layer.steps
    put(folder, NEW, "t2")
    return layer.steps - before


class DyingLayer(CuttingLayer):
    """The process ends once, before a folder of photographs is synced; the power stays on."""

    dies = True

    def sync_folder(self, path: Path) -> None:
        if self.dies and path.parent.parent == ROOT:
            self.dies = False
            raise KeyboardInterrupt
        super().sync_folder(path)


def test_a_file_named_before_its_folder_was_synced_is_durable_once_it_is_put_again():
    layer = DyingLayer()
    folder = PhotographFolder(ROOT, layer)
    with pytest.raises(KeyboardInterrupt):
        put(folder, NEW, "t1")
    folder.put_if_absent(sha256(NEW), NEW, "t2")
    again = PhotographFolder(ROOT, layer.after_cut(names_kept=False))
    assert again.read(sha256(NEW)) == NEW


@pytest.mark.parametrize("names_kept", [False, True])
@pytest.mark.parametrize("cut_at", range(steps_of_a_put() + 1))
def test_a_power_cut_at_any_step_leaves_a_file_whole_or_absent(cut_at, names_kept):
    layer, acknowledged = cut_during_second(cut_at)
    disk = layer.after_cut(names_kept=names_kept)
    folder = PhotographFolder(ROOT, disk)
    folder.sweep()
    assert folder.read(sha256(OLD)) == OLD
    assert folder.exists(sha256(NEW)) or not acknowledged
    if folder.exists(sha256(NEW)):
        assert folder.read(sha256(NEW)) == NEW
    assert list(disk.names(ROOT / "arriving")) == []


def test_the_cutting_disk_shows_what_a_missing_sync_loses(monkeypatch):
    monkeypatch.setattr(CuttingLayer, "sync", lambda self, file: None)
    layer = CuttingLayer()
    put(PhotographFolder(ROOT, layer), OLD, "t1")
    assert PhotographFolder(ROOT, layer.after_cut(names_kept=True)).read(sha256(OLD)) == b""


def test_the_cutting_disk_shows_what_a_missing_folder_sync_loses(monkeypatch):
    monkeypatch.setattr(CuttingLayer, "sync_folder", lambda self, path: None)
    layer = CuttingLayer()
    put(PhotographFolder(ROOT, layer), OLD, "t1")
    assert not PhotographFolder(ROOT, layer.after_cut(names_kept=False)).exists(sha256(OLD))


def test_a_full_disk_leaves_nothing_and_says_so(tmp_path):
    folder = PhotographFolder(tmp_path, FullDisk(len(OLD) + 500))
    put(folder, OLD, "t1")
    with pytest.raises(OSError, match="No space"):
        put(folder, NEW, "t2")
    assert not folder.exists(sha256(NEW))
    assert len(files_below(tmp_path)) == 1


def test_bytes_that_do_not_fit_their_name_are_refused_and_leave_nothing(tmp_path):
    folder = PhotographFolder(tmp_path)
    arriving = folder.begin(sha256(OLD), "t1")
    arriving.write(NEW)
    with pytest.raises(Refused) as refused:
        arriving.keep()
    arriving.abandon()
    assert refused.value.code == "wrong_sha256"
    assert files_below(tmp_path) == []


def test_a_large_file_is_hashed_in_the_order_in_which_it_comes(tmp_path):
    folder, content = PhotographFolder(tmp_path), Random(7).randbytes(2 * UNHASHED_BYTES + 9)
    parts = [content[at : at + 65_536] for at in range(0, len(content), 65_536)]
    swapped, whole = folder.begin(sha256(content), "t1"), folder.begin(sha256(content), "t2")
    for one, other in zip([parts[1], parts[0], *parts[2:]], parts, strict=True):
        swapped.write(one)
        whole.write(other)
    with pytest.raises(Refused):
        swapped.keep()
    swapped.abandon()
    assert not folder.exists(sha256(content))
    whole.keep()
    assert folder.read(sha256(content)) == content


def test_two_arrivals_of_one_file_end_in_one_whole_file(tmp_path):
    folder = PhotographFolder(tmp_path)
    one, two = folder.begin(sha256(NEW), "t1"), folder.begin(sha256(NEW), "t2")
    one.write(NEW)
    two.write(NEW[:30])
    one.keep()
    two.write(NEW[30:])
    two.keep()
    assert folder.read(sha256(NEW)) == NEW
    assert len(files_below(tmp_path)) == 1


def test_a_file_over_the_limit_is_refused_before_it_is_whole(tmp_path, monkeypatch):
    monkeypatch.setattr(photographs, "MAX_FILE_BYTES", 1000)
    folder = PhotographFolder(tmp_path)
    with pytest.raises(Refused) as refused:
        put(folder, NEW, "t1")
    assert refused.value.code == "too_large"
    assert files_below(tmp_path) == []


def test_a_sweep_clears_what_an_interrupted_arrival_left(tmp_path):
    folder = PhotographFolder(tmp_path)
    (tmp_path / "arriving" / f"{sha256(NEW)}.t1").write_bytes(NEW[:10])
    put(folder, OLD, "t2")
    assert PhotographFolder(tmp_path).sweep() == 1
    assert [Path(name).name for name in files_below(tmp_path)] == [sha256(OLD)]


@pytest.mark.parametrize("name", ["", "../../etc/passwd", "A" * 64, "a" * 63, "a" * 64 + "/"])
def test_a_name_that_is_no_sha256_reaches_no_file(tmp_path, name):
    with pytest.raises(Refused):
        PhotographFolder(tmp_path).open(name)


def test_a_file_lies_two_folders_deep(tmp_path):
    folder = PhotographFolder(tmp_path)
    put(folder, OLD, "t1")
    name = sha256(OLD)
    assert files_below(tmp_path) == [f"{name[0]}/{name[1]}/{name}"]
