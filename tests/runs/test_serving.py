"""The verb demo ends in a server that answers, on the demo's day, and may be run again."""

import json
import re
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent.parent


@contextmanager
def demo(folder: Path) -> Iterator[tuple[str, list[str]]]:
    """Run the verb until its server answers; hand out the address and what was printed."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    words = [sys.executable, "run.py", "demo", "--data", str(folder), "--port", str(port)]
    printed = folder.parent / f"printed-{port}.txt"
    with printed.open("w") as out:
        child = subprocess.Popen(words, cwd=ROOT, stdout=out, stderr=subprocess.STDOUT)
    address = f"http://127.0.0.1:{port}"
    try:
        wait_for(address, child, printed)
        yield address, printed.read_text().splitlines()
    finally:
        child.terminate()
        child.wait(timeout=20)


def wait_for(address: str, child: "subprocess.Popen[bytes]", printed: Path) -> None:
    until = time.monotonic() + 180
    while time.monotonic() < until and child.poll() is None:
        try:
            health(address)
            return
        except OSError:
            time.sleep(0.1)
    raise AssertionError(f"The demo did not answer:\n{printed.read_text()}")


def health(address: str) -> dict[str, Any]:
    with urllib.request.urlopen(f"{address}/api/health", timeout=5) as answer:
        told: dict[str, Any] = json.load(answer)
    return told


def test_the_demo_serves_prints_its_people_and_starts_again_without_loading(tmp_path: Path) -> None:
    folder = tmp_path / "book"
    with demo(folder) as (address, printed):
        first = health(address)
        text = "\n".join(printed)
    assert first["status"] == "ok"
    assert first["seq"] > 100
    assert address in text
    assert "Inspector 1" in text
    assert len(re.findall(r"\b\d{6}\b", text)) >= 9
    with demo(folder) as (address, printed):
        again = health(address)
    assert not [line for line in printed if line.startswith(("Installing", "Building"))]
    assert (again["book"], again["epoch"]) == (first["book"], first["epoch"])
    assert again["seq"] == first["seq"]
