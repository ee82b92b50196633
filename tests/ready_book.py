"""Makes one loaded copy of the demo book for all tests, again only when the code changed."""

import fcntl
import hashlib
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SHELF = ROOT / ".cache" / "ready-books"
SOURCES = ("backend/skinpin", "sync/python", "sample_data")
KEPT_S = 6 * 3600  # another run may still be using the copy that it was given
DEMO_TODAY = "2025-11-03"


def version_of_sources() -> str:
    """Return a hash over every file that the loaded book depends on."""
    total = hashlib.sha256()
    for top in SOURCES:
        for file in sorted((ROOT / top).rglob("*")):
            if file.is_file() and "__pycache__" not in file.parts and "static" not in file.parts:
                total.update(file.as_posix().encode() + file.read_bytes())
    return total.hexdigest()[:16]


def ready_book() -> Path:
    """Return the folder of the loaded book; copy it before serving it.

    Two test runs may ask at once, so one loads and the other waits.
    """
    SHELF.mkdir(parents=True, exist_ok=True)
    with (SHELF / "lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        folder = SHELF / version_of_sources()
        if not folder.exists():
            load_into(folder)
        return folder


def load_into(folder: Path) -> None:
    """Load beside, then rename, so that a broken load is never taken for a ready one."""
    for older in SHELF.iterdir():
        if older.is_dir() and time.time() - older.stat().st_mtime > KEPT_S:
            shutil.rmtree(older)
    beside = folder.with_suffix(".part")
    shutil.rmtree(beside, ignore_errors=True)
    words = [sys.executable, "-m", "skinpin_demo.load", "--data", str(beside)]
    where = {**os.environ, "SKINPIN_TODAY": DEMO_TODAY}
    done = subprocess.run(words, cwd=ROOT, env=where, capture_output=True, text=True)
    if done.returncode != 0:
        raise RuntimeError(f"Loading the demo book failed:\n{done.stdout}{done.stderr}")
    beside.rename(folder)


if __name__ == "__main__":
    print(ready_book())
