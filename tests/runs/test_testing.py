"""The sum of the suites tells the truth, also when a runner breaks."""

import json
from pathlib import Path

import pytest

from runs import testing
from runs.refusal import Refused
from runs.testing import Outcome, read_junit, read_vitest


def junit(folder: Path, **counts: int) -> Path:
    told = " ".join(f'{name}="{count}"' for name, count in counts.items())
    report = folder / "pytest.xml"
    report.write_text(f"<testsuites><testsuite {told}></testsuite></testsuites>")
    return report


def vitest(folder: Path, passed: int, total: int) -> Path:
    report = folder / "vitest.json"
    report.write_text(json.dumps({"numPassedTests": passed, "numTotalTests": total}))
    return report


def test_failures_errors_and_skips_of_pytest_all_count_as_failed(tmp_path: Path) -> None:
    report = junit(tmp_path, tests=20, failures=2, errors=3, skipped=4)
    assert read_junit(report, 1) == Outcome(11, 9)


def test_tests_of_vitest_that_did_not_pass_count_as_failed(tmp_path: Path) -> None:
    assert read_vitest(vitest(tmp_path, 7, 12), 1) == Outcome(7, 5)


def test_a_runner_that_fails_without_a_failed_test_counts_as_one_failure(tmp_path: Path) -> None:
    assert read_junit(junit(tmp_path, tests=3, failures=0, errors=0, skipped=0), 3).failed == 1
    assert read_vitest(vitest(tmp_path, 5, 5), 1) == Outcome(5, 1)


def test_a_runner_that_leaves_no_report_counts_as_one_failure(tmp_path: Path) -> None:
    assert read_junit(tmp_path / "none.xml", 0) == Outcome(0, 1)
    assert read_vitest(tmp_path / "none.json", 0) == Outcome(0, 1)


def test_a_suite_in_which_no_test_ran_is_a_failure(tmp_path: Path) -> None:
    assert read_junit(junit(tmp_path, tests=0, failures=0, errors=0, skipped=0), 0).failed == 1
    assert read_vitest(vitest(tmp_path, 0, 0), 0).failed == 1


@pytest.mark.parametrize(("last", "code"), [(Outcome(5, 0), 0), (Outcome(4, 1), 1)])
def test_the_last_line_is_the_sum_and_the_exit_code_follows_it(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], last: Outcome, code: int
) -> None:
    monkeypatch.setattr(testing, "prepare", lambda: None)
    monkeypatch.setattr(testing, "SUITES", {"one": lambda: Outcome(3, 0), "two": lambda: last})
    assert testing.test([]) == code
    printed = capsys.readouterr().out.splitlines()
    assert printed[-1] == f"{3 + last.passed} passed, {last.failed} failed"


def test_an_unknown_suite_is_refused_before_anything_is_installed() -> None:
    with pytest.raises(Refused, match="no suite pythn"):
        testing.test(["pythn"])
