"""Wax-pencil strokes as points: the same strokes that the screen draws, for the same seed."""

import math
from collections.abc import Callable, Sequence

Point = tuple[float, float]
RING_WIDTH_SHARE = 0.62
"""Half-width of a ring given only the ends of its long axis, as a share of its half-length."""
_WANDER = 0.03
_STEP_DEG, _START_DEG = 13, -115
_PER_TURN = 4
_WORD = 0xFFFFFFFF


def ring_stroke(points: Sequence[Point], seed: int) -> list[Point]:
    """Return one stroke of 385 to 395 degrees round a place, its radius wandering by 3 per cent.

    Parameters
    ----------
    points
        The two ends of the long axis; a third sets the half-width by its distance from it.
    seed
        The same seed gives the same stroke.
    """
    chance = chance_from(seed)
    sweep = 385 + chance() * 10
    waves = []
    for turns in (1, 2, 3):
        phase = chance() * 2 * math.pi
        waves.append((turns, phase, chance()))
    count = math.ceil(sweep / _STEP_DEG)
    run = []
    for at in range(count + 1):
        angle = math.radians(_START_DEG + at / count * sweep)
        grow = 1 + _WANDER * _wander(waves, angle, at / count)
        run.append(_on_ellipse(points, angle, grow))
    return _smooth(run)


def _wander(waves: Sequence[tuple[int, float, float]], angle: float, share: float) -> float:
    """Return a value between -1 and 1 that drifts outwards, so that the ends do not meet."""
    total = sum(weight for *_, weight in waves) or 1
    wave = sum(weight * math.sin(turns * angle + phase) for turns, phase, weight in waves)
    return 0.45 * (wave / total) + 0.55 * (2 * share - 1)


def _on_ellipse(points: Sequence[Point], angle: float, grow: float) -> Point:
    (x0, y0), (x1, y1) = points[:2]
    length = math.hypot(x1 - x0, y1 - y0)
    along = ((x1 - x0) / length, (y1 - y0) / length)
    across = 0.0
    if len(points) > 2:
        across = abs((points[2][0] - x0) * along[1] - (points[2][1] - y0) * along[0])
    x = length / 2 * grow * math.cos(angle)
    y = (across or length / 2 * RING_WIDTH_SHARE) * grow * math.sin(angle)
    return (
        (x0 + x1) / 2 + x * along[0] - y * along[1],
        (y0 + y1) / 2 + x * along[1] + y * along[0],
    )


def arrow_strokes(tail: Point, tip: Point, seed: int, head: float) -> list[list[Point]]:
    """Return the two strokes of an arrow: the shaft from tail to tip, then the head."""
    chance = chance_from(seed)
    length = math.dist(tail, tip)
    unit = ((tip[0] - tail[0]) / length, (tip[1] - tail[1]) / length)
    bow = (chance() * 2 - 1) * _WANDER * length
    middle = (
        (tail[0] + tip[0]) / 2 - unit[1] * bow,
        (tail[1] + tip[1]) / 2 + unit[0] * bow,
    )
    barbs = []
    for turn in (1, -1):
        angle = math.atan2(-unit[1], -unit[0]) + turn * (0.55 + 0.12 * chance())
        barbs.append((tip[0] + head * math.cos(angle), tip[1] + head * math.sin(angle)))
    return [[tail, *_quad(tail, middle, tip)], [barbs[0], tip, barbs[1]]]


def _smooth(run: Sequence[Point]) -> list[Point]:
    """Round a run off: a curve about each point, from half way before to half way after."""
    made = [run[0]]
    for i, point in enumerate(run[1:], start=1):
        after = run[i + 1] if i + 1 < len(run) else point
        to = ((point[0] + after[0]) / 2, (point[1] + after[1]) / 2)
        made += _quad(made[-1], point, to)
    return made


def _quad(start: Point, about: Point, end: Point) -> list[Point]:
    """Return points of a quadratic curve, without its start."""
    points = []
    for i in range(1, _PER_TURN + 1):
        t = i / _PER_TURN
        a, b, c = (1 - t) ** 2, 2 * t * (1 - t), t * t
        points.append(
            (
                a * start[0] + b * about[0] + c * end[0],
                a * start[1] + b * about[1] + c * end[1],
            )
        )
    return points


def seed_of(record: str) -> int:
    """Return the seed of a mark's strokes from its record id."""
    seed = 0
    for letter in record:
        seed = (seed * 31 + ord(letter)) & _WORD
    return seed


def chance_from(seed: int) -> Callable[[], float]:
    """Return numbers from 0 to 1, always the same row for a seed (mulberry32, public domain)."""
    state = seed & _WORD

    def following() -> float:
        nonlocal state
        state = (state + 0x6D2B79F5) & _WORD
        mixed = (state ^ (state >> 15)) * (state | 1) & _WORD
        mixed ^= (mixed + ((mixed ^ (mixed >> 7)) * (mixed | 61) & _WORD)) & _WORD
        return ((mixed ^ (mixed >> 14)) & _WORD) / 2**32

    return following
