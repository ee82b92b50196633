"""Records graded a second, reasons included, in both languages."""

from __future__ import annotations

import json
import time
from collections.abc import Iterator
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from typing import Any

from skinpin.domain.grading import Compiled, compile_standard, grade

from tests.trials.browser import browser_part
from tests.trials.generator import fields_of
from tests.trials.own_server import STANDARD
from tests.trials.record import Measured, middle

ROUNDS, RECORDS, BEFORE = 5, 30_000, 10_000
GOALS = {"Python": ">= 100000", "browser": ">= 300000"}


def measure() -> Iterator[Measured]:
    """Grade rounds of records of which no two are equal; what was graded before is not counted.

    Python is timed by the processor, the browser by the clock: a page is told no other time. Both
    must find the same number of reasons.
    """
    standard = json.loads(STANDARD.read_text("utf-8"))
    rounds = distinct([BEFORE, *[RECORDS] * ROUNDS])
    with TemporaryDirectory() as folder:
        given = Path(folder, "given.json")
        given.write_text(json.dumps({"standard": standard, "rounds": rounds}))
        there = browser_part("grading", TRIAL_GIVEN=str(given))
    here = [graded(one, compile_standard(standard)) for one in rounds]
    reasons = [one["reasons"] for one in there]
    if [found for found, _ in here] != reasons:
        raise RuntimeError(f"Python finds {[one for one, _ in here]} reasons, browser {reasons}.")
    yield row("Python", [took_s for _, took_s in here[1:]])
    yield row("browser", [one["took_ms"] / 1000 for one in there[1:]])


def distinct(sizes: list[int]) -> list[list[dict[str, Any]]]:
    """Return lists of the values of records, of which no two are equal."""
    chance = Random(61)
    rounds: list[list[dict[str, Any]]] = []
    seen: set[str] = set()
    for size in sizes:
        found: list[dict[str, Any]] = []
        while len(found) < size:
            values = fields_of(chance, f"T/{len(seen) % 9999 + 1:04d}", "trial-airframe")
            figures = [values[name] for name in ("kind", "part", "length", "width", "depth")]
            mark = json.dumps(figures)
            if mark not in seen:
                seen.add(mark)
                found.append(values)
        rounds.append(found)
    return rounds


def graded(records: list[dict[str, Any]], standard: Compiled) -> tuple[int, float]:
    """Return how many reasons fired, and the seconds of the processor it took."""
    began = time.process_time()
    reasons = sum(len(grade(values, standard).fired) for values in records)
    return reasons, time.process_time() - began


def row(language: str, took_s: list[float]) -> Measured:
    """Return the figure of one language with the spread of its rounds."""
    rates = [RECORDS / one for one in took_s]
    unit = f"records/s, reasons included, {language}"
    goal = GOALS[language]
    return Measured(
        *("grading", middle(rates), unit, None, None, goal),
        low=min(rates),
        high=max(rates),
        runs=len(rates),
    )
