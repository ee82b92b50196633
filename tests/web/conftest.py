"""A server in this process, and callers of every role."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from fastapi.testclient import TestClient
from skinpin.services.people import add_person
from skinpin.services.signing import sign_in
from skinpin.web.guard import COOKIE
from skinpin.web.server import build_server

from tests.benches import PASSCODE, Bench, open_bench

ORIGIN = {"Origin": "http://testserver"}


@dataclass
class Site:
    """A client of a served book."""

    client: TestClient
    bench: Bench

    def ask(self, method: str, path: str, *, token: str = "", session: str = "", **more):
        """Send one request as a device, a signed-in person, or nobody."""
        headers = {**ORIGIN, **more.pop("headers", {})}
        if token:
            headers["Authorization"] = f"Bearer {token}"
        if session:
            headers["Cookie"] = f"{COOKIE}={session}"
        return self.client.request(method, path, headers=headers, **more)

    def session_of(self, role: str) -> str:
        """Sign somebody of a role in."""
        workshop, lead = self.bench.workshop, self.bench.new.lead
        if role == "lead":
            return sign_in(workshop, lead, PASSCODE).token
        person = add_person(workshop, lead, f"The {role}", role, "", "222222")
        return sign_in(workshop, person, "222222").token


@pytest.fixture
def static(tmp_path: Path) -> Path:
    """A built web app, as small as can be."""
    folder = tmp_path / "static"
    (folder / "assets").mkdir(parents=True)
    (folder / "index.html").write_text("<!doctype html><title>Skinpin</title>")
    (folder / "sw.js").write_text("self")
    (folder / "assets" / "main-1a2b.js").write_text("1")
    (tmp_path / "secret.txt").write_text("s3cr3t")
    return folder


@pytest.fixture
def site(bench: Bench, static: Path) -> Iterator[Site]:
    """The book of `bench`, served."""
    app = build_server(bench.workshop, ["testserver"], static)
    with TestClient(app, raise_server_exceptions=False) as client:
        yield Site(client, bench)


@pytest.fixture
def empty_site(tmp_path: Path, static: Path) -> Iterator[Site]:
    """A server without a book."""
    workshop = open_bench(tmp_path / "empty")
    app = build_server(workshop, ["testserver"], static)
    with TestClient(app, raise_server_exceptions=False) as client:
        yield Site(client, Bench(workshop, None, ""))
