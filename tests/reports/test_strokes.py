"""Wax strokes on paper: the same as on the screen.

The check values were worked out by the screen's own code, frontend/src/furniture/strokes.ts.
"""

import math

import pytest
from skinpin.reports.strokes import arrow_strokes, chance_from, ring_stroke, seed_of

APP_RING = [(300, 500), (1100, 500), (700, 300)]
START, END = (535.6, 323.7), (718.2, 298.3)
LEFT, RIGHT = (395.6, 550.2), (352.1, 585.5)
CHANCES = [0.8964226141106337, 0.189478256739676, 0.7156526781618595]
SEED = 1677466345


def test_a_ring_goes_round_the_two_ends_and_the_half_width_and_passes_its_start():
    run = ring_stroke(APP_RING, 7)
    turns = [math.atan2((y - 500) / 200, (x - 700) / 400) for x, y in run]
    swept = sum(
        (after - before + math.pi) % (2 * math.pi) - math.pi
        for before, after in zip(turns, turns[1:], strict=False)
    )
    assert 384 <= math.degrees(swept) <= 396
    radii = [math.hypot((x - 700) / 400, (y - 500) / 200) for x, y in run]
    assert 0.955 <= min(radii) < 1 < max(radii) <= 1.031


def test_a_ring_without_a_third_point_is_0_62_as_wide_as_long():
    run = ring_stroke([(0, 0), (0, 1000)], 3)
    assert max(x for x, _ in run) == pytest.approx(310, rel=0.04)
    assert min(x for x, _ in run) == pytest.approx(-310, rel=0.04)
    assert max(y for _, y in run) == pytest.approx(1000, rel=0.04)


def test_the_stroke_starts_and_ends_where_the_screen_draws_it():
    run = ring_stroke(APP_RING, 123456789)
    assert run[0] == pytest.approx(START, abs=0.051)
    assert run[-1] == pytest.approx(END, abs=0.051)


def test_an_arrow_has_the_barbs_of_the_screen():
    shaft, head = arrow_strokes((100, 200), (400, 600), 77, 50)
    assert shaft[0] == (100, 200)
    assert shaft[-1] == pytest.approx((400, 600))
    assert head[0] == pytest.approx(LEFT, abs=0.051)
    assert head[1] == (400, 600)
    assert head[2] == pytest.approx(RIGHT, abs=0.051)


def test_chance_and_seed_are_those_of_the_screen():
    chance = chance_from(4294967295)
    assert [chance(), chance(), chance()] == pytest.approx(CHANCES, abs=1e-15)
    assert seed_of("cfnvfyb6h0123456789abcdefg") == SEED
