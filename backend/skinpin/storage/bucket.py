"""An S3-style store: three questions over HTTP, signed. Keys are SHA-256 below a prefix."""

import hashlib
import http.client
from collections.abc import Callable
from datetime import UTC, datetime
from typing import NamedTuple
from urllib.parse import quote, urlsplit

from skinpin.domain.errors import Refused
from skinpin.storage.signing import Asked, Key, authorization

TIME_LIMIT_S = 60
TRIES = 3
EMPTY_SHA256 = hashlib.sha256(b"").hexdigest()


class Place(NamedTuple):
    """Where a bucket lies; endpoint as `https://host[:port]`, prefix without a slash at its end."""

    endpoint: str
    bucket: str
    prefix: str
    key: Key


class Bucket:
    """Objects that are written once and never again."""

    def __init__(self, place: Place, moment: Callable[[], str] | None = None) -> None:
        self._place, self._moment = place, moment or _now

    def put(self, name: str, content: bytes) -> None:
        """Keep bytes; on return the store has acknowledged them by their SHA-256."""
        self._need(*self._ask("PUT", name, content), f"keep {name}")

    def get(self, name: str) -> bytes | None:
        """Return the bytes of a name, None if there are none."""
        status, content = self._ask("GET", name)
        if status == 404:
            return None
        self._need(status, content, f"hand out {name}")
        return content

    def exists(self, name: str) -> bool:
        """Say whether a name is there."""
        status, content = self._ask("HEAD", name)
        if status != 404:
            self._need(status, content, f"say whether {name} is there")
        return status != 404

    def _need(self, status: int, content: bytes, what: str) -> None:
        if not 200 <= status < 300:
            raise away(self._place, f"would not {what}: {status} {_word(content)}".strip())

    def _ask(self, method: str, name: str, content: bytes = b"") -> tuple[int, bytes]:
        """Ask, and ask again where the way broke or the store is busy: all of it bears that."""
        told: Exception | str = ""
        for _ in range(TRIES):
            try:
                status, answer = self._once(method, name, content)
            except (OSError, http.client.HTTPException) as error:
                told = error
                continue
            if status < 500:
                return status, answer
            told = f"{status} {_word(answer)}".strip()
        raise away(self._place, f"does not answer: {told}")

    def _once(self, method: str, name: str, content: bytes) -> tuple[int, bytes]:
        place = self._place
        where = urlsplit(place.endpoint)
        path = "/".join(filter(None, ("", place.bucket, place.prefix, name)))
        path = path if path.startswith("/") else f"/{path}"
        payload = hashlib.sha256(content).hexdigest() if content else EMPTY_SHA256
        moment = self._moment()
        headers = {"host": where.netloc, "x-amz-content-sha256": payload, "x-amz-date": moment}
        asked = Asked(method, path, {}, headers, payload)
        signed = headers | {"authorization": authorization(place.key, asked, moment)}
        kind = (
            http.client.HTTPSConnection if where.scheme == "https" else http.client.HTTPConnection
        )
        line = kind(where.netloc, timeout=TIME_LIMIT_S)
        try:
            line.request(method, quote(path, safe="/-_.~"), content or None, signed)
            answer = line.getresponse()
            return answer.status, answer.read()
        finally:
            line.close()


def away(place: Place, said: str) -> Refused:
    """Return the refusal where the store can't be asked, or refuses."""
    return Refused(
        "store_away",
        f"The store of photographs {place.endpoint}/{place.bucket} {said}.",
        "Nothing was lost: what was not acknowledged is sent again. Look at the store.",
    )


def _word(content: bytes) -> str:
    """Return the code in the store's own answer, if there is one."""
    _, _, rest = content.decode("utf-8", "replace").partition("<Code>")
    return rest.partition("</Code>")[0][:60]


def _now() -> str:
    return datetime.now(UTC).strftime("%Y%m%dT%H%M%SZ")
