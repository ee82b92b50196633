"""What a trial hands back: one JSON object a line, with the peer measured in the same run."""

from __future__ import annotations

import json
from statistics import median
from typing import NamedTuple


class Measured(NamedTuple):
    """One figure, its peer's, and whether the goal is met.

    `unit` says after a comma what the value is of, where a trial has more than one figure.
    `goal` is written as it is judged: ">= 2.0 x" and "<= 1.5 x" judge the ratio to the peer, and
    "< 100" the figure itself. `low` and `high` are the least and the greatest figure of `runs`.
    """

    trial: str
    value: float
    unit: str
    peer: str | None
    peer_value: float | None
    goal: str
    low: float | None = None
    high: float | None = None
    runs: int | None = None

    @property
    def ratio(self) -> float | None:
        """Return the value over the peer's."""
        return None if self.peer_value is None else self.value / self.peer_value

    @property
    def met(self) -> bool:
        """Judge the goal."""
        sign, limit, *over_peer = self.goal.split()
        value = self.ratio if over_peer else self.value
        if value is None:
            raise ValueError(f"{self.trial}: the goal '{self.goal}' needs a peer's value.")
        judged = {
            ">=": value >= float(limit),
            "<=": value <= float(limit),
            "<": value < float(limit),
        }
        return judged[sign]

    def line(self) -> str:
        """Return the JSON object."""
        unit, _, figure = self.unit.partition(", ")
        told = {
            "trial": self.trial,
            "figure": figure or self.trial,
            "unit": unit,
            "value": round(self.value, 4),
            "low": None if self.low is None else round(self.low, 4),
            "high": None if self.high is None else round(self.high, 4),
            "runs": self.runs,
            "peer": self.peer,
            "peer_value": None if self.peer_value is None else round(self.peer_value, 4),
            "ratio": None if self.ratio is None else round(self.ratio, 3),
            "goal": self.goal,
            "met": self.met,
        }
        return json.dumps(told, ensure_ascii=False)


def percentile(values: list[float], share: float) -> float:
    """Return the value that a share of the values does not exceed (nearest rank)."""
    ordered = sorted(values)
    rank = max(1, -(-len(ordered) * round(share * 1000) // 1000))
    return ordered[rank - 1]


def middle(values: list[float]) -> float:
    """Return the median."""
    return float(median(values))
