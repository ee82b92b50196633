"""Who is calling: a device by its token, a person by the cookie, or anyone."""

from typing import Annotated

from fastapi import Cookie, Depends, Header, Request

from skinpin.domain.errors import Refused
from skinpin.services.devices import MOST_UNSENT, device_of, let_in_just_now, not_enrolled
from skinpin.services.people import Person
from skinpin.services.signing import who_is
from skinpin.services.workshop import Workshop
from skinpin.web.guard import COOKIE


async def the_workshop(request: Request) -> Workshop:
    """Return the book that this app serves."""
    workshop = request.app.state.workshop
    assert isinstance(workshop, Workshop)
    return workshop


AtWorkshop = Annotated[Workshop, Depends(the_workshop)]
SessionToken = Annotated[str | None, Cookie(alias=COOKIE, include_in_schema=False)]
Authorization = Annotated[str | None, Header(description="Bearer and the device token")]

Unsent = Annotated[
    int | None,
    Header(alias="Skinpin-Unsent", description="Entries and files that wait", ge=0, le=MOST_UNSENT),
]


def calling_device(
    workshop: AtWorkshop, authorization: Authorization = None, unsent: Unsent = None
) -> str:
    """Return the name of the enrolled device that calls, or refuse."""
    token = _token(authorization)
    if not token:
        raise not_enrolled("The request carries no device token.")
    return device_of(workshop, token, unsent).name


def is_known(workshop: Workshop, authorization: str | None) -> bool:
    """Say whether a device called just now, so that letting it in again takes no time."""
    return let_in_just_now(workshop, _token(authorization)) is not None


def _token(authorization: str | None) -> str:
    word, _, token = (authorization or "").partition(" ")
    return token.strip() if word.lower() == "bearer" else ""


def calling_person(workshop: AtWorkshop, token: SessionToken = None) -> Person:
    """Return the signed-in person who calls, or refuse."""
    person = who_is(workshop, token) if token else None
    if person is None:
        raise Refused("not_signed_in", "Nobody is signed in here.", "Sign in.")
    return person


def maybe_device(workshop: AtWorkshop, authorization: Authorization = None) -> str | None:
    """Return the calling device, None where no token is sent; a wrong one is refused."""
    return calling_device(workshop, authorization) if authorization else None


def device_or_person(
    workshop: AtWorkshop, authorization: Authorization = None, token: SessionToken = None
) -> str:
    """Return the device or the person who calls, or refuse."""
    if authorization:
        return calling_device(workshop, authorization)
    return calling_person(workshop, token).person


ByDevice = Annotated[str, Depends(calling_device)]
ByPerson = Annotated[Person, Depends(calling_person)]
MaybeDevice = Annotated[str | None, Depends(maybe_device)]
ByEither = Annotated[str, Depends(device_or_person)]
