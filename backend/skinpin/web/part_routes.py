"""Photographs in parts."""

import logging
from typing import Annotated

import orjson
from fastapi import APIRouter, Depends, Header, Request, Response
from starlette.concurrency import run_in_threadpool
from starlette.requests import ClientDisconnect

from skinpin.services.photograph_parts import PartUpload, parts_here
from skinpin.web.callers import (
    AtWorkshop,
    Authorization,
    ByDevice,
    calling_device,
    is_known,
)
from skinpin.web.wire import PartsOut

router = APIRouter()
CLIENT_GONE = 499
log = logging.getLogger("skinpin")


async def device_at_once(workshop: AtWorkshop, authorization: Authorization = None) -> str:
    """Return the calling device; one that called just now needs no other thread."""
    if is_known(workshop, authorization):
        return calling_device(workshop, authorization)
    return await run_in_threadpool(calling_device, workshop, authorization)


@router.get("/api/photographs/{sha256}/parts")
def get_parts(workshop: AtWorkshop, device: ByDevice, sha256: str) -> PartsOut:
    """Say which parts of a photograph are here."""
    return PartsOut(**parts_here(workshop, sha256)._asdict())


@router.put("/api/photographs/{sha256}/parts/{part}")
async def put_part(
    workshop: AtWorkshop,
    device: Annotated[str, Depends(device_at_once)],
    request: Request,
    sha256: str,
    part: int,
    part_sha256: Annotated[str, Header(alias="Skinpin-Sha256", description="Of this part")],
    size_bytes: Annotated[int, Header(alias="Skinpin-Size-Bytes", description="Of the whole")],
) -> Response:
    """Take one part in; 201 if it made the photograph, 200 else; says which are still missing."""
    upload = PartUpload(workshop, sha256, size_bytes, part, part_sha256)
    try:
        async for some in request.stream():
            upload.write(some)
    except ClientDisconnect:
        log.info("a device left while sending part %d of %s", part, sha256)
        return Response(status_code=CLIENT_GONE)
    kept = await run_in_threadpool(upload.finish)
    told = orjson.dumps({"missing": kept.missing})
    return Response(told, 201 if kept.is_new else 200, media_type="application/json")
