"""A machine that lacks something gets one clear sentence, and nothing is installed."""

import ast
import os
import shutil
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from runs.refusal import Refused
from runs.requirements import require_folder, require_node, require_port, require_python

ROOT = Path(__file__).resolve().parent.parent.parent


@pytest.fixture
def clone(tmp_path: Path) -> Path:
    """Copy what run.py needs before anything is installed."""
    shutil.copytree(ROOT / "runs", tmp_path / "runs")
    for name in ("run.py", "pyproject.toml", "requirements.lock", "package.json"):
        shutil.copy(ROOT / name, tmp_path)
    return tmp_path


def run_demo(clone: Path, *words: str, **variables: str) -> subprocess.CompletedProcess[str]:
    """Run the verb demo as a person would; a free port unless told otherwise."""
    port = [] if "--port" in words else ["--port", str(free_port())]
    return subprocess.run(
        [sys.executable, "run.py", "demo", *port, *words],
        cwd=clone,
        env={**os.environ, **variables},
        capture_output=True,
        text=True,
        timeout=60,
    )


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def put_program(folder: Path, name: str, prints: str) -> None:
    """Write a program that prints one line."""
    folder.mkdir(exist_ok=True)
    (folder / name).write_text(f"#!/bin/sh\necho {prints}\n")
    (folder / name).chmod(0o755)


def assert_one_sentence(done: subprocess.CompletedProcess[str], *words: str) -> None:
    assert done.returncode == 1
    assert "Traceback" not in done.stderr
    assert len(done.stderr.strip().splitlines()) == 1
    for word in words:
        assert word in done.stderr


@pytest.mark.parametrize("version", [(3, 10, 14), (3, 8, 2), (2, 7, 18)])
def test_an_old_python_is_named_with_the_version_that_is_needed(version: tuple[int, ...]) -> None:
    with pytest.raises(Refused, match=r"3\.11 or newer; this is Python [23]\.\d+\.\d+\."):
        require_python(version)


def test_a_python_at_the_limit_is_taken() -> None:
    require_python((3, 11, 0))


def test_an_older_python_can_read_run_py_far_enough_to_say_so() -> None:
    for file in [ROOT / "run.py", *(ROOT / "runs").glob("*.py")]:
        tree = ast.parse(file.read_text(), feature_version=(3, 8))
        first = [node for node in tree.body if isinstance(node, ast.ImportFrom)][:1]
        has_code = any(not isinstance(node, ast.Expr) for node in tree.body)
        assert not has_code or first[0].module == "__future__", file.name


def test_a_python_without_the_venv_module_is_told_the_package(clone: Path) -> None:
    blocker = clone / "without"
    blocker.mkdir()
    (blocker / "sitecustomize.py").write_text(
        "import importlib.util as u\nfind = u.find_spec\n"
        "u.find_spec = lambda name, *rest: None if name == 'ensurepip' else find(name, *rest)\n"
    )
    done = run_demo(clone, PYTHONPATH=str(blocker))
    assert_one_sentence(done, "ensurepip", "apt-get install python3-venv")
    assert not (clone / ".venv").exists()


def test_a_taken_port_is_named_with_the_way_out(clone: Path) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = str(other.getsockname()[1])
        done = run_demo(clone, "--port", port)
    assert_one_sentence(done, f"Port {port} is taken", "--port N")
    assert not (clone / ".venv").exists()


@pytest.mark.parametrize("port", [-1, 70000])
def test_a_port_that_cannot_be_is_refused(port: int) -> None:
    with pytest.raises(Refused, match=f"Port {port} cannot be used"):
        require_port(port)


def test_a_folder_that_cannot_be_written_is_named(clone: Path) -> None:
    (clone / "a_file").write_text("")
    done = run_demo(clone, "--data", "a_file/book")
    assert_one_sentence(done, "a_file/book cannot be written", "--data DIR")


def test_a_folder_that_can_be_written_is_made(tmp_path: Path) -> None:
    require_folder(tmp_path / "new" / "book")
    assert list((tmp_path / "new" / "book").iterdir()) == []


def test_a_missing_node_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(Refused, match=r"Node 20\.19 or newer; there is no node on the path"):
        require_node()


@pytest.mark.parametrize("version", ["v18.20.4", "v20.18.9", "nonsense"])
def test_an_old_or_strange_node_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, version: str
) -> None:
    put_program(tmp_path / "bin", "node", version)
    put_program(tmp_path / "bin", "npm", "10.2.3")
    monkeypatch.setenv("PATH", f"{tmp_path / 'bin'}:/bin:/usr/bin")
    with pytest.raises(Refused, match=f"this is {version}"):
        require_node()


def test_a_node_without_npm_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    put_program(tmp_path / "bin", "node", "v20.19.0")
    monkeypatch.setenv("PATH", str(tmp_path / "bin"))
    with pytest.raises(Refused, match="no npm"):
        require_node()
