"""Working days of the workshop, and days for moves that the scenario gives none."""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from random import Random
from typing import Any

WEDNESDAY, SATURDAY = 3, 6

Move = dict[str, Any]


def workdays(after: date, before: date) -> list[date]:
    """Return the Wednesdays and Saturdays between two days, both left out."""
    days = (after + timedelta(days=i) for i in range(1, (before - after).days))
    return [day for day in days if day.isoweekday() in (WEDNESDAY, SATURDAY)]


def dated_moves(
    number: str, found_at: str, moves: Sequence[Mapping[str, Any]], as_of: date
) -> list[Move]:
    """Return moves with a time each, in order; seeded by the record's number.

    Moves without a time lie on working days after the move before them and before the next one
    that has a time, or before the day that the demo stands at.
    """
    chance = Random(number)  # noqa: S311 - days of a demo, no secret
    dated: list[Move] = []
    waiting: list[Mapping[str, Any]] = []
    for move in [*moves, {"at": as_of.isoformat()}]:
        if "at" not in move:
            waiting.append(move)
            continue
        last = _day(dated[-1]["at"] if dated else found_at)
        dated += _spread(chance, number, waiting, workdays(last, _day(move["at"])))
        dated.append(dict(move))
        waiting = []
    return dated[:-1]


def _spread(
    chance: Random, number: str, moves: Sequence[Mapping[str, Any]], days: Sequence[date]
) -> list[Move]:
    if len(moves) > len(days):
        raise ValueError(f"{number}: {len(moves)} moves, but {len(days)} working days between.")
    chosen = sorted(chance.sample(days, len(moves)))
    return [
        {**move, "at": f"{day}T{chance.randrange(9, 16):02}:{chance.randrange(0, 60, 5):02}"}
        for move, day in zip(moves, chosen, strict=True)
    ]


def _day(at: str) -> date:
    return date.fromisoformat(at[:10])
