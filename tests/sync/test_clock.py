import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin_sync.clock import (
    MAX_AHEAD_MS,
    Clock,
    decode,
    encode,
    is_ahead,
    new_clock,
    new_writer,
    receive,
    tick,
)

VECTORS = json.loads(Path("sync/vectors/clock.json").read_text("utf-8"))
HOUR_MS, FIFTY_YEARS_MS, NOW_MS = 3_600_000, 50 * 31_557_600_000, 1_762_157_730_250
several = settings(max_examples=300, deadline=None, print_blob=True)


def named(cases):
    return [pytest.param(case, id=case.get("what")) for case in cases]


@pytest.mark.parametrize("case", VECTORS["encode"])
def test_a_stamp_is_written_and_read(case):
    assert encode(Clock(*case["clock"])) == case["id"]
    assert decode(case["id"]) == Clock(*case["clock"])


@pytest.mark.parametrize("text", VECTORS["no_id"])
def test_other_texts_are_no_stamps(text):
    with pytest.raises(ValueError, match="is no id"):
        decode(text)


@pytest.mark.parametrize("case", named(VECTORS["tick"]))
def test_tick_as_in_the_vectors(case):
    if case["id"] is None:
        with pytest.raises(ValueError, match="Set the time"):
            tick(Clock(*case["clock"]), case["now_ms"])
        return
    after, stamp = tick(Clock(*case["clock"]), case["now_ms"])
    assert (stamp, encode(after)) == (case["id"], case["id"])


@pytest.mark.parametrize("case", named(VECTORS["receive"]))
def test_receive_as_in_the_vectors(case):
    assert receive(Clock(*case["clock"]), case["id"], case["now_ms"]) == Clock(*case["after"])


def test_ahead_and_writers_as_in_the_vectors():
    for case in VECTORS["is_ahead"]:
        assert is_ahead(case["id"], case["now_ms"]) is case["ahead"]
    for case in VECTORS["new_writer"]:
        assert new_writer(bytes.fromhex(case["bytes"])) == case["writer"]
    with pytest.raises(ValueError, match="7 were given"):
        new_writer(bytes(7))


def walk(how, times):
    """Bring the times into the order in which a clock of this kind shows them."""
    shown = {"steady": sorted(times), "stuttering": [times[0]] * len(times)}
    return shown.get(how, sorted(times, reverse=True))


times = st.lists(st.integers(NOW_MS - 9, NOW_MS + 9), min_size=1, max_size=12)
stamps = st.builds(
    lambda ms, counter: encode(Clock("remotexx", ms, counter)),
    st.one_of(
        st.integers(NOW_MS - 9, NOW_MS + 9),
        st.sampled_from([NOW_MS + far for far in (HOUR_MS, -HOUR_MS, FIFTY_YEARS_MS)]),
    ),
    st.sampled_from([0, 1, 0xFFFE, 0xFFFF]),
)


@pytest.mark.parametrize("how", ["steady", "stuttering", "going back"])
@several
@given(times=times, counter=st.sampled_from([0, 0xFFFD]))
def test_local_stamps_strictly_increase_whatever_the_time_does(how, times, counter):
    clock, made = Clock("localxxx", NOW_MS, counter), []
    for now_ms in walk(how, times):
        clock, stamp = tick(clock, now_ms)
        made.append(stamp)
    assert made == sorted(set(made))
    assert made[0] > encode(Clock("localxxx", NOW_MS, counter))


@pytest.mark.parametrize("how", ["steady", "stuttering", "going back"])
@several
@given(times=times, remote=st.lists(stamps, min_size=1, max_size=12))
def test_a_stamp_is_later_than_every_believable_one_received(how, times, remote):
    clock = new_clock("localxxx")
    for now_ms, stamp in zip(walk(how, times), remote, strict=False):
        before = clock
        clock = receive(clock, stamp, now_ms)
        assert receive(clock, stamp, now_ms) == clock
        if is_ahead(stamp, now_ms):
            assert clock == before
        clock, made = tick(clock, now_ms)
        assert made > stamp or is_ahead(stamp, now_ms)
        assert made > encode(before)
        assert not is_ahead(encode(clock), max(times) + MAX_AHEAD_MS)


@several
@given(stamps, stamps)
def test_the_order_of_texts_is_the_order_of_clocks(one, other):
    a, b = decode(one), decode(other)
    assert (one < other) == ((a.last_ms, a.counter) < (b.last_ms, b.counter))
    assert encode(a) == one


def test_a_writer_led_ahead_begins_anew_at_the_right_time():
    wrong, _ = tick(new_clock("wrongxxx"), NOW_MS + FIFTY_YEARS_MS)
    assert is_ahead(encode(wrong), NOW_MS)
    _, stamp = tick(new_clock("rightxxx"), NOW_MS)
    assert decode(stamp).last_ms == NOW_MS
