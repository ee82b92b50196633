"""Pairs to ask about among 100,000 records, in both languages, checked by trying all of 2,000."""

from __future__ import annotations

import json
import time
from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from skinpin.domain.kinds import KINDS
from skinpin.domain.pairs import Pair, pairs

from tests.trials.airframes import LINES, long_definition, rows_along
from tests.trials.browser import browser_part
from tests.trials.record import Measured, middle

MANY, FEW, RUNS = 100_000, 2_000, 5
Told = set[tuple[str, ...]]


def measure() -> Iterator[Measured]:
    """Find the pairs of a long book in turn; of a short one both must find what trying all finds.

    Python is timed by the processor, the browser by the clock: a page is told no other time.
    """
    many, few = ((rows_along(count, 71), long_definition(count)) for count in (MANY, FEW))
    with TemporaryDirectory() as folder:
        given = Path(folder, "given.json")
        given.write_text(json.dumps({"many": many, "few": few, "runs": RUNS}))
        there = browser_part("pairs", TRIAL_GIVEN=str(given))
    right = by_trying_all(*few)
    here = told(pairs(*few))
    for language, found in (("Python", here), ("browser", {tuple(one) for one in there["few"]})):
        if found != right:
            raise RuntimeError(f"{language} misses {right - found}, and adds {found - right}.")
    took_s = []
    for _ in range(RUNS):
        began = time.process_time()
        count = len(pairs(*many))
        took_s.append(time.process_time() - began)
        if count != there["count"]:
            raise RuntimeError(f"Python finds {count} pairs, the browser {there['count']}.")
    for language, runs in (("Python", took_s), ("browser", [ms / 1000 for ms in there["took_ms"]])):
        unit = f"s for {MANY:,} records and {there['count']:,} pairs, {language}"
        yield Measured(
            *("pairs", middle(runs), unit, None, None, "< 2"),
            low=min(runs),
            high=max(runs),
            runs=len(runs),
        )


def told(found: list[Pair]) -> Told:
    """Return what the pairs are, without their order and their words."""
    return {(pair.query, *sorted(pair.records)) for pair in found}


def by_trying_all(rows: list[dict[str, Any]], definition: dict[str, Any]) -> Told:
    """Return the pairs by the sentences that define them, each couple looked at by itself."""
    spots = [(one, *place_of(one, definition)) for one in rows]
    found: Told = set()
    for (a, at, on), (b, other, beside) in combinations(spots, 2):
        if is_same(a, b, at - other, on & beside):
            found.add(("same defect", *sorted((a["record"], b["record"]))))
        if is_opposite(a, b) and on == beside:
            found.add(("wrong hand", *sorted((a["record"], b["record"]))))
    return found


def place_of(row: dict[str, Any], definition: dict[str, Any]) -> tuple[Fraction, frozenset[int]]:
    """Return the station in inches, and the lines of strakes."""
    place = row["place"]
    members = definition["structures"][0]["members"]
    station = Fraction(members[int(place["member"][1:])]["station"])
    lines = [LINES.index(name) for name in place["strakes"]]
    reach = frozenset(range(min(lines), max(lines) + 1))
    return station + Fraction(place["offset"]["value"]), reach


def hand_of(row: dict[str, Any]) -> str:
    """Return the hand; on the keel alone it is the centreline."""
    place = row["place"]
    return "C" if place["strakes"] == ["K"] else str(place["hand"])


def is_same(a: dict[str, Any], b: dict[str, Any], apart: Fraction, shared: frozenset[int]) -> bool:
    """Whether two may be one defect seen twice."""
    if not shared or hand_of(a) != hand_of(b):
        return False
    if KINDS[a["kind"]]["group"] != KINDS[b["kind"]]["group"]:
        return False
    lengths = Fraction(a["length"]["value"]) + Fraction(b["length"]["value"])
    return abs(apart) <= max(Fraction(2), lengths / 2)


def is_opposite(a: dict[str, Any], b: dict[str, Any]) -> bool:
    """Whether one of two may be entered for the wrong hand, their strakes being the same."""
    one, other = a["place"], b["place"]
    if {hand_of(a), hand_of(b)} != {"P", "S"} or a["kind"] != b["kind"]:
        return False
    apart = Fraction(one["offset"]["value"]) - Fraction(other["offset"]["value"])
    return one["member"] == other["member"] and abs(apart) <= 1
