"""Stands before everything: known hosts only, own origin only, strict headers on every answer."""

import re
from collections.abc import Collection, Iterable
from urllib.parse import urlsplit

from starlette.datastructures import Headers
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from skinpin.web.errors import answer, fault

Header = tuple[bytes, bytes]
COOKIE = "skinpin_session"
SAFE = ("GET", "HEAD", "OPTIONS")
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; "
    "connect-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'none'; "
    "frame-ancestors 'none'; base-uri 'none'"
)
HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}
_RAW = [(name.lower().encode(), value.encode()) for name, value in HEADERS.items()]
_OURS = frozenset(name for name, _ in _RAW)
_CACHE = b"cache-control"


def with_headers(given: Iterable[Header], path: str) -> list[Header]:
    """Return an answer's headers with the strict ones, which go before an answer's own."""
    headers = [one for one in given if one[0] not in _OURS]
    if path.startswith("/api/") and not any(name == _CACHE for name, _ in headers):
        headers.append((_CACHE, b"no-store"))
    return headers + _RAW


_HOST = re.compile(r"(\[[0-9a-f:.]+\]|[a-z0-9.-]+)(?::[0-9]+)?")


class Guard:
    """ASGI middleware; the outermost one, so that even errors carry the headers."""

    def __init__(self, app: ASGIApp, hosts: Collection[str]) -> None:
        self._app, self._hosts = app, frozenset(host.lower() for host in hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Refuse what comes by a foreign name or from a foreign page; else pass it on."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return

        started = False

        async def send_with_headers(message: Message) -> None:
            nonlocal started
            if message["type"] == "http.response.start":
                started = True
                message["headers"] = with_headers(message.get("headers", ()), scope["path"])
            await send(message)

        refusal = self._refusal(scope["method"], Headers(scope=scope))
        app = answer(*refusal) if refusal else self._app
        try:
            await app(scope, receive, send_with_headers)
        except Exception as error:
            # Half an answer can't be taken back; the connection is cut and the client tries again.
            if started:
                raise
            words = f"{scope['method']} {scope['path']}"
            await fault(words, error)(scope, receive, send_with_headers)

    def _refusal(self, method: str, headers: Headers) -> tuple[str, str, str] | None:
        host = headers.get("host", "").lower()
        found = _HOST.fullmatch(host)
        if not found or found[1] not in self._hosts:
            message = f"This server is not known by the name '{host[:100]}'."
            return "wrong_host", message, "Open it by its own name, or add it to SKINPIN_HOSTS."
        if method in SAFE:
            return None
        origin = headers.get("origin")
        has_cookie = f"{COOKIE}=" in headers.get("cookie", "")
        if (origin is None and has_cookie) or (
            origin is not None and urlsplit(origin).netloc.lower() != host
        ):
            message = f"The request comes from '{(origin or 'no page')[:100]}'."
            return "wrong_origin", message, "Use the pages of this server."
        return None
