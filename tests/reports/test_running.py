"""A report being made: told step by step, ended from outside, its child with it."""

import subprocess
import sys
import threading

import pytest
from skinpin.domain.errors import Refused
from skinpin.reports import zone_report
from skinpin.reports.running import Running, Step
from skinpin.reports.zone_report import zone_report_pdf

from tests.reports.ready import ready


def test_steps_are_told_and_can_be_asked_for():
    told = []
    running = Running(told.append)
    running.now("photographs", 2, 9)
    assert told == [running.step] == [Step("photographs", 2, 9)]


def test_after_the_end_no_step_is_begun():
    running = Running()
    running.end()
    with pytest.raises(Refused, match="cancelled"):
        running.now("records")


def test_a_child_at_work_is_ended_at_once():
    running = Running()

    def work():
        words = [sys.executable, "-c", "import time; time.sleep(60)"]
        with subprocess.Popen(words) as child, running.ends(child.kill):
            threading.Timer(0.2, running.end).start()
            assert child.wait(timeout=20) != 0

    with pytest.raises(Refused, match="cancelled"):
        work()


def test_a_report_ended_while_it_is_set_is_cancelled_not_failed(monkeypatch, tmp_path):
    (tmp_path / "zone.typ").write_text("#for i in range(9000) [#i #lorem(900) #pagebreak()]")
    monkeypatch.setattr(zone_report, "TEMPLATE", tmp_path)
    running = Running()
    threading.Timer(1.0, running.end).start()
    with pytest.raises(Refused) as refused:
        zone_report_pdf(ready(), {}, running)
    assert refused.value.code == "cancelled"
