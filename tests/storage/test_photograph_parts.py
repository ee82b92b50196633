"""Parts of a photograph: the whole is made once, from parts that hold, or not at all."""

import hashlib
import os
import random
import threading
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.errors import Refused
from skinpin.storage import photograph_parts
from skinpin.storage.photograph_parts import Part, PhotographParts
from skinpin.storage.photographs import MAX_FILE_BYTES, PhotographFolder

from tests.storage.power_cuts import CuttingLayer, FullDisk, PowerCut, files_below

ROOT = Path("photographs")
SIZE = 250


@pytest.fixture(autouse=True)
def _small_parts(monkeypatch):
    monkeypatch.setattr(photograph_parts, "PART_BYTES", 100)


def sha256(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


PICTURE = random.Random(3).randbytes(SIZE)
NAME = sha256(PICTURE)


def part(n: int) -> Part:
    return checked(PICTURE[n * 100 : n * 100 + 100])


def checked(content: bytes) -> Part:
    return Part(content, sha256(content))


def open_parts(root, layer=None) -> tuple[PhotographFolder, PhotographParts]:
    folder = PhotographFolder(root, layer)
    return folder, PhotographParts(folder)


@settings(deadline=None, max_examples=60)
@given(
    order=st.lists(st.integers(0, 2), min_size=1, max_size=9), restarts=st.sets(st.integers(0, 8))
)
def test_any_order_with_repeats_and_restarts_makes_the_whole_as_soon_as_all_are_here(
    order, restarts
):
    layer = CuttingLayer()
    folder, parts = open_parts(ROOT, layer)
    here = set()
    for step, n in enumerate([*order, 0, 1, 2]):
        if step in restarts:
            folder, parts = open_parts(ROOT, layer)
        was_whole = folder.exists(NAME)
        kept = parts.keep(NAME, SIZE, n, part(n))
        here.add(n)
        assert folder.exists(NAME) == (here == {0, 1, 2})
        assert kept.missing == ([] if was_whole else sorted({0, 1, 2} - here))
        assert kept.is_new == (folder.exists(NAME) and not was_whole)
    assert folder.read(NAME) == PICTURE
    assert list(layer.names(ROOT / "parts")) == []


def test_a_restart_knows_the_parts_that_are_here(tmp_path):
    open_parts(tmp_path)[1].keep(NAME, SIZE, 2, part(2))
    assert open_parts(tmp_path)[1].begun(NAME) == (SIZE, [2])


def test_a_part_that_was_damaged_on_the_disk_is_asked_for_again(tmp_path):
    _, parts = open_parts(tmp_path)
    parts.keep(NAME, SIZE, 0, part(0))
    parts.keep(NAME, SIZE, 1, part(1))
    kept = tmp_path / "parts" / NAME
    kept.write_bytes(b"?" + kept.read_bytes()[1:])
    assert open_parts(tmp_path)[1].begun(NAME) == (SIZE, [1])


def test_what_another_process_wrote_over_the_parts_is_never_kept_as_the_whole(tmp_path):
    folder, parts = open_parts(tmp_path)
    parts.keep(NAME, SIZE, 0, part(0))
    parts.keep(NAME, SIZE, 1, part(1))
    (tmp_path / "parts" / NAME).write_bytes(bytes(100))
    with pytest.raises(Refused) as refused:
        parts.keep(NAME, SIZE, 2, part(2))
    assert refused.value.code == "wrong_sha256"
    assert not folder.exists(NAME)
    assert parts.begun(NAME) is None


@pytest.mark.parametrize("left", [b"", b"x\n", b"250", b"250\n0 abc", b"999999999\n"])
def test_notes_that_cannot_be_read_begin_the_photograph_anew(tmp_path, left):
    open_parts(tmp_path)
    (tmp_path / "parts" / NAME).write_bytes(part(0).content)
    (tmp_path / "parts" / f"{NAME}.here").write_bytes(left)
    folder, parts = open_parts(tmp_path)
    assert (parts.begun(NAME) or (SIZE, []))[1] == []
    for n in range(3):
        parts.keep(NAME, SIZE, n, part(n))
    assert folder.read(NAME) == PICTURE


def steps_of_three_parts() -> int:
    layer = CuttingLayer()
    _, parts = open_parts(ROOT, layer)
    before = layer.steps
    with pytest.MonkeyPatch.context() as small:
        small.setattr(photograph_parts, "PART_BYTES", 100)
        for n in range(3):
            parts.keep(NAME, SIZE, n, part(n))
    return layer.steps - before


def go_on(folder: PhotographFolder, parts: PhotographParts) -> None:
    """Do what a sender does: ask what is here, and send the rest."""
    parts.join_left(NAME)
    if not folder.exists(NAME):
        _, here = parts.begun(NAME) or (0, [])
        for n in {0, 1, 2} - set(here):
            parts.keep(NAME, SIZE, n, part(n))
    assert folder.read(NAME) == PICTURE


@pytest.mark.parametrize("names_kept", [False, True])
@pytest.mark.parametrize("cut_at", range(steps_of_three_parts() + 1))
def test_a_power_cut_at_any_step_leaves_the_photograph_whole_or_to_be_sent_again(
    cut_at, names_kept
):
    layer = CuttingLayer()
    _, parts = open_parts(ROOT, layer)
    layer.cut_at = layer.steps + cut_at
    acknowledged = False
    try:
        for n in range(3):
            acknowledged = not parts.keep(NAME, SIZE, n, part(n)).missing
    except PowerCut:
        acknowledged = False
    folder, parts = open_parts(ROOT, layer.after_cut(names_kept=names_kept))
    assert folder.exists(NAME) or not acknowledged
    go_on(folder, parts)


def test_a_process_that_ends_at_any_step_goes_on_with_what_is_there():
    for cut_at in range(steps_of_three_parts() + 1):
        layer = CuttingLayer()
        _, parts = open_parts(ROOT, layer)
        layer.cut_at = layer.steps + cut_at
        try:
            for n in range(3):
                parts.keep(NAME, SIZE, n, part(n))
        except PowerCut:
            pass
        layer.cut_at = None
        go_on(*open_parts(ROOT, layer))


def test_parts_that_make_another_whole_are_thrown_away_and_can_be_sent_again(tmp_path):
    folder, parts = open_parts(tmp_path)
    wrong = checked(bytes(100))
    parts.keep(NAME, SIZE, 0, part(0))
    parts.keep(NAME, SIZE, 1, wrong)
    with pytest.raises(Refused) as refused:
        parts.keep(NAME, SIZE, 2, part(2))
    assert refused.value.code == "wrong_sha256"
    assert files_below(tmp_path) == []
    for n in range(3):
        parts.keep(NAME, SIZE, n, part(n))
    assert folder.read(NAME) == PICTURE


def test_a_part_sent_again_with_other_bytes_replaces_the_one_before(tmp_path):
    folder, parts = open_parts(tmp_path)
    parts.keep(NAME, SIZE, 0, checked(bytes(100)))
    parts.keep(NAME, SIZE, 1, part(1))
    parts.keep(NAME, SIZE, 0, part(0))
    parts.keep(NAME, SIZE, 2, part(2))
    assert folder.read(NAME) == PICTURE


def test_another_size_begins_the_photograph_anew(tmp_path):
    _, parts = open_parts(tmp_path)
    parts.keep(NAME, SIZE, 0, part(0))
    assert parts.keep(NAME, 300, 2, checked(bytes(100))).missing == [0, 1]
    assert parts.begun(NAME) == (300, [2])


def test_two_tablets_that_send_the_same_photograph_at_once_make_it_once(tmp_path):
    folder, parts = open_parts(tmp_path)
    made, threads = [], []

    def send(seed):
        order = list(range(3))
        random.Random(seed).shuffle(order)
        for n in order:
            made.append(parts.keep(NAME, SIZE, n, part(n)).is_new)

    for seed in range(8):
        threads.append(threading.Thread(target=send, args=(seed,)))
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert made.count(True) == 1
    assert folder.read(NAME) == PICTURE
    assert len(files_below(tmp_path)) == 1


@pytest.mark.parametrize(
    ("size_bytes", "n", "code"),
    [
        (SIZE, 3, "wrong_shape"),
        (SIZE, -1, "wrong_shape"),
        (0, 0, "wrong_shape"),
        (MAX_FILE_BYTES + 1, 0, "too_large"),
    ],
)
def test_a_part_that_cannot_be_is_refused_and_leaves_nothing(tmp_path, size_bytes, n, code):
    with pytest.raises(Refused) as refused:
        open_parts(tmp_path)[1].keep(NAME, size_bytes, n, checked(b"x"))
    assert refused.value.code == code
    assert files_below(tmp_path) == []


@pytest.mark.parametrize("room_bytes", range(0, 700, 35))
def test_a_full_disk_keeps_what_was_here_and_goes_on_when_there_is_room(tmp_path, room_bytes):
    layer = FullDisk(room_bytes)
    folder, parts = open_parts(tmp_path, layer)
    try:
        for n in range(3):
            parts.keep(NAME, SIZE, n, part(n))
    except OSError:
        assert not folder.exists(NAME)
    layer.room_bytes = 10**6
    for again in (parts, open_parts(tmp_path)[1]):
        for n in range(3):
            again.keep(NAME, SIZE, n, part(n))
        assert folder.read(NAME) == PICTURE


def test_only_parts_that_nobody_went_on_with_are_swept(tmp_path):
    other = bytes(SIZE)
    _, parts = open_parts(tmp_path)
    parts.keep(NAME, SIZE, 0, part(0))
    parts.keep(sha256(other), SIZE, 0, checked(bytes(100)))
    old_s = (tmp_path / "parts" / NAME).stat().st_mtime - 1000
    for name in (NAME, f"{NAME}.here"):
        os.utime(tmp_path / "parts" / name, (old_s, old_s))
    assert parts.sweep(old_s + 1) == 1
    assert parts.begun(NAME) is None
    assert parts.begun(sha256(other)) == (SIZE, [0])
    assert parts.keep(NAME, SIZE, 1, part(1)).missing == [0, 2]
