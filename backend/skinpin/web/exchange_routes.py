"""Entries and photographs, in and out."""

import asyncio
import logging
from typing import Annotated

import orjson
from fastapi import APIRouter, Query, Request, Response
from fastapi.responses import FileResponse
from starlette.concurrency import run_in_threadpool
from starlette.requests import ClientDisconnect

from skinpin.services.photograph_parts import begun_among
from skinpin.services.photographs import Upload, find_file, find_rendition, missing
from skinpin.services.pull import digest, pull
from skinpin.services.push import push
from skinpin.web.bodies import WholeBody
from skinpin.web.callers import (
    AtWorkshop,
    Authorization,
    ByDevice,
    ByEither,
    Unsent,
    calling_device,
    is_known,
)
from skinpin.web.wire import DigestOut, MissingIn, MissingOut

router = APIRouter()
LINES = "application/x-ndjson"
CLIENT_GONE = 499
MOST_HELD = 16
"""Parts of a file, of some 64 kB, that are held while nobody knows yet who sends it."""
log = logging.getLogger("skinpin")


@router.post("/api/entries")
def post_entries(
    workshop: AtWorkshop,
    body: WholeBody,
    authorization: Authorization = None,
    unsent: Unsent = None,
    book: str = "",
) -> Response:
    """Take entries in: canonical lines, each ended; the answer says what became of each."""
    calling_device(workshop, authorization, unsent)
    return Response(orjson.dumps(push(workshop, book, body)), media_type="application/json")


@router.get("/api/entries")
def get_entries(
    workshop: AtWorkshop,
    device: ByDevice,
    book: str = "",
    epoch: str = "",
    after: int = 0,
    at: str = "",
    limit: int = 500,
) -> Response:
    """Hand out the page after a cursor: a head line, then canonical lines."""
    page = pull(workshop, book, epoch=epoch, after=after, at=at, limit=limit, device=device)
    return Response(page, media_type=LINES)


@router.get("/api/entries/digest")
def get_digest(workshop: AtWorkshop, device: ByDevice, book: str = "", upto: int = 0) -> DigestOut:
    """Say what the log holds up to a seq, for a client to compare with what it holds."""
    return DigestOut(**digest(workshop, book, upto)._asdict())


@router.post("/api/photographs/missing", response_model_exclude_defaults=True)
def post_missing(workshop: AtWorkshop, device: ByDevice, body: MissingIn) -> MissingOut:
    """Say which files are not here, and of which some parts are."""
    lacking = missing(workshop, body.sha256)
    return MissingOut(missing=lacking, begun=begun_among(workshop, lacking))


@router.put("/api/photographs/{sha256}")
async def put_photograph(
    workshop: AtWorkshop, request: Request, sha256: str, authorization: Authorization = None
) -> Response:
    """Take a file in; 201 if it is new, 200 if it was here already."""

    def begin() -> Upload:
        calling_device(workshop, authorization)
        return Upload(workshop, sha256)

    beginning: asyncio.Future[Upload]
    # A store far away is never asked by the thread that serves everybody.
    if workshop.folder.is_near and is_known(workshop, authorization):
        beginning = asyncio.Future()
        beginning.set_result(begin())
    else:
        beginning = asyncio.create_task(run_in_threadpool(begin))
    upload: Upload | None = None
    try:
        # The first bytes come in while another thread finds out who sends them.
        held: list[bytes] = []
        async for part in request.stream():
            held.append(part)
            if beginning.done() or len(held) > MOST_HELD:
                upload = await beginning
                _write(upload, held)
        upload = await beginning
        _write(upload, held)
        is_new = await run_in_threadpool(upload.finish)
    except ClientDisconnect:
        log.info("a device left while sending %s", sha256)
        return Response(status_code=CLIENT_GONE)
    finally:
        if upload is None:
            upload = await beginning
        upload.abandon()
    return Response(status_code=201 if is_new else 200)


def _write(upload: Upload, held: list[bytes]) -> None:
    for part in held:
        upload.write(part)
    held.clear()


@router.get("/api/photographs/{sha256}")
def get_photograph(
    workshop: AtWorkshop,
    caller: ByEither,
    sha256: str,
    size: Annotated[int | None, Query(description="Longest side, px: 320, 1000, 1600")] = None,
) -> FileResponse:
    """Hand out a file as it came, or a rendition of a picture."""
    found = find_rendition(workshop, sha256, size) if size else find_file(workshop, sha256)
    headers = {"Cache-Control": "private, max-age=31536000, immutable"}
    return FileResponse(found.path, media_type=found.media_type, headers=headers)
