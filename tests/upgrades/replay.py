"""Plays a recorded session against a server, and tells what its app would have missed."""

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any

from fastapi.testclient import TestClient
from skinpin.services.workshop import Workshop

from tests.upgrades.releases import Moment, bytes_of

ORIGIN = {"Origin": "http://testserver"}
DRAWN = ("token", "code", "epoch", "at", "device", "tablet")
"""Texts that a server draws: from then on the recorded one is sent as the new one."""


@dataclass
class Replay:
    """The browsers of a recording, against a server of today.

    `is_again` says that the server has had it all before. `troubles` are sentences.
    """

    client: TestClient
    workshop: Workshop
    is_again: bool = False
    drawn: dict[str, str] = field(default_factory=dict)
    cookies: dict[str, str] = field(default_factory=dict)
    troubles: list[str] = field(default_factory=list)

    def play(self, asked: Iterable[dict[str, Any]]) -> list[str]:
        """Ask everything in order; return what was answered in another way."""
        clock = self.workshop.now_ms
        assert isinstance(clock, Moment)
        for one in asked:
            clock.now_ms = max(clock.now_ms, one["at_ms"])
            self.ask(one)
        return self.troubles

    def know(self, asked: Iterable[dict[str, Any]]) -> None:
        """Take the cookies of a part of the session that is not played."""
        self.cookies.update({one["from"]: one["cookie"] for one in asked if "cookie" in one})

    def ask(self, one: dict[str, Any]) -> None:
        """Ask one thing as the recorded app did, and hold the answer against the recorded one."""
        is_push = one["method"] == "POST" and one["path"].startswith("/api/entries")
        body = bytes_of(one["body"])
        headers = {**ORIGIN, **{name: self.today(text) for name, text in one["headers"].items()}}
        if cookie := self.cookies.get(one["from"]):
            headers["Cookie"] = cookie
        answer = self.client.request(
            one["method"],
            self.today(one["path"]),
            headers=headers,
            content=body if is_push or b"\0" in body else self.today_bytes(body),
        )
        if "cookie" in one:
            self.cookies[one["from"]] = answer.headers.get("set-cookie", "").split(";")[0]
        self.client.cookies.clear()
        name = f"{one['part']}: {one['method']} {one['path'].split('?')[0]}"
        if answer.status_code != self.expected_status(one):
            said = f"{answer.status_code} instead of {one['status']}: {answer.text[:200]}"
            self.troubles.append(f"{name}: {said}")
        elif isinstance(one["answer"], str) and one["answer"]:
            self.compare(name, read(one["answer"]), read(answer.text))

    def expected_status(self, one: dict[str, Any]) -> int:
        """Return the status that was recorded; what is here already is not made again."""
        status: int = one["status"]
        return 200 if self.is_again and status == 201 else status

    def compare(self, name: str, recorded: Any, given: Any) -> None:
        """Note what an answer lacks, and what became of entries in another way than recorded."""
        self.troubles += [f"{name}: {lack}" for lack in lacks(recorded, given)]
        if not isinstance(recorded, dict) or not isinstance(given, dict):
            return
        for one in DRAWN:
            if isinstance(recorded.get(one), str) and isinstance(given.get(one), str):
                self.drawn[recorded[one]] = given[one]
        if "results" not in recorded:
            return
        stored = "duplicate" if self.is_again else "stored"
        for before, now in zip(recorded["results"], given["results"], strict=True):
            result = stored if before["result"] == "stored" else before["result"]
            if {**before, "result": result} != now:
                self.troubles.append(f"{name}: {now} instead of {before}")

    def today(self, text: str) -> str:
        """Put what this server drew in the place of what the recorded one drew."""
        for recorded, given in self.drawn.items():
            if len(recorded) > 4:  # a letter is the same, and stands in other words
                text = text.replace(recorded, given)
        return text

    def today_bytes(self, body: bytes) -> bytes:
        """Do the same to a body that is text."""
        try:
            return self.today(body.decode()).encode()
        except UnicodeDecodeError:
            return body


def read(text: str) -> Any:
    """Return the JSON of an answer; of a page, its head."""
    return json.loads(text.split("\n", 1)[0])


def lacks(recorded: Any, given: Any, where: str = "answer") -> Iterator[str]:
    """Yield where an answer has not the fields, the types or the lengths that were recorded."""
    if recorded is None:
        return
    if type(recorded) is not type(given):
        yield f"{where} is {json.dumps(given)[:80]}, not of the type of {json.dumps(recorded)[:80]}"
    elif isinstance(recorded, dict):
        for name, value in recorded.items():
            if name not in given:
                yield f"{where} lacks '{name}'"
            else:
                yield from lacks(value, given[name], f"{where}.{name}")
    elif isinstance(recorded, list):
        if len(recorded) != len(given):
            yield f"{where} has {len(given)} instead of {len(recorded)}"
        for place, (before, now) in enumerate(zip(recorded, given, strict=False)):
            yield from lacks(before, now, f"{where}[{place}]")
