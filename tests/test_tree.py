"""The tree's text obeys its rules; each rule is shown to catch a planted breach."""

import subprocess
from pathlib import Path

import pytest

from tests.rules import tree

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture
def planted(tmp_path: Path) -> Path:
    subprocess.run(["git", "init", "-q", tmp_path], check=True)
    return tmp_path


def test_lock_files_hold_no_address() -> None:
    assert tree.addresses_in_locks(ROOT) == []


def test_no_file_names_a_path_of_one_machine() -> None:
    assert tree.machine_paths(ROOT) == []


def test_the_project_speaks_of_itself_alone() -> None:
    assert tree.forbidden_words(ROOT) == []


def test_no_source_file_is_longer_than_the_limit_without_a_reason() -> None:
    assert tree.long_files(ROOT) == []


def test_each_language_of_sync_stays_small() -> None:
    assert tree.large_sync(ROOT) == []


def test_every_python_dependency_is_locked_at_its_pinned_version() -> None:
    pins = [
        line.strip(' ",')
        for line in (ROOT / "pyproject.toml").read_text().splitlines()
        if line.startswith('  "') and "==" in line
    ]
    locked = (ROOT / "requirements-dev.lock").read_text()
    missing = [pin for pin in pins if f"{without_extra(pin)} " not in locked]
    assert len(pins) > 10
    assert missing == []


def without_extra(pin: str) -> str:
    name, version = pin.split("==")
    return f"{name.split('[')[0]}=={version}"


def test_every_locked_python_package_has_hashes() -> None:
    for name in ("requirements.lock", "requirements-dev.lock"):
        blocks = (ROOT / name).read_text().replace("\\\n", " ").strip().splitlines()
        assert [block for block in blocks if "--hash=sha256:" not in block] == []


def test_an_address_planted_in_a_lock_is_found(planted: Path) -> None:
    (planted / "package-lock.json").write_text('{\n"resolved": "x"\n}')
    (planted / "requirements.lock").write_text("--index-url here\n")
    assert tree.addresses_in_locks(planted) == [
        "requirements.lock:1: --index-url",
        'package-lock.json:2: "resolved"',
    ]


def test_a_planted_machine_path_is_found_and_an_address_of_the_app_is_not(planted: Path) -> None:
    (planted / "a.py").write_text("x = 1\ny = '/home/someone/book'\nz = 'http://host/work/9'\n")
    assert tree.machine_paths(planted) == ["a.py:2: /home/someone"]


def test_a_planted_word_is_found(planted: Path) -> None:
    (planted / "a.md").write_text("One.\nAs trade-notes say.\n")
    assert tree.forbidden_words(planted) == ["a.md:2: trade-notes"]


def test_a_long_file_needs_a_reason_in_its_first_line(planted: Path) -> None:
    (planted / "a.py").write_text("x = 1\n" * 401)
    (planted / "b.py").write_text('"""Long because it is one table."""\n' + "x = 1\n" * 401)
    assert [line.split(":")[0] for line in tree.long_files(planted)] == ["a.py"]


PYTHON = '''"""A docstring
over two lines."""

import re  # one

# a remark
TEXT = """a text
is code"""


def f(
    x: int,
) -> int:
    """Another."""
    return x
'''
TYPESCRIPT = """// A remark.

/** A remark. */
export const a = 1; // one
/**
 * More than
 * one line.
 */
const b = `
  ${a} /* text */
`;
"""


def test_lines_of_code_are_counted_without_blanks_comments_and_docstrings(tmp_path: Path) -> None:
    for name, text, lines in (("a.py", PYTHON, 7), ("a.ts", TYPESCRIPT, 4)):
        (tmp_path / name).write_text(text)
        assert tree.code_lines(tmp_path / name) == lines


def test_a_sync_grown_too_large_is_found(tmp_path: Path) -> None:
    for folder, name, line in (("python", "a.py", "x = 1"), ("typescript", "a.ts", "f();")):
        (tmp_path / "sync" / folder).mkdir(parents=True)
        (tmp_path / "sync" / folder / name).write_text(f"{line}\n\n" * 600)
    assert tree.large_sync(tmp_path) == []
    with (tmp_path / "sync/typescript/a.ts").open("a") as file:
        file.write("g();\n")
    assert tree.large_sync(tmp_path) == ["sync/typescript: 601 lines of code; at most 600"]
