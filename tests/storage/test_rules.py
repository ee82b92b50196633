"""The name of the rules changes with whatever derived tables are made by, and with nothing else."""

import re
import shutil

import pytest
from skinpin.storage.rules import DERIVING, RULES, rules_of


@pytest.fixture
def folders(tmp_path):
    copies = [tmp_path / folder.name for folder in DERIVING]
    for folder, copy in zip(DERIVING, copies, strict=True):
        shutil.copytree(folder, copy, ignore=shutil.ignore_patterns("__pycache__"))
    return copies


def test_it_is_the_name_of_the_very_files_that_run(folders):
    assert re.fullmatch(r"[0-9a-f]{16}", RULES)
    assert rules_of(*folders) == rules_of(*DERIVING)


@pytest.mark.parametrize(
    "name",
    [
        "skinpin_sync/standing.py",
        "domain/judging.py",
        "domain/tables/moves.json",
        "storage/rows.py",
    ],
)
def test_it_changes_with_one_letter(folders, name):
    file = folders[0].parent / name
    before, text = rules_of(*folders), file.read_bytes()
    file.write_bytes(text + b"\n")
    assert rules_of(*folders) != before
    file.write_bytes(text)
    assert rules_of(*folders) == before


def test_it_changes_with_a_file_that_comes_or_goes(folders):
    before = rules_of(*folders)
    (folders[1] / "more.py").write_text("")
    more = rules_of(*folders)
    (folders[0] / "chain.py").unlink()
    assert len({before, more, rules_of(*folders)}) == 3


def test_it_is_the_same_where_lines_end_in_another_way(folders):
    before, file = rules_of(*folders), folders[1] / "judging.py"
    file.write_bytes(file.read_bytes().replace(b"\n", b"\r\n"))
    assert rules_of(*folders) == before
