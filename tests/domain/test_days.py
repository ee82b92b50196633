"""The day of an entry: its stamp's, in the workshop's zone, or that of its arrival."""

from types import SimpleNamespace
from zoneinfo import ZoneInfo

from skinpin.domain.days import day_stamped, days_in, moments_in

# 2025-11-03 23:15:30.250 UTC
LATE = SimpleNamespace(id="1762211730250-0000-tableta1", wall="2026-11-25T10:15:00+00:00")


def test_the_day_is_that_of_the_stamp_in_the_zone_and_not_of_the_raw_time():
    assert day_stamped(LATE) == "2025-11-03"
    assert days_in(ZoneInfo("Europe/Berlin"))(LATE) == "2025-11-04"
    assert days_in(ZoneInfo("America/St_Johns"))(LATE) == "2025-11-03"


def test_an_entry_stamped_too_far_ahead_has_the_day_on_which_it_came():
    day = days_in(ZoneInfo("Europe/London"), {LATE.id: 1_761_950_400_000})
    assert day(LATE) == "2025-10-31"
    assert day(SimpleNamespace(id="1762211730250-0001-tableta1")) == "2025-11-03"


def test_a_moment_is_day_and_time_of_day_in_the_zone():
    assert moments_in(ZoneInfo("Europe/Berlin"))(LATE) == ("2025-11-04", "00:15")
    came = moments_in(ZoneInfo("Europe/London"), {LATE.id: 1_761_950_400_000})
    assert came(LATE) == ("2025-10-31", "22:40")
