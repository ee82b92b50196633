"""Airframes and their definitions: listed, checked, issued, handed out."""

from typing import Any

from fastapi import APIRouter, Response

from skinpin.domain.definition_shape import SCHEMA
from skinpin.services.definitions import (
    check_definition,
    definition_file,
    list_airframes,
    new_airframe,
    new_issue,
    typed_members,
)
from skinpin.web.callers import AtWorkshop, ByPerson
from skinpin.web.wire import CheckIn, DefinitionIn, IssueIn, MembersIn

router = APIRouter()


@router.get("/api/airframes")
def get_airframes(workshop: AtWorkshop, caller: ByPerson) -> list[dict[str, Any]]:
    """List the airframes of the book with the definitions that stand."""
    return list_airframes(workshop)


@router.post("/api/airframes", status_code=201)
def post_airframe(workshop: AtWorkshop, lead: ByPerson, body: DefinitionIn) -> dict[str, Any]:
    """Write a new airframe into the book by its definition."""
    return new_airframe(workshop, lead.person, body.definition)._asdict()


@router.post("/api/airframes/{record}/definition")
def post_issue(workshop: AtWorkshop, lead: ByPerson, record: str, body: IssueIn) -> dict[str, Any]:
    """Pin a new issue of an airframe's definition."""
    return new_issue(workshop, lead.person, record, body.definition, body.reason)._asdict()


@router.get("/api/airframes/{record}/definition.json")
def get_definition(workshop: AtWorkshop, caller: ByPerson, record: str) -> Response:
    """Hand out the definition that stands, byte for byte."""
    return Response(
        definition_file(workshop, record),
        media_type="application/json",
        headers={"Content-Disposition": 'attachment; filename="definition.json"'},
    )


@router.get("/api/definitions/schema.json")
def get_schema(caller: ByPerson) -> dict[str, Any]:
    """Hand out the JSON Schema of definitions."""
    return dict(SCHEMA)


@router.post("/api/definitions/check")
def post_check(workshop: AtWorkshop, lead: ByPerson, body: CheckIn) -> dict[str, Any]:
    """Say what is wrong with a definition and what it would change; nothing is stored."""
    return check_definition(workshop, lead.person, body.definition, body.airframe)


@router.post("/api/definitions/members")
def post_members(workshop: AtWorkshop, lead: ByPerson, body: MembersIn) -> dict[str, Any]:
    """Read members as they are typed, pasted or kept in CSV."""
    return typed_members(workshop, lead.person, body.unit, body.text)
