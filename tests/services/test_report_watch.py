"""What was left is known by a beat that stands still, by one clock alone."""

from skinpin.services.report_watch import LEFT_S, LOOKS_S, Standstill
from skinpin.storage.report_jobs import Asked, Held


def test_a_beat_that_goes_on_or_was_not_watched_is_no_standstill():
    now = [0.0]
    watch = Standstill(lambda: now[0])

    def held(beat):
        return Held(Asked(*"abcdef"), "running", "one", beat, None, {})

    def look(beat, after_s=LOOKS_S):
        now[0] += after_s
        return watch.of([held(beat)])

    assert [look(beat) for beat in range(20)] == [[]] * 20
    looks = int(LEFT_S / LOOKS_S)
    assert [look(99) for _ in range(looks)] == [[]] * looks
    assert look(99) == [held(99)]
    assert look(99, LEFT_S * 9) == []  # slept itself
    assert look(99) == []
