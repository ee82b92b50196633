"""Bodies that are no JSON, read whole within a limit or piece by piece."""

from typing import Annotated

from fastapi import Depends, Request

from skinpin.domain.errors import Refused
from skinpin.services.push import MAX_BODY_BYTES


async def whole_body(request: Request) -> bytes:
    """Return the body, or refuse one over the limit without reading on."""
    parts, size_bytes = [], 0
    async for part in request.stream():
        size_bytes += len(part)
        if size_bytes > MAX_BODY_BYTES:
            raise Refused(
                "too_large",
                f"The body has more than {MAX_BODY_BYTES} bytes.",
                "Send fewer entries at once.",
            )
        parts.append(part)
    return b"".join(parts)


WholeBody = Annotated[bytes, Depends(whole_body)]
