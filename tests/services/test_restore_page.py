"""The printed page leads from a bare folder to a whole book."""

import re
import shlex

import pytest
from skinpin.cli import VERBS
from skinpin.domain.errors import Refused
from skinpin.services.backup import back_up
from skinpin.services.restore_page import restore_page

from tests.benches import open_bench, set_up
from tests.services.books import lines_in_order
from tests.test_cli import run


def test_the_commands_of_the_page_restore_the_book_as_they_stand(tmp_path):
    bench = set_up(open_bench(tmp_path / "old"))
    bench.push(bench.tablet().defect("d1", number="A/0001"))
    backups = tmp_path / "backups"
    made = back_up(bench.workshop, backups, lambda done, of: None)
    page = restore_page(bench.workshop, backups)
    assert made.folder.name in page
    words = [shlex.split(one) for one in re.findall(r"\.venv/bin/skinpin (.+)", page)]
    assert [one[0] for one in words] == ["restore", "check-book", "check-setup", "rehearse"]
    for verb, *rest in words:
        assert verb in VERBS
        known = {"book": tmp_path / "new", "FOLDER_OF_BACKUPS": backups}
        done = run(verb, *(known.get(one, one) for one in rest))
        fit = (0, 1) if verb == "check-setup" else (0,)  # both folders lie on one disk here
        assert done.returncode in fit, (verb, done.stdout, done.stderr)
    assert set(lines_in_order(bench)) == set(lines_in_order(as_bench(tmp_path / "new")))


def as_bench(folder):
    class Opened:
        workshop = open_bench(folder)

    return Opened()


def test_the_page_fits_on_paper_and_a_book_without_backups_says_so(tmp_path):
    bench = set_up(open_bench(tmp_path))
    page = restore_page(bench.workshop, tmp_path / "none")
    assert "none yet" in page
    steps = page[page.index("10  ") :].splitlines()
    assert max(map(len, steps)) <= 80
    assert len(page.splitlines()) <= 60


def test_without_a_book_there_is_no_page(tmp_path):
    with pytest.raises(Refused) as refused:
        restore_page(open_bench(tmp_path), tmp_path)
    assert refused.value.code == "no_book"
