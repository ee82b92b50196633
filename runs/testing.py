"""The verb test: four suites, one sum; and screenshots, which drives the same browser."""

from __future__ import annotations

import json
import sys
import time
import xml.etree.ElementTree as ElementTree
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

from runs.environment import (
    CACHE,
    PYTHON,
    ROOT,
    build_page,
    install_node,
    install_python,
    run,
)
from runs.programs import install_programs
from runs.refusal import Refused

VITEST = ROOT / "node_modules/.bin/vitest"


class Outcome(NamedTuple):
    """How many tests of a suite passed and failed; a skipped test counts as failed."""

    passed: int
    failed: int


def outcome(code: int, passed: int, failed: int) -> Outcome:
    """Count a runner that broke, or ran nothing, as one failure."""
    is_whole = code == 0 and passed + failed > 0
    return Outcome(passed, failed if is_whole else max(failed, 1))


def read_junit(report: Path, code: int) -> Outcome:
    """Count pytest's own report."""
    if not report.exists():
        return Outcome(0, 1)
    suites = ElementTree.parse(report).getroot().iter("testsuite")
    counts = [
        {name: int(suite.get(name, 0)) for name in ("tests", "failures", "errors", "skipped")}
        for suite in suites
    ]
    total = sum(each["tests"] for each in counts)
    failed = sum(each["failures"] + each["errors"] + each["skipped"] for each in counts)
    return outcome(code, total - failed, failed)


def read_vitest(report: Path, code: int) -> Outcome:
    """Count vitest's own report."""
    if not report.exists():
        return Outcome(0, 1)
    counts = json.loads(report.read_text())
    passed = int(counts["numPassedTests"])
    return outcome(code, passed, int(counts["numTotalTests"]) - passed)


def fresh_report(name: str) -> Path:
    """Return where a runner writes its counts, with nothing of an earlier run there."""
    CACHE.mkdir(exist_ok=True)
    report = CACHE / name
    report.unlink(missing_ok=True)
    return report


def test_python() -> Outcome:
    """Run pytest on both processors, each file whole on one of them."""
    report = fresh_report("pytest.xml")
    words = [
        "-n",
        "2",
        "--dist",
        "loadfile",
        "--durations=8",
        "-p",
        "no:cacheprovider",
        f"--junitxml={report}",
    ]
    return read_junit(report, run(PYTHON, "-m", "pytest", *words))


def test_second_database() -> Outcome:
    """Run storage, sync and joining once more, on PostgreSQL."""
    report = fresh_report("second.xml")
    return read_junit(report, run(PYTHON, "-m", "tests.second_suite", report))


def test_typescript() -> Outcome:
    """Run vitest on everything that needs no browser."""
    return vitest("vitest.json", "--config", "vite.config.ts")


def test_browser() -> Outcome:
    """Run the journeys in browsers against real servers."""
    return vitest("browser.json", "--config", "vitest.browser.config.ts")


def vitest(name: str, *words: str) -> Outcome:
    """Run vitest with a report that can be counted."""
    report = fresh_report(name)
    reporters = ["--reporter=default", "--reporter=json", f"--outputFile.json={report}"]
    return read_vitest(report, run(VITEST, "run", *words, *reporters))


SUITES: dict[str, Callable[[], Outcome]] = {
    "python": test_python,
    "second-database": test_second_database,
    "typescript": test_typescript,
    "browser": test_browser,
}


def prepare() -> None:
    """Install and build everything that tests use."""
    install_programs()
    install_python(for_development=True)
    install_node()
    build_page()


def test(names: list[str]) -> int:
    """Run the suites and print the sum as the last line."""
    unknown = [name for name in names if name not in SUITES]
    if unknown:
        raise Refused(f"There is no suite {unknown[0]}. Choose from: {', '.join(SUITES)}.")
    prepare()
    outcomes = []
    for name in names or list(SUITES):
        began = time.monotonic()
        outcomes.append(SUITES[name]())
        took_s = time.monotonic() - began
        print(f"{name}: {outcomes[-1].passed} passed, {outcomes[-1].failed} failed, {took_s:.0f} s")
    failed = sum(each.failed for each in outcomes)
    print(f"{sum(each.passed for each in outcomes)} passed, {failed} failed")
    sys.stdout.flush()
    return 1 if failed else 0


def screenshots() -> int:
    """Write a picture of every screen in both lights into screenshots/."""
    prepare()
    mode = ["--mode", "screenshots"]
    return run(VITEST, "run", "--config", "vitest.browser.config.ts", *mode)
