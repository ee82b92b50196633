"""What a machine must have before anything can be installed or served."""

from __future__ import annotations

import errno
import importlib.util
import re
import shutil
import socket
import subprocess
import sys
import tempfile
from pathlib import Path

from runs.refusal import Refused

PYTHON = (3, 11)
NODE = (20, 19)


def require_python(version: tuple[int, ...] = tuple(sys.version_info[:3])) -> None:
    """Refuse a Python that is too old."""
    if version[:2] < PYTHON:
        found = ".".join(str(part) for part in version)
        raise Refused(
            f"Skinpin needs Python 3.11 or newer; this is Python {found}. "
            "Run the same command with a newer one, such as python3.12 run.py demo."
        )


def require_venv() -> None:
    """Refuse a Python that cannot make a virtual environment, as Debian's own without a package."""
    for module in ("venv", "ensurepip"):
        if importlib.util.find_spec(module) is None:
            raise Refused(
                f"This Python has no module '{module}', so .venv cannot be made. "
                "On Debian or Ubuntu run: apt-get install python3-venv"
            )


def require_node() -> None:
    """Refuse a missing or old Node, or one without npm; it is needed to build the page."""
    wanted = "Skinpin's page is built with Node 20.19 or newer"
    if shutil.which("node") is None:
        raise Refused(f"{wanted}; there is no node on the path. Install it and run this again.")
    said = subprocess.run(["node", "--version"], capture_output=True, text=True).stdout.strip()
    numbers = re.match(r"v(\d+)\.(\d+)", said)
    if numbers is None or (int(numbers[1]), int(numbers[2])) < NODE:
        raise Refused(f"{wanted}; this is {said or 'unknown'}. Install a newer one.")
    if shutil.which("npm") is None:
        raise Refused(f"{wanted} and its npm; there is no npm on the path. Install npm.")


def require_folder(folder: Path) -> None:
    """Make the folder, or refuse one that cannot be written."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=folder):
            pass
    except OSError as error:
        raise Refused(
            f"The folder {folder} cannot be written ({error.strerror}). "
            "Name another with --data DIR."
        ) from error


def require_port(port: int) -> None:
    """Refuse a port that another program holds or that this user may not take."""
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(("127.0.0.1", port))
        except (OSError, OverflowError) as error:
            taken = getattr(error, "errno", None) == errno.EADDRINUSE
            reason = "is taken by another program" if taken else f"cannot be used ({error})"
            raise Refused(f"Port {port} {reason}. Choose another with --port N.") from error
