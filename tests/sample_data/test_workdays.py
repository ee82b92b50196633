"""Working days, and the days of moves that the scenario does not give."""

from datetime import date

import pytest
from skinpin_demo.workdays import dated_moves, workdays

TODAY = date(2025, 11, 3)


def test_working_days_are_wednesdays_and_saturdays_between_two_days():
    # 2025-10-11 is a Saturday.
    days = workdays(date(2025, 10, 11), date(2025, 10, 22))
    assert [each.isoformat() for each in days] == ["2025-10-15", "2025-10-18"]
    assert workdays(date(2025, 10, 11), date(2025, 10, 15)) == []


def test_moves_without_a_time_lie_between_those_that_have_one():
    moves = [{"move": "assess"}, {"move": "start"}, {"move": "clear", "at": "2025-10-25T11:00"}]
    dated = dated_moves("A/0099", "2025-10-11T10:00", [*moves, {"move": "reject"}], TODAY)
    assert [each["move"] for each in dated] == ["assess", "start", "clear", "reject"]
    days = [each["at"][:10] for each in dated]
    assert {*days[:2]} < {"2025-10-15", "2025-10-18", "2025-10-22"}
    assert days == sorted(days)
    assert len(set(days)) == 4
    assert days[2] == "2025-10-25"
    assert "2025-10-25" < days[3] < "2025-11-03"


def test_the_days_of_a_number_are_always_the_same_and_another_numbers_differ():
    moves = [{"move": "assess"}, {"move": "start"}]
    many = [dated_moves(f"A/{n:04}", "2025-03-08T10:00", moves, TODAY) for n in range(1, 9)]
    assert many[0] == dated_moves("A/0001", "2025-03-08T10:00", moves, TODAY)
    assert len({str(each) for each in many}) == 8


def test_too_few_days_are_refused_with_the_number():
    moves = [{"move": "assess"}, {"move": "accept", "at": "2025-10-15T10:00"}]
    with pytest.raises(ValueError, match=r"A/0098: 1 moves, but 0 working days"):
        dated_moves("A/0098", "2025-10-11T10:00", moves, TODAY)
