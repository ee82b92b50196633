"""The two verbs that serve a book: the demo's and one of your own."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from runs.environment import PYTHON, build_page, install_python, must_run
from runs.requirements import require_folder, require_port

DEMO_TODAY = "2025-11-03"


def prepare(folder: Path, port: int) -> None:
    """Check what can go wrong first, then install and build what is missing."""
    require_port(port)
    require_folder(folder)
    install_python(for_development=False)
    build_page()


def demo(folder: Path, port: int) -> int:
    """Load the demo book where it is not yet, then serve it on the demo's own day."""
    prepare(folder, port)
    os.environ["SKINPIN_TODAY"] = DEMO_TODAY
    must_run(
        "Loading the demo book",
        PYTHON,
        "-m",
        "skinpin_demo.load",
        "--data",
        folder.resolve(),
        out=None,
    )
    return replace_by_server(folder, port)


def serve(folder: Path, port: int) -> int:
    """Serve a book; an empty one asks for its workshop on the first page."""
    prepare(folder, port)
    return replace_by_server(folder, port)


def replace_by_server(folder: Path, port: int) -> int:
    """Become the server, so that it gets every signal itself. Never returns."""
    print(f"Skinpin is at http://127.0.0.1:{port}  (Ctrl+C stops it)", flush=True)
    words = [sys.executable if not PYTHON.exists() else str(PYTHON), "-m", "skinpin.cli", "serve"]
    os.execv(words[0], [*words, "--data", str(folder.resolve()), "--port", str(port)])
