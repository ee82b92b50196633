"""A stop while a memory-stick file is taken in leaves nothing of it, or who took it in."""

import pytest
from skinpin.services import stick_files
from skinpin.services.devices import end_device
from skinpin.services.stick_files import take_in

from tests.bags import stick_tablet, zipped
from tests.services.test_stick_files import PHOTOGRAPHS, kept, lines_of, log_of, state_of


@pytest.fixture
def stick(bench):
    """A tablet that was never in reach, and what it wrote."""
    return stick_tablet(bench)


class Stopped(BaseException):
    """The process ends here."""


def stop_at(monkeypatch, step):
    """End the process before one of the writes of a file: the note, each photograph, each part."""
    left = [step]

    def stopping(work):
        def before(*given, **more):
            if left[0] == 0:
                raise Stopped
            left[0] -= 1
            return work(*given, **more)

        return before

    for name in ("write_act_here", "_keep_photograph", "push"):
        monkeypatch.setattr(stick_files, name, stopping(getattr(stick_files, name)))


@pytest.mark.parametrize("step", range(5))
def test_a_stop_at_any_step_leaves_nothing_or_who_took_the_file_in(
    bench, stick, tmp_path, monkeypatch, step
):
    path = kept(tmp_path, zipped(stick.files(lines_of(stick), PHOTOGRAPHS)))
    end_device(bench.workshop, bench.new.lead, stick.record, "left on the ferry")
    before = state_of(bench)
    with monkeypatch.context() as stopped:
        stop_at(stopped, step)
        if step < 4:
            with pytest.raises(Stopped):
                take_in(bench.workshop, bench.new.lead, path, "found again")
        else:
            take_in(bench.workshop, bench.new.lead, path, "found again")
    noted = [line for _, line in log_of(bench) if '"taken_in"' in line]
    if step == 0:
        assert state_of(bench) == before
    else:
        [line] = noted
        assert '"why":"found again"' in line
        assert '"entries":3' in line
        assert '"photographs":2' in line
    again = take_in(bench.workshop, bench.new.lead, path, "and once more")
    assert again.stored == (0 if step == 4 else 3)
    noted = [line for _, line in log_of(bench) if '"taken_in"' in line]
    assert len(noted) == (1 if step in (0, 4) else 2)
