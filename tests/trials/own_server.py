"""A real Skinpin server in its own process, with a fresh book and one enrolled tablet."""

from __future__ import annotations

import json
import os
import socket
import subprocess
import sys
import time
from base64 import urlsafe_b64encode
from collections.abc import Iterator
from contextlib import contextmanager
from http.client import HTTPConnection
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from cryptography.hazmat.primitives.asymmetric.ec import SECP256R1, generate_private_key

ROOT = Path(__file__).resolve().parent.parent.parent
DEFINITION = ROOT / "sample_data/skinpin_demo/data/definition_2603.json"
STANDARD = ROOT / "sample_data/skinpin_demo/data/standard_qs7.json"
PASSCODE = "735186"


class Enrolled:
    """The one tablet of a fresh book, over one connection that stays open."""

    def __init__(self, port: int, folder: Path, process: int) -> None:
        self.folder, self.port, self.process = folder, port, process
        self._line = HTTPConnection("127.0.0.1", port, timeout=120)
        self._headers: dict[str, str] = {"Origin": f"http://127.0.0.1:{port}"}
        first = self._set_up()
        self.book, self.airframe, self.person = first["book"], first["airframe"], first["person"]
        code = self.ask("POST", "/api/enrolment-codes", {})["code"]
        told = self.ask("POST", "/api/enrol", {"code": code, "public_key": new_public_key()})
        self.tablet, self.epoch = told["tablet"], told["epoch"]
        self.token = told["token"]
        self._device = {"Authorization": f"Bearer {self.token}"}

    def _set_up(self) -> dict[str, Any]:
        pages = {
            "workshop": "Trial workshop",
            "time_zone": "Europe/London",
            "unit": "in",
            "lead_name": "Trial lead",
            "passcode": PASSCODE,
            "definition": json.loads(DEFINITION.read_text("utf-8")),
            "standard": json.loads(STANDARD.read_text("utf-8")),
        }
        told: dict[str, Any] = self.ask("POST", "/api/setup", pages)
        return told

    def ask(self, method: str, path: str, body: object | None = None) -> Any:
        """Ask as the signed-in lead; the session's cookie is kept."""
        text = None if body is None else json.dumps(body).encode()
        headers = {**self._headers, "Content-Type": "application/json"}
        return json.loads(self._exchange(method, path, text, headers))

    def push(self, body: bytes) -> bytes:
        """Send lines as the tablet and return the answer as it came."""
        headers = {**self._device, "Content-Type": "application/x-ndjson"}
        path = f"/api/entries?book={self.book}"
        return self._exchange("POST", path, body, headers)

    def page(self, epoch: str, after: int, at: str, limit: int) -> bytes:
        """Fetch one page as the tablet."""
        query = f"book={self.book}&epoch={epoch}&after={after}&at={at}&limit={limit}"
        return self._exchange("GET", f"/api/entries?{query}", None, self._device)

    def put(self, sha256: str, content: bytes) -> None:
        """Send a file as the tablet."""
        self._exchange("PUT", f"/api/photographs/{sha256}", content, self._device)

    def put_in_parts(self, sha256: str, size_bytes: int, parts: list[tuple[str, bytes]]) -> None:
        """Send a file as a tablet sends a large one of which nothing is there."""
        for n, (part_sha256, part) in enumerate(parts):
            told = {"Skinpin-Sha256": part_sha256, "Skinpin-Size-Bytes": str(size_bytes)}
            path = f"/api/photographs/{sha256}/parts/{n}"
            self._exchange("PUT", path, part, {**self._device, **told})

    def fetch(self, path: str) -> bytes:
        """Fetch a document as the signed-in lead."""
        return self._exchange("GET", path, None, self._headers)

    def hang_up(self) -> None:
        """Close the line before a long silence; the next question opens it anew."""
        self._line.close()

    def defects(self) -> list[dict[str, Any]]:
        """Return the rows of the defect book."""
        rows: list[dict[str, Any]] = self.ask("GET", "/api/defects")
        return rows

    def _exchange(
        self, method: str, path: str, body: bytes | None, headers: dict[str, str]
    ) -> bytes:
        self._line.request(method, path, body, headers)
        answer = self._line.getresponse()
        told = answer.read()
        if answer.status >= 400:
            raise RuntimeError(f"{method} {path}: {answer.status} {told[:300]!r}")
        cookie = answer.getheader("Set-Cookie")
        if cookie:
            self._headers["Cookie"] = cookie.split(";")[0]
        return told


def new_public_key() -> dict[str, str]:
    """Return a public key in the form that tablets send."""
    numbers = generate_private_key(SECP256R1()).public_key().public_numbers()
    x, y = (
        urlsafe_b64encode(number.to_bytes(32, "big")).rstrip(b"=").decode()
        for number in (numbers.x, numbers.y)
    )
    return {"kty": "EC", "crv": "P-256", "x": x, "y": y}


@contextmanager
def own_server() -> Iterator[Enrolled]:
    """Start a server over an empty folder; end it and remove the folder afterwards."""
    with TemporaryDirectory() as folder, socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
        probe.close()
        words = [sys.executable, "-m", "skinpin.cli", "serve", "--data", f"{folder}/book"]
        variables = {k: v for k, v in os.environ.items() if not k.startswith("SKINPIN_")}
        child = subprocess.Popen(
            [*words, "--port", str(port)], cwd=ROOT, env=variables, stdout=subprocess.DEVNULL
        )
        try:
            wait_for(port, child)
            yield Enrolled(port, Path(folder, "book"), child.pid)
        finally:
            child.kill()
            child.wait()


def wait_for(port: int, child: subprocess.Popen[bytes]) -> None:
    """Wait until the server answers."""
    until = time.monotonic() + 30
    while time.monotonic() < until and child.poll() is None:
        try:
            socket.create_connection(("127.0.0.1", port), timeout=1).close()
            return
        except OSError:
            time.sleep(0.05)
    raise RuntimeError("The server of the trial did not start; its own lines above say why.")
