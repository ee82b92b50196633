"""Replays that are kept: how many wait, what goes stale, and what a killed process leaves."""

import subprocess
import sys
import threading
import time
from concurrent.futures import ThreadPoolExecutor

import pytest
from skinpin.app import open_workshop
from skinpin.domain.errors import Refused
from skinpin.services.replays import MOST_WAITING, Made, Replays
from skinpin.settings import read_settings
from skinpin.storage.engine import open_engine


def made(key, lacks=()):
    def make(at):
        (at / "book").write_text("names")
        return Made(key, open_engine(f"sqlite:///{at / 'book.sqlite'}"), lacks)

    return make


def none(sha256s):
    return ()


def take(replays, key, make=None):
    return replays.take(lambda: key, make or made(key), none)


def test_beyond_a_few_that_wait_one_is_refused_and_all_others_are_served(tmp_path):
    replays, go, asked = Replays(tmp_path), threading.Event(), []

    def slowly(at):
        go.wait(20)
        return made("day")(at)

    def ask():
        asked.append("day")
        return "day"

    with ThreadPoolExecutor(MOST_WAITING + 1) as pool:
        served = [pool.submit(replays.take, ask, slowly, none) for _ in range(MOST_WAITING + 1)]
        until_s = time.monotonic() + 10
        while len(asked) < MOST_WAITING + 1 or replays._waiting < MOST_WAITING + 1:
            assert time.monotonic() < until_s
            time.sleep(0.01)
        with pytest.raises(Refused) as refused:
            take(replays, "day")
        assert refused.value.code == "wait"
        go.set()
        found = [one.result(timeout=20) for one in served]
    assert all(one is found[0] for one in found)
    assert take(replays, "day") is found[0]  # and once it is made nobody is refused
    replays.close()
    for _ in range(found[0].users):
        replays.give_back(found[0])
    assert not list(tmp_path.glob("skinpin-as-at-*"))


def test_a_replay_made_without_a_file_is_made_anew_once_the_file_came(tmp_path):
    replays, here = Replays(tmp_path), set()
    ask = lambda: replays.take(lambda: 1, made(1, {"a"}), here.intersection)  # noqa: E731
    first = ask()
    assert ask() is first
    here.add("b")
    assert ask() is first
    here.add("a")
    second = ask()
    assert second is not first
    assert first.folder.is_dir()  # it is read still
    for _ in range(3):
        replays.give_back(first)
    assert not first.folder.exists()
    replays.give_back(second)
    replays.close()


def test_a_refused_making_leaves_no_folder(tmp_path):
    def fails(at):
        raise Refused("not_a_date", "None.", "")

    with pytest.raises(Refused):
        take(Replays(tmp_path), "day", fails)
    assert not list(tmp_path.glob("skinpin-as-at-*"))


OTHER = """
import sys, time
from pathlib import Path
from tests.services.test_replays import Replays, take
replays = Replays(Path(sys.argv[1]))
take(replays, "day")
print("made", flush=True)
time.sleep(60)
"""


def test_a_start_removes_what_a_killed_process_left_and_nothing_of_a_living_one(tmp_path):
    root = tmp_path / "book" / "as-at"
    settings = read_settings(tmp_path / "book", {})
    open_workshop(settings).close()
    others = [
        subprocess.Popen([sys.executable, "-c", OTHER, str(root)], stdout=subprocess.PIPE)
        for _ in range(2)
    ]
    try:
        for one in others:
            assert one.stdout.readline() == b"made\n"
        left = lambda: len(list(root.glob("skinpin-as-at-*/book")))  # noqa: E731
        assert left() == 2
        open_workshop(settings, sweep=True).close()
        assert left() == 2
        others[0].kill()
        others[0].wait()
        open_workshop(settings, sweep=True).close()
        assert left() == 1
    finally:
        for one in others:
            one.kill()
            one.wait()
            one.stdout.close()
    assert Replays(root).sweep() == 1
