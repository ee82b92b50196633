"""Parts of a photograph: the whole is made once, from parts that hold, or not at all."""

import hashlib
import os
import random
import subprocess
import sys
import threading
import time
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.errors import Refused
from skinpin.storage import photograph_parts
from skinpin.storage.photograph_parts import Part, PhotographParts
from skinpin.storage.photographs import MAX_FILE_BYTES, PhotographFolder

from tests.storage.part_senders import pictures
from tests.storage.power_cuts import CuttingLayer, FullDisk, PowerCut, files_below

ROOT = Path("photographs")
REPOSITORY = Path(__file__).resolve().parent.parent.parent
SIZE = 250
SEED = 41


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


def test_what_another_process_put_in_place_of_a_part_is_never_kept_as_the_whole(tmp_path):
    folder, parts = open_parts(tmp_path)
    _, other = open_parts(tmp_path)
    parts.keep(NAME, SIZE, 0, part(0))
    parts.keep(NAME, SIZE, 1, part(1))
    other.keep(NAME, SIZE, 0, checked(bytes(100)))
    with pytest.raises(Refused) as refused:
        parts.keep(NAME, SIZE, 2, part(2))
    assert refused.value.code == "wrong_sha256"
    assert not folder.exists(NAME)
    assert parts.begun(NAME) is other.begun(NAME) is None


def test_two_processes_make_the_whole_together_and_neither_clears_what_the_other_kept(tmp_path):
    (folder, one), (_, two) = open_parts(tmp_path), open_parts(tmp_path)
    assert one.keep(NAME, SIZE, 0, part(0)).missing == [1, 2]
    assert two.keep(NAME, SIZE, 2, part(2)).missing == [1]
    assert one.begun(NAME) == two.begun(NAME) == (SIZE, [0, 2])
    assert one.keep(NAME, SIZE, 1, part(1)) == ([], True)
    assert two.keep(NAME, SIZE, 1, part(1)) == ([], False)
    assert folder.read(NAME) == PICTURE
    assert files_below(tmp_path) == [str(folder.path(NAME).relative_to(tmp_path))]


def send_right(content, *opened):
    """Send all parts in turns; twice, for what lay there may have made another whole."""
    for _ in range(2):
        for n in range(-(-len(content) // 100)):
            some = checked(content[n * 100 : n * 100 + 100])
            with suppress(Refused):
                opened[n % len(opened)].keep(sha256(content), len(content), n, some)


class TornLayer(CuttingLayer):
    """Ends in the middle of a write."""

    def write_at(self, file, at, part):
        if self.cut_at == self.steps:
            super_step, self.cut_at = self.cut_at, None
            super().write_at(file, at, part[: len(part) // 2])
            self.cut_at = super_step
        super().write_at(file, at, part)


@pytest.mark.parametrize("seed", range(SEED, SEED + 8))
def test_what_is_kept_has_its_hash_whatever_two_processes_send_and_wherever_they_are_killed(seed):
    chance = random.Random(seed)
    print(f"seed {seed}")
    for _ in range(200):
        layer = TornLayer()
        opened = [open_parts(ROOT, layer) for _ in range(2)]
        for _ in range(chance.randrange(25)):
            one_act(chance, layer, opened)
        send_right(PICTURE, opened[0][1], opened[1][1])
        assert opened[0][0].read(NAME) == PICTURE


def one_act(chance, layer, opened):
    """Let one of the processes keep a part, right or wrong; some are killed or find no room."""
    who, n = chance.randrange(2), chance.randrange(3)
    is_wrong, size = chance.random() < 0.3, SIZE - 10 * (chance.random() < 0.03)
    is_killed = chance.random() < 0.25
    layer.cut_at = layer.steps + chance.randrange(9) if is_killed else None
    layer.error = chance.choice([None, OSError(28, "No space left on device")])
    try:
        content = checked(bytes(len(part(n).content))) if is_wrong else part(n)
        opened[who][1].keep(NAME, size, n, content)
    except (Refused, OSError):
        pass
    except PowerCut:
        layer.cut_at = None
        opened[who] = open_parts(ROOT, layer)
    layer.cut_at = None
    if opened[0][0].exists(NAME):
        assert opened[0][0].read(NAME) == PICTURE
        layer.remove(opened[0][0].path(NAME))  # and once more


def test_processes_that_send_and_are_killed_at_random_keep_nothing_under_another_hash(tmp_path):
    chance, children = random.Random(SEED), []
    print(f"seed {SEED}")
    for round in range(12):
        words = [sys.executable, "-m", "tests.storage.part_senders", str(tmp_path), str(round)]
        children.append(subprocess.Popen(words, cwd=REPOSITORY))
        if len(children) > 2:
            time.sleep(chance.uniform(0.3, 0.5))
            killed = children.pop(chance.randrange(3))
            killed.kill()
            killed.wait(60)
    for child in children:
        assert child.wait(60) == 0
    folder, parts = open_parts(tmp_path)
    kept = [one for one in tmp_path.glob("?/?/*") if one.is_file()]
    assert {sha256(one.read_bytes()) for one in kept} == {one.name for one in kept}
    assert {one.name for one in kept} <= {sha256(one) for one in pictures()}
    for content in pictures():
        send_right(content, parts, parts)
        assert folder.read(sha256(content)) == content
    assert (tmp_path / "told.txt").read_text().count("made") > 20


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
