"""AWS Signature Version 4, by which S3-style stores know who asks.

Source: Amazon S3 API reference, "Authenticating Requests: Using the Authorization Header (AWS
Signature Version 4)"; its worked examples are the check figures of the tests.
"""

import hashlib
import hmac
from collections.abc import Mapping
from typing import NamedTuple
from urllib.parse import quote

ALGORITHM = "AWS4-HMAC-SHA256"


class Key(NamedTuple):
    """Whose request it is, and in which region the store lies."""

    id: str
    secret: str
    region: str


class Asked(NamedTuple):
    """A request: its path as it is, not yet percent-encoded; header names in lower case."""

    method: str
    path: str
    query: Mapping[str, str]
    headers: Mapping[str, str]
    payload_sha256: str


def authorization(key: Key, asked: Asked, moment: str) -> str:
    """Return the Authorization header; `moment` is as `20130524T000000Z` and stands in headers."""
    scope = f"{moment[:8]}/{key.region}/s3/aws4_request"
    names = ";".join(sorted(asked.headers))
    hashed = hashlib.sha256(canonical_request(asked).encode()).hexdigest()
    text = "\n".join((ALGORITHM, moment, scope, hashed))
    signature = hmac.new(_signing_key(key, moment[:8]), text.encode(), hashlib.sha256).hexdigest()
    return f"{ALGORITHM} Credential={key.id}/{scope},SignedHeaders={names},Signature={signature}"


def canonical_request(asked: Asked) -> str:
    """Return a request in the one form that both sides hash."""
    query = "&".join(
        f"{quote(name, safe='-_.~')}={quote(value, safe='-_.~')}"
        for name, value in sorted(asked.query.items())
    )
    headers = sorted(asked.headers.items())
    lines = "".join(f"{name}:{value.strip()}\n" for name, value in headers)
    names = ";".join(name for name, _ in headers)
    path = quote(asked.path, safe="/-_.~")
    return "\n".join((asked.method, path, query, lines, names, asked.payload_sha256))


def _signing_key(key: Key, day: str) -> bytes:
    made = f"AWS4{key.secret}".encode()
    for part in (day, key.region, "s3", "aws4_request"):
        made = hmac.new(made, part.encode(), hashlib.sha256).digest()
    return made
