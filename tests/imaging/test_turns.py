"""One at work, two who wait, and the next is told at once."""

import threading
import time

import pytest
from skinpin.domain.errors import Refused
from skinpin.imaging.turns import MOST_WAITING, Turns

SOON_S = 10


def until(is_so):
    end = time.monotonic() + SOON_S
    while not is_so():
        assert time.monotonic() < end
        time.sleep(0.005)


def test_two_wait_and_the_third_is_refused_at_once():
    turns, go_on, done = Turns("Others are at it."), threading.Event(), []

    def work():
        with turns.take():
            assert go_on.wait(SOON_S)
            done.append(1)

    threads = [threading.Thread(target=work) for _ in range(1 + MOST_WAITING)]
    for one in threads:
        one.start()
    until(lambda: turns._inside == 1 + MOST_WAITING)
    begun = time.monotonic()
    with pytest.raises(Refused) as refused, turns.take():
        done.append("not me")
    assert (refused.value.code, refused.value.message) == ("wait", "Others are at it.")
    assert time.monotonic() - begun < 2
    go_on.set()
    for one in threads:
        one.join(SOON_S)
    assert done == [1] * (1 + MOST_WAITING)
    with turns.take():
        done.append("again")
    assert done[-1] == "again"


def test_whoever_waits_too_long_is_refused_and_a_fault_gives_the_turn_back():
    turns = Turns("Others are at it.", wait_s=0.05)
    with pytest.raises(ZeroDivisionError), turns.take():
        raise ZeroDivisionError
    with turns.take(), pytest.raises(Refused), turns.take():
        raise AssertionError
    with turns.take():
        assert turns._inside == 1
    assert turns._inside == 0
