"""A clock that runs on a given day of the workshop, whatever hour it is there and here."""

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest
from skinpin.services.workday import wall_time
from skinpin.services.workshop import pinned_clock, pinned_shift

DAY = date(2031, 5, 6)


@pytest.mark.parametrize("name", ["UTC", "Europe/London", "Pacific/Auckland", "America/St_Johns"])
@pytest.mark.parametrize("hour", range(24))
def test_it_stays_on_its_day_at_the_true_time_of_day(name, hour):
    zone = ZoneInfo(name)
    here = int(datetime(2026, 11, 28, hour, 59, 58, 765_000, UTC).timestamp() * 1000)
    wall = wall_time(pinned_clock(DAY, lambda: here, zone)(), zone)
    assert wall[:10] == "2031-05-06"
    assert wall[10:23] == wall_time(here, zone)[10:23]
    assert pinned_shift(DAY, lambda: here, zone)() == pinned_clock(DAY, lambda: here, zone)() - here


def test_without_a_day_it_is_the_computers_clock():
    assert pinned_clock(None, lambda: 1_762_157_730_250)() == 1_762_157_730_250
    assert pinned_shift(None, lambda: 1_762_157_730_250)() == 0
