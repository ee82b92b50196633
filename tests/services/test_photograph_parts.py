"""Photographs in parts through the services."""

import hashlib
import random

import pytest
from skinpin.domain.errors import Refused
from skinpin.services.photograph_parts import PartUpload, parts_here, sweep_parts
from skinpin.services.photographs import missing
from skinpin.services.workshop import DAY_MS, computer_ms
from skinpin.storage.photograph_parts import PART_BYTES, PhotographParts

from tests.storage.power_cuts import files_below

PICTURE = random.Random(5).randbytes(2_500_000)


def sha256(content):
    return hashlib.sha256(content).hexdigest()


NAME = sha256(PICTURE)


def part(n):
    return PICTURE[n * PART_BYTES : (n + 1) * PART_BYTES]


def send(workshop, n, content=None, told=None):
    content = part(n) if content is None else content
    upload = PartUpload(workshop, NAME, len(PICTURE), n, told or sha256(content))
    for at in range(0, len(content), 65_536):
        upload.write(content[at : at + 65_536])
    return upload.finish()


def test_the_last_part_makes_the_photograph_and_its_one_row(bench):
    workshop = bench.workshop
    assert send(workshop, 1).missing == [0, 2]
    assert parts_here(workshop, NAME) == (False, 2_500_000, [1])
    assert missing(workshop, [NAME]) == [NAME]
    send(workshop, 0)
    assert send(workshop, 2) == ([], True)
    assert send(workshop, 2) == ([], False)
    assert missing(workshop, [NAME]) == []
    assert parts_here(workshop, NAME) == (True, 2_500_000, [])
    with workshop.reading() as connection:
        asked = "SELECT count(*), sum(size_bytes) FROM photograph_file WHERE size_bytes = 2500000"
        assert tuple(connection.exec_driver_sql(asked).one()) == (1, 2_500_000)


def test_a_photograph_whose_row_was_lost_by_a_stop_gets_it_when_its_parts_are_asked_for(bench):
    bench.workshop.folder.put_if_absent(NAME, PICTURE, "t")
    assert missing(bench.workshop, [NAME]) == [NAME]
    assert parts_here(bench.workshop, NAME).whole
    assert missing(bench.workshop, [NAME]) == []


def test_parts_that_were_all_here_when_the_server_stopped_are_joined_at_the_next_question(bench):
    workshop = bench.workshop
    send(workshop, 0)
    send(workshop, 1)
    with pytest.MonkeyPatch.context() as stop:
        stop.setattr(PhotographParts, "_join", lambda *_: (_ for _ in ()).throw(KeyboardInterrupt))
        with pytest.raises(KeyboardInterrupt):
            send(workshop, 2)
    workshop.parts = PhotographParts(workshop.folder)
    assert parts_here(workshop, NAME).whole
    assert missing(workshop, [NAME]) == []


def test_a_photograph_that_came_whole_meanwhile_needs_no_more_parts(bench):
    send(bench.workshop, 0)
    bench.workshop.folder.put_if_absent(NAME, PICTURE, "t")
    assert send(bench.workshop, 1) == ([], False)
    assert missing(bench.workshop, [NAME]) == []
    assert not files_below(bench.workshop.folder.root / "parts")


@pytest.mark.parametrize(
    ("content", "told", "code"),
    [
        (part(0)[:-1], None, "cut_short"),
        (part(0) + b"x", None, "too_large"),
        (part(1), sha256(part(0)), "wrong_sha256"),
        (part(0), "no hash", "wrong_shape"),
    ],
)
def test_a_part_that_is_not_as_told_is_refused_and_leaves_nothing(bench, content, told, code):
    with pytest.raises(Refused) as refused:
        send(bench.workshop, 0, content, told)
    assert refused.value.code == code
    assert parts_here(bench.workshop, NAME) == (False, None, [])


def test_parts_wait_a_week_for_the_rest(bench):
    send(bench.workshop, 0)
    now_ms = computer_ms()
    assert sweep_parts(bench.workshop, now_ms + 6 * DAY_MS) == 0
    assert sweep_parts(bench.workshop, now_ms + 8 * DAY_MS) == 1
    assert parts_here(bench.workshop, NAME) == (False, None, [])
