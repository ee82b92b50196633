"""Airframes as long as their books, for trials of what must not grow faster than a book."""

from __future__ import annotations

from random import Random
from typing import Any

from tests.trials.generator import KINDS, PARTS

BAY_IN = 9
A_BAY = 25
LINES = ["K", "B1", "B2", "B3", "C", "S1", "S2"]


def long_definition(count: int) -> dict[str, Any]:
    """Return a hull with one bay of 9 in for every 25 records."""
    members = [
        {"name": f"F{at}", "kind": "frame", "station": str(at * BAY_IN), "main": False}
        for at in range(count // A_BAY + 1)
    ]
    hull = {
        **{"name": "Hull", "axis": "Sta", "unit": "in", "datum": "bow", "positive": "aft"},
        **{"hands": ["P", "S", "C"], "members": members, "strakes": LINES, "plating": []},
        "faces": ["inner", "outer"],
    }
    head = {"name": "Trial", "constructor": "1", "issue": "1", "unit": "in"}
    return {**head, "structures": [hull], "zones": [], "views": []}


def rows_along(count: int, seed: int) -> list[dict[str, Any]]:
    """Return the rows of `count` defects spread evenly along such a hull."""
    chance = Random(seed)
    return [row_at(chance, index, count // A_BAY) for index in range(count)]


def row_at(chance: Random, index: int, bays: int) -> dict[str, Any]:
    """Return what pairs read of one made-up row."""
    low = chance.randrange(len(LINES) - 1)
    return {
        "record": f"r{index:07d}",
        "number": f"{'ABDE'[index % 4]}/{index // 4 % 9999 + 1:04d}",
        **{"airframe": "trial-airframe", "state": "Raised", "own_state": "Raised"},
        **{"same_as_number": None, "kind": chance.choice(KINDS), "part": chance.choice(PARTS)[0]},
        "length": {"value": f"{chance.randrange(10, 200) / 100:.2f}", "unit": "in"},
        "place": {
            **{"structure": "Hull", "hand": chance.choice("PS")},
            "member": f"F{chance.randrange(bays)}",
            "offset": {"value": f"{chance.randrange(0, 90) / 10:.1f}", "unit": "in"},
            "strakes": LINES[low : low + chance.choice([1, 2])],
            **{"face": "inner", "precision": "exact"},
        },
    }
