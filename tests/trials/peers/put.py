"""The least a server can do to keep a file for good; run by uvicorn beside Skinpin in a trial.

Bytes go to a temporary file as they come; then fsync, rename, fsync of the folder, and one row in
SQLite, durable on commit. No caller is known, no byte is checked, nothing is refused.
"""

from __future__ import annotations

import os
import sqlite3
from functools import cache
from pathlib import Path
from typing import Any

FOLDER = Path(os.environ.get("TRIAL_FOLDER", "."))


@cache
def rows() -> sqlite3.Connection:
    """Return the table of files, made at the first of them."""
    raw = sqlite3.connect(FOLDER / "rows.sqlite", isolation_level=None, check_same_thread=False)
    raw.execute("PRAGMA journal_mode=WAL")
    raw.execute("PRAGMA synchronous=FULL")
    raw.execute("CREATE TABLE file (name TEXT PRIMARY KEY, size_bytes INTEGER)")
    return raw


async def app(scope: Any, receive: Any, send: Any) -> None:
    """Answer PUT of any path."""
    if scope["type"] != "http":
        raise RuntimeError("Only HTTP is answered; start uvicorn with --lifespan off.")
    name = scope["path"].rpartition("/")[2]
    temporary, size_bytes, more = FOLDER / f"{name}.part", 0, True
    with temporary.open("wb") as file:
        while more:
            message = await receive()
            size_bytes += file.write(message.get("body", b""))
            more = message.get("more_body", False)
        file.flush()
        os.fsync(file.fileno())
    os.replace(temporary, FOLDER / name)
    handle = os.open(FOLDER, os.O_RDONLY | os.O_DIRECTORY)
    os.fsync(handle)
    os.close(handle)
    rows().execute("INSERT INTO file VALUES (?, ?)", (name, size_bytes))
    headers = [(b"content-length", b"0")]
    await send({"type": "http.response.start", "status": 201, "headers": headers})
    await send({"type": "http.response.body", "body": b""})
