"""Installs and builds, and leaves a stamp so that the next start has nothing to do."""

from __future__ import annotations

import hashlib
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import TextIO

from runs.refusal import Refused
from runs.requirements import require_node, require_python, require_venv

ROOT = Path(__file__).resolve().parent.parent
PYTHON = ROOT / ".venv" / "bin" / "python"
CACHE = ROOT / ".cache"
PAGE = ROOT / "backend/skinpin/web/static/index.html"


def run(*command: str | Path, out: TextIO | None = None) -> int:
    """Run a command at the root and return its exit code."""
    sys.stdout.flush()
    words = [str(word) for word in command]
    return subprocess.run(words, cwd=ROOT, stdin=subprocess.DEVNULL, stdout=out).returncode


def say(words: str) -> None:
    """Tell what is going on, apart from what a verb was asked for."""
    print(words, file=sys.stderr, flush=True)


def must_run(what: str, *command: str | Path, out: TextIO | None = sys.stderr) -> None:
    """Run a command; a failure is a sentence below what the command itself said."""
    code = run(*command, out=out)
    if code != 0:
        raise Refused(f"{what} failed with exit code {code}; the lines above say why.")


def digest(files: Iterable[Path]) -> str:
    """Return one hash over the names and bytes of files."""
    total = hashlib.sha256()
    for file in sorted(files):
        total.update(f"{file.relative_to(ROOT)}\0".encode())
        total.update(hashlib.sha256(file.read_bytes()).digest())
    return total.hexdigest()


def is_fresh(stamp: Path, files: Iterable[Path]) -> bool:
    """Say whether the stamp was written for these very files."""
    return stamp.exists() and stamp.read_text() == digest(files)


def write_stamp(stamp: Path, files: Iterable[Path]) -> None:
    """Remember that the work for these files is done."""
    stamp.parent.mkdir(parents=True, exist_ok=True)
    stamp.write_text(digest(files))


def locked(name: str) -> tuple[Path, list[Path]]:
    """Return the stamp of a lock file and the files that it was written for."""
    return ROOT / ".venv" / f"{name}.stamp", [ROOT / "pyproject.toml", ROOT / name]


def install_python(*, for_development: bool) -> None:
    """Make .venv and install the locked packages, then Skinpin itself from this folder."""
    require_python()
    full, serving = locked("requirements-dev.lock"), locked("requirements.lock")
    enough = [full] if for_development else [full, serving]
    if PYTHON.exists() and any(is_fresh(stamp, inputs) for stamp, inputs in enough):
        return
    require_venv()
    say("Installing the Python packages into .venv")
    if not PYTHON.exists():
        must_run("Making .venv", sys.executable, "-m", "venv", ".venv")
    stamp, inputs = enough[-1]
    pip: list[str | Path] = [
        PYTHON,
        "-m",
        "pip",
        "--disable-pip-version-check",
        "install",
        "-qq",
    ]
    must_run("Installing the Python packages", *pip, "--require-hashes", "-r", inputs[1])
    itself: list[str | Path] = ["--no-deps", "--no-build-isolation", "--editable", ROOT]
    must_run("Installing Skinpin into .venv", *pip, *itself)
    write_stamp(stamp, inputs)


def install_node() -> None:
    """Install the locked npm packages without running their scripts."""
    inputs = [ROOT / "package.json", ROOT / "package-lock.json"]
    stamp = ROOT / "node_modules" / ".skinpin-stamp"
    if is_fresh(stamp, inputs):
        return
    require_node()
    say("Installing the npm packages into node_modules")
    must_run("Installing the npm packages", "npm", "ci", "--ignore-scripts", "--no-progress")
    write_stamp(stamp, inputs)


def page_sources() -> list[Path]:
    """Return every file that the built page depends on."""
    folders = ("frontend", "sync/typescript", "backend/skinpin/domain/tables")
    files = [file for folder in folders for file in (ROOT / folder).rglob("*") if file.is_file()]
    return [*files, ROOT / "package-lock.json", *ROOT.glob("vite*.config.ts")]


def build_page() -> None:
    """Build the web app when a source of it changed."""
    stamp = CACHE / "page-stamp"
    if PAGE.exists() and is_fresh(stamp, page_sources()):
        return
    install_node()
    say("Building the page")
    must_run("Building the page", "npm", "run", "--silent", "build")
    write_stamp(stamp, page_sources())
