"""How much of a body is read: JSON and lines within a limit; files are taken in pieces."""

from typing import Annotated

from fastapi import Depends, Request
from starlette.exceptions import HTTPException
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from skinpin.services.push import MAX_BODY_BYTES

FILES = "/api/photographs/"
LARGER = {"/api/drawings": 32 * 1024 * 1024}
TOO_LARGE = 413


class BodyLimit:
    """ASGI middleware: a body over the limit is not read on, whoever sends it."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Count what comes, but for files, which have a limit of their own."""
        is_file = scope["type"] == "http" and scope["method"] == "PUT"
        if scope["type"] != "http" or (is_file and scope["path"].startswith(FILES)):
            await self._app(scope, receive, send)
            return
        most, size_bytes = LARGER.get(scope["path"], MAX_BODY_BYTES), 0

        async def counted() -> Message:
            nonlocal size_bytes
            message = await receive()
            size_bytes += len(message.get("body", b""))
            if size_bytes > most:
                raise HTTPException(TOO_LARGE)
            return message

        await self._app(scope, counted, send)


async def whole_body(request: Request) -> bytes:
    """Return a body that is no JSON."""
    return await request.body()


WholeBody = Annotated[bytes, Depends(whole_body)]
