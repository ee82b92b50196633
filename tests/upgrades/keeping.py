"""Keeps what a release leaves behind, as its recording asks: backup, database, session, page.

Started as `python -m tests.upgrades.keeping WHAT BOOK FOLDER`.
"""

import hashlib
import io
import json
import lzma
import sqlite3
import subprocess
import sys
import tarfile
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from skinpin.app import open_workshop
from skinpin.services.backup import back_up
from skinpin.services.workshop import Workshop
from skinpin.settings import read_settings
from skinpin.storage.rules import RULES
from skinpin.web.pages import STATIC, build_name

from tests.ready_book import DEMO_TODAY
from tests.upgrades.accounts import account

ROOT = Path(__file__).resolve().parents[2]


def keep_backup(book: Path, folder: Path) -> None:
    """Keep a backup of the book as it stands."""
    with TemporaryDirectory() as scratch, closing(opened(book)) as workshop:
        back_up(workshop, Path(scratch))
        (Path(scratch) / "lock").unlink()
        pack(Path(scratch), folder / "backup.tar.xz")


def keep_database(book: Path, folder: Path) -> None:
    """Keep the database as the statements that make it, and what it held."""
    with closing(sqlite3.connect(book / "book.sqlite")) as database:
        text = "\n".join(database.iterdump()) + "\n"
    (folder / "book.sql.xz").write_bytes(lzma.compress(text.encode(), preset=9))
    keep_account(book, folder, "stored")


def keep_session(book: Path, folder: Path) -> None:
    """Keep what was asked and answered, packed."""
    plain = folder / "session.jsonl"
    (folder / "session.jsonl.xz").write_bytes(lzma.compress(plain.read_bytes(), preset=9))
    plain.unlink()


def keep_whole(book: Path, folder: Path) -> None:
    """Keep what the book held at the end."""
    keep_account(book, folder, "whole")


def keep_account(book: Path, folder: Path, moment: str) -> None:
    """Keep what the book holds at a moment of the session."""
    with closing(opened(book)) as workshop:
        told = json.dumps(account(workshop), indent=1)
    (folder / f"{moment}.json").write_text(told + "\n")


def keep_page(book: Path, folder: Path) -> None:
    """Keep the built page, which is what the commit that is checked out builds."""
    words = ["git", "status", "--porcelain", "--", "backend", "frontend", "sync"]
    assert said(words) == "", "What is built must be committed."
    pack(STATIC, folder / "page.tar.xz")
    release = {
        "commit": said(["git", "rev-parse", "HEAD"]),
        "build": build_name(STATIC),
        "rules": RULES,
        "sha256": {
            one.name: hashlib.sha256(one.read_bytes()).hexdigest()
            for one in sorted(folder.iterdir())
        },
    }
    (folder / "release.json").write_text(json.dumps(release, indent=1) + "\n")


def opened(book: Path) -> Workshop:
    """Return the workshop of a book, on the day of the recording."""
    return open_workshop(read_settings(book, {"SKINPIN_TODAY": DEMO_TODAY}))


def pack(folder: Path, target: Path) -> None:
    """Pack the files of a folder, the same bytes for the same files."""
    with tarfile.open(target, "w:xz", preset=9) as packed:
        for file in sorted(one for one in folder.rglob("*") if one.is_file()):
            content = file.read_bytes()
            entry = tarfile.TarInfo(file.relative_to(folder).as_posix())
            entry.size = len(content)
            packed.addfile(entry, io.BytesIO(content))


def said(words: list[str]) -> str:
    """Return what a program says."""
    done = subprocess.run(words, cwd=ROOT, capture_output=True, text=True, check=True)
    return done.stdout.strip()


KEEPS: dict[str, Callable[[Path, Path], Any]] = {
    "backup": keep_backup,
    "database": keep_database,
    "session": keep_session,
    "whole": keep_whole,
    "page": keep_page,
}

if __name__ == "__main__":
    KEEPS[sys.argv[1]](Path(sys.argv[2]), Path(sys.argv[3]))
