"""A trial's line judges its goal as it is written."""

import json

import pytest

from tests.trials.record import Measured, percentile


@pytest.mark.parametrize(
    ("goal", "figure", "peer", "met"),
    [
        (">= 2 x", 41.0, 20.0, True),
        (">= 2 x", 39.0, 20.0, False),
        ("<= 1.5 x", 30.0, 20.0, True),
        ("<= 1.5 x", 31.0, 20.0, False),
        ("< 100", 99.0, None, True),
        ("< 100", 100.0, None, False),
    ],
)
def test_a_goal_is_judged_by_its_sign(
    goal: str, figure: float, peer: float | None, met: bool
) -> None:
    told = json.loads(Measured("joining", figure, "records/s", "a peer", peer, goal).line())
    assert told["met"] is met
    assert told["ratio"] == (None if peer is None else round(figure / peer, 3))


def test_a_goal_beside_a_peer_cannot_be_judged_without_its_value() -> None:
    with pytest.raises(ValueError, match="needs a peer's value"):
        Measured("joining", 5.0, "records/s", "a peer", None, ">= 2 x").line()


def test_the_95th_percentile_of_twenty_values_is_the_nineteenth() -> None:
    assert percentile([float(value) for value in range(20, 0, -1)], 0.95) == 19.0
    assert percentile([3.0], 0.95) == 3.0


def test_a_line_tells_the_spread_of_its_runs() -> None:
    measured = Measured("start", 1.21, "s", None, None, "< 1.5", low=1.17, high=1.34, runs=5)
    told = json.loads(measured.line())
    assert (told["low"], told["high"], told["runs"]) == (1.17, 1.34, 5)


def test_a_line_tells_the_value_apart_from_what_it_is_of() -> None:
    one = Measured("pull", 0.5, "ms, a page of 500, median", None, None, "< 1")
    two = Measured("joining", 8000.0, "records/s", None, None, ">= 1")
    told = [json.loads(each.line()) for each in (one, two)]
    assert [(each["figure"], each["unit"], each["value"]) for each in told] == [
        ("a page of 500, median", "ms", 0.5),
        ("joining", "records/s", 8000.0),
    ]
