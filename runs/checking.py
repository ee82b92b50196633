"""The verb check: every tool that reads the code without running it, and the rule tests."""

from __future__ import annotations

import subprocess
import time
from typing import NamedTuple

from runs.environment import PYTHON, ROOT, install_node, install_python


class Step(NamedTuple):
    """One tool and how it is called."""

    name: str
    command: list[str]


RULES = ("test_map.py", "test_docs.py", "test_licences.py", "test_tree.py")


def steps() -> list[Step]:
    """Return name and command of every step."""
    tool = str(PYTHON.parent)
    node = str(ROOT / "node_modules/.bin")
    projects = sorted(file.name for file in ROOT.glob("tsconfig*.json"))
    types = [Step(f"types, {name}", [f"{node}/tsc", "-p", name]) for name in projects]
    rules = [f"tests/{name}" for name in RULES]
    return [
        Step("format, Python", [f"{tool}/ruff", "format", "--check", "."]),
        Step("lint, Python", [f"{tool}/ruff", "check", "."]),
        Step("types, Python", [f"{tool}/mypy"]),
        Step("types, run.py", [f"{tool}/mypy", "--no-incremental", "run.py", "runs"]),
        Step("format and lint, TypeScript", [f"{node}/biome", "check", "--error-on-warnings"]),
        *types,
        Step("import map, docs, licences, tree", [f"{tool}/python", "-m", "pytest", *rules]),
    ]


def mend() -> None:
    """Let the tools mend what they can."""
    tool = PYTHON.parent
    for command in (
        [tool / "ruff", "check", "--fix", "--quiet", "."],
        [tool / "ruff", "format", "--quiet", "."],
        [ROOT / "node_modules/.bin/biome", "check", "--write"],
        [PYTHON, "-m", "tests.rules.licences", ROOT / "THIRD-PARTY.md"],
    ):
        subprocess.run([str(word) for word in command], cwd=ROOT, stdin=subprocess.DEVNULL)


def passes(step: Step) -> bool:
    """Run one step; print its output only where it failed."""
    began = time.monotonic()
    done = subprocess.run(
        step.command,
        cwd=ROOT,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    word = "ok" if done.returncode == 0 else "FAILED"
    print(f"{word:7}{step.name} ({time.monotonic() - began:.1f} s)", flush=True)
    if done.returncode != 0:
        print(done.stdout, flush=True)
    return done.returncode == 0


def check(with_mending: bool) -> int:
    """Run every step, also after one failed, and sum up."""
    install_python(for_development=True)
    install_node()
    if with_mending:
        mend()
    failed = [step.name for step in steps() if not passes(step)]
    print(f"check: {'all steps passed' if not failed else 'failed: ' + '; '.join(failed)}")
    return 1 if failed else 0
