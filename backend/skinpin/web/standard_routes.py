"""Standards of acceptance: listed, looked through, issued, handed out."""

from typing import Any

from fastapi import APIRouter, Response

from skinpin.services.standards import (
    check_standard,
    issue_standard,
    list_standards,
    standard_file,
)
from skinpin.web.callers import AtWorkshop, ByPerson
from skinpin.web.wire import StandardIn, StandardIssueIn

router = APIRouter()


@router.get("/api/standards")
def get_standards(workshop: AtWorkshop, caller: ByPerson) -> list[dict[str, Any]]:
    """List the issues of the standard of acceptance, the one that stands first."""
    return list_standards(workshop)


@router.post("/api/standards", status_code=201)
def post_standard(workshop: AtWorkshop, lead: ByPerson, body: StandardIssueIn) -> dict[str, Any]:
    """Write a new issue of a standard into the book."""
    return issue_standard(workshop, lead.person, body.standard, body.reason)._asdict()


@router.post("/api/standards/check")
def post_standard_check(workshop: AtWorkshop, lead: ByPerson, body: StandardIn) -> dict[str, Any]:
    """Say what is wrong with a standard; nothing is stored."""
    return check_standard(workshop, lead.person, body.standard)


@router.get("/api/standards/{record}.json")
def get_standard(workshop: AtWorkshop, caller: ByPerson, record: str) -> Response:
    """Hand out an issue of a standard, byte for byte."""
    return Response(
        standard_file(workshop, record),
        media_type="application/json",
        headers={"Content-Disposition": 'attachment; filename="standard.json"'},
    )
