"""The installed command: exit codes, one clear sentence, a server that may be started again."""

import contextlib
import json
import os
import signal
import socket
import subprocess
import sys
import time
from http.client import HTTPConnection
from urllib.request import urlopen

import pytest
from skinpin.cli import VERBS, main

from tests.benches import open_bench, set_up
from tests.services.books import lines_in_order


def run(*words, stdin="", env=None):
    return subprocess.run(
        [sys.executable, "-W", "error", "-m", "skinpin.cli", *map(str, words)],
        capture_output=True,
        text=True,
        input=stdin,
        timeout=60,
        env={**os.environ, **(env or {})},
    )


def free_port():
    with socket.create_server(("127.0.0.1", 0)) as probe:
        return probe.getsockname()[1]


@contextlib.contextmanager
def served(folder, *words, env=None):
    """Serve a folder and hand over the address and the process."""
    port = free_port()
    command = [sys.executable, "-W", "error", "-m", "skinpin.cli", "serve", "--data", str(folder)]
    process = subprocess.Popen(
        [*command, "--port", str(port), *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={**os.environ, **(env or {})},
    )
    try:
        yield f"http://127.0.0.1:{port}", process
    finally:
        process.terminate()
        process.communicate(timeout=20)


def health(address):
    until = time.monotonic() + 30
    while True:
        try:
            with urlopen(f"{address}/api/health") as answer:
                return json.loads(answer.read())
        except OSError:
            if time.monotonic() > until:
                raise
            time.sleep(0.05)


def test_an_empty_folder_is_served_and_the_first_screen_told(tmp_path):
    with served(tmp_path / "book") as (address, process):
        assert health(address)["book"] is None
        process.send_signal(signal.SIGTERM)
        told = process.communicate(timeout=20)[0]
        assert address in told
        assert "The book is empty: the first screen asks for workshop" in told
        assert process.returncode in (0, -signal.SIGTERM)


def test_a_book_is_served_again_after_being_killed(tmp_path):
    bench = set_up(open_bench(tmp_path / "book"))
    bench.workshop.close()
    for stop in (signal.SIGKILL, signal.SIGTERM):
        with served(tmp_path / "book") as (address, process):
            assert health(address)["book"] == bench.new.book
            process.send_signal(stop)
            process.wait(timeout=20)


def test_a_pinned_day_is_the_day_of_what_is_written(tmp_path):
    bench = set_up(open_bench(tmp_path / "book"))
    words = ("people", "add", "--name", "Two", "--role", "clerk", "--data", tmp_path / "book")
    assert run(*words, stdin="222222\n", env={"SKINPIN_TODAY": "2031-05-06"}).returncode == 0
    last = json.loads(lines_in_order(bench)[-1])
    bench.workshop.close()
    assert last["wall"].startswith("2031-05-06T")
    assert last["set"]["role"] == {"role": "clerk", "from": "2031-05-06"}


def test_a_taken_port_is_one_sentence_and_exit_1(tmp_path):
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        done = run("serve", "--data", tmp_path / "book", "--port", port)
    assert done.returncode == 1
    assert done.stderr.count("\n") == 1
    assert f"Port {port}" in done.stderr
    assert not (tmp_path / "book").exists()


def test_a_folder_that_can_not_be_written_is_one_sentence_and_exit_1(tmp_path):
    (tmp_path / "file").write_text("not a folder")
    done = run("serve", "--data", tmp_path / "file" / "book", "--port", free_port())
    assert done.returncode == 1
    assert done.stderr.count("\n") == 1
    assert str(tmp_path / "file") in done.stderr


def test_a_setting_that_can_not_be_used_is_exit_1(tmp_path):
    done = run("people", "--data", tmp_path, env={"SKINPIN_TODAY": "tomorrow"})
    assert (done.returncode, "SKINPIN_TODAY is 'tomorrow'" in done.stderr) == (1, True)


@pytest.mark.parametrize("words", [[], ["bogus"], ["serve", "--port", "x"], ["people", "fly"]])
def test_wrong_usage_is_exit_2(words):
    assert run(*words).returncode == 2


def test_every_verb_takes_a_data_folder_and_has_help(capsys):
    for name in VERBS:
        with pytest.raises(SystemExit) as ended:
            main([name, "--help"])
        assert ended.value.code == 0
        assert "--data" in capsys.readouterr().out


def test_people_are_listed_added_and_given_passcodes(tmp_path):
    bench = set_up(open_bench(tmp_path / "book"))
    bench.workshop.close()
    book = ("--data", tmp_path / "book")
    added = run(
        "people", "add", "--name", "Fitter Two", "--role", "fitter", *book, stdin="222222\n"
    )
    assert (added.returncode, added.stdout) == (0, "Fitter Two: done\n")
    listed = run("people", *book)
    assert listed.stdout == "Fitter Two\tfitter\t-\nLead One\tlead\t01\n"
    weak = run("people", "passcode", "--name", "Fitter Two", *book, stdin="1\n")
    assert (weak.returncode, "6 to 128" in weak.stderr) == (1, True)
    nobody = run("people", "passcode", "--name", "Nobody", *book, stdin="222222\n")
    assert (nobody.returncode, "Nobody" in nobody.stderr) == (1, True)
    unnamed = run("people", "add", *book, stdin="222222\n")
    assert unnamed.returncode == 1


def test_an_answer_is_not_held_back_for_the_acknowledgement_of_the_one_before(tmp_path):
    with served(tmp_path / "book") as (address, _):
        health(address)
        line = HTTPConnection(address.removeprefix("http://"))
        began = time.perf_counter()
        for _ in range(50):
            line.request("POST", "/api/sign-in", b"{}", {"Content-Type": "application/json"})
            line.getresponse().read()
        took_s = time.perf_counter() - began
        line.close()
    # Held back, each answer takes 40 ms: two seconds in all, however fast the machine.
    assert took_s < 1.9
