"""Writes the lock files: versions and hashes, no address of any registry."""

from __future__ import annotations

import sys
from pathlib import Path

from runs.environment import CACHE, PYTHON, ROOT, install_node, install_python, must_run

BUILD_NEEDS = "hatchling==1.33.0\neditables==0.5\n"
RESOLVER = "uv==0.13.8"


def lock() -> int:
    """Resolve pyproject.toml and package.json again, then list the licences of what is locked."""
    tool = CACHE / "lock"
    if not (tool / "bin" / "uv").exists():
        must_run("Making the resolver's folder", sys.executable, "-m", "venv", tool)
        must_run("Installing the resolver", tool / "bin/pip", "install", "--quiet", RESOLVER)
    build_needs = CACHE / "build-needs.in"
    build_needs.write_text(BUILD_NEEDS)
    plain: list[str | Path] = [
        tool / "bin/uv",
        "pip",
        "compile",
        "pyproject.toml",
        build_needs,
        "--quiet",
    ]
    plain += ["--universal", "--python-version", "3.11", "--generate-hashes"]
    plain += ["--no-header", "--no-annotate"]
    must_run("Locking what serving needs", *plain, "-o", "requirements.lock")
    both = ["--extra", "dev", "-c", "requirements.lock", "-o", "requirements-dev.lock"]
    must_run("Locking what development needs", *plain, *both)
    must_run("Locking npm", "npm", "install", "--package-lock-only", "--ignore-scripts")
    install_python(for_development=True)
    install_node()
    must_run("Listing licences", PYTHON, "-m", "tests.rules.licences", ROOT / "THIRD-PARTY.md")
    return 0
