"""Set-up, people, signing in, enrolment, devices."""

import json
from typing import Any

from fastapi import APIRouter, Request, Response

from skinpin.services.devices import end_device, show_devices
from skinpin.services.enrolment import enrol, enrol_desk, give_code
from skinpin.services.health import health
from skinpin.services.people import Person, add_person, people_here, set_passcode
from skinpin.services.roles import change_role
from skinpin.services.set_up import FirstPages, is_empty, set_up_book
from skinpin.services.signing import SESSION_MS, sign_in, sign_out, who_is
from skinpin.web.callers import AtWorkshop, ByPerson, MaybeDevice, SessionToken
from skinpin.web.guard import COOKIE
from skinpin.web.wire import (
    CodeOut,
    EnrolDeskIn,
    EnrolIn,
    FirstPagesIn,
    PasscodeIn,
    PersonIn,
    ReasonIn,
    RoleIn,
    SignInIn,
)

router = APIRouter()


@router.head("/api/health", include_in_schema=False)
@router.get("/api/health")
def get_health(workshop: AtWorkshop) -> dict[str, Any]:
    """Say that the server is well and which book it holds."""
    return health(workshop)


@router.get("/api/setup")
def get_setup(workshop: AtWorkshop) -> dict[str, bool]:
    """Say whether the book is empty."""
    return {"empty": is_empty(workshop)}


@router.post("/api/setup")
def post_setup(
    workshop: AtWorkshop, body: FirstPagesIn, request: Request, response: Response
) -> dict[str, Any]:
    """Create the book and sign its first lead in."""
    first = body.model_dump()
    for name, one in (("definition", body.definition), ("standard", body.standard)):
        first[name] = _file(one) if one else None
    new = set_up_book(workshop, FirstPages(**first))
    signed = sign_in(workshop, new.lead, body.passcode)
    _set_cookie(request, response, signed.token)
    return {"book": new.book, "airframe": new.airframe, "said": new.said, **_person(signed.person)}


@router.get("/api/people")
def get_people(workshop: AtWorkshop, device: MaybeDevice) -> list[dict[str, Any]]:
    """List who may sign in; an enrolled device also gets what it checks passcodes by."""
    return people_here(workshop, with_unlock=device is not None)


@router.post("/api/people")
def post_person(workshop: AtWorkshop, lead: ByPerson, body: PersonIn) -> dict[str, str]:
    """Write a person into the book."""
    person = add_person(
        workshop, lead.person, body.name, body.role, body.stamp_number, body.passcode
    )
    return {"person": person}


@router.put("/api/people/{person}/passcode", status_code=204)
def put_passcode(workshop: AtWorkshop, by: ByPerson, person: str, body: PasscodeIn) -> None:
    """Set one's own passcode, or anybody's as a lead."""
    set_passcode(workshop, by.person, person, body.passcode)


@router.post("/api/people/{person}/role")
def post_role(workshop: AtWorkshop, lead: ByPerson, person: str, body: RoleIn) -> dict[str, Any]:
    """Give a person a role, or withdraw it; the person's sign-ins end with it."""
    return _person(change_role(workshop, lead.person, person, body.role, body.reason))


@router.post("/api/sign-in")
def post_sign_in(
    workshop: AtWorkshop, body: SignInIn, request: Request, response: Response
) -> dict[str, Any]:
    """Open a session."""
    signed = sign_in(workshop, body.person, body.passcode)
    _set_cookie(request, response, signed.token)
    return _person(signed.person)


@router.post("/api/sign-out", status_code=204)
def post_sign_out(workshop: AtWorkshop, response: Response, token: SessionToken = None) -> None:
    """End the session."""
    if token:
        sign_out(workshop, token)
    response.delete_cookie(COOKIE, path="/", httponly=True, samesite="strict")


@router.get("/api/session")
def get_session(workshop: AtWorkshop, token: SessionToken = None) -> dict[str, Any]:
    """Say who is signed in; person is null where nobody is."""
    person = who_is(workshop, token) if token else None
    return _person(person) if person else {"person": None}


@router.post("/api/enrolment-codes")
def post_enrolment_code(workshop: AtWorkshop, lead: ByPerson) -> CodeOut:
    """Give out a code that enrols one tablet."""
    return CodeOut(code=give_code(workshop, lead.person))


@router.post("/api/enrol")
def post_enrol(workshop: AtWorkshop, body: EnrolIn) -> dict[str, Any]:
    """Enrol a tablet by a code."""
    return enrol(workshop, body.code, body.public_key)._asdict()


@router.post("/api/enrol-desk")
def post_enrol_desk(workshop: AtWorkshop, by: ByPerson, body: EnrolDeskIn) -> dict[str, Any]:
    """Enrol the browser of a signed-in person."""
    return enrol_desk(workshop, by.person, body.public_key)._asdict()


@router.get("/api/devices")
def get_devices(workshop: AtWorkshop, lead: ByPerson) -> list[dict[str, Any]]:
    """List the devices ever enrolled."""
    return [one._asdict() for one in show_devices(workshop, lead.person)]


@router.post("/api/devices/{tablet}/end", status_code=204)
def post_device_end(workshop: AtWorkshop, lead: ByPerson, tablet: str, body: ReasonIn) -> None:
    """End a device: its token is refused from now on."""
    end_device(workshop, lead.person, tablet, body.reason)


def _file(value: dict[str, Any]) -> bytes:
    """Return the one spelling in which an object sent within JSON is kept as a file."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()


def _person(person: Person) -> dict[str, Any]:
    return person._asdict()


def _set_cookie(request: Request, response: Response, token: str) -> None:
    response.set_cookie(
        COOKIE,
        token,
        max_age=SESSION_MS // 1000,
        path="/",
        httponly=True,
        samesite="strict",
        secure=request.url.scheme == "https",
    )
