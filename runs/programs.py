"""The programs that tests drive, and the Debian packages that bring them."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

from runs.environment import must_run
from runs.refusal import Refused

# Each program, or a file of a package that has none on the path, beside its package.
DEBIAN = {
    "chromium": "chromium",
    "firefox-esr": "firefox-esr",
    "WebKitWebDriver": "webkit2gtk-driver",
    "/usr/lib/python3/dist-packages/gi": "python3-gi",
    "/usr/lib/*/girepository-1.0/WebKit2-4.1.typelib": "gir1.2-webkit2-4.1",
    "Xvfb": "xvfb",
    "pdftoppm": "poppler-utils",
    "exiftool": "libimage-exiftool-perl",
    "/usr/lib/postgresql/*/bin/postgres": "postgresql",
}


def is_here(name: str) -> bool:
    """Say whether a program is on the path, or a file that matches is there."""
    if not name.startswith("/"):
        return shutil.which(name) is not None
    return any(Path("/").glob(name.removeprefix("/")))


def install_programs() -> None:
    """Install the programs that tests drive, or name them to somebody who may."""
    missing = [package for name, package in DEBIAN.items() if not is_here(name)]
    if not missing:
        return
    if os.geteuid() != 0 or shutil.which("apt-get") is None:
        raise Refused(
            f"The tests drive programs that are missing: {', '.join(missing)} (Debian's names). "
            "Install them and run this again."
        )
    must_run("Reading Debian's package lists", "apt-get", "update", "-q")
    os.environ["DEBIAN_FRONTEND"] = "noninteractive"
    must_run("Installing programs", "apt-get", "install", "-q", "-y", *missing)
