"""The shapes of what comes and goes as JSON; never the tables."""

import json
from typing import Annotated, Any, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator


class Shape(BaseModel):
    """An object without surprises: unknown members are refused."""

    model_config = ConfigDict(extra="forbid", strict=True)

    @model_validator(mode="after")
    def _is_text(self) -> Self:
        """Refuse half a character, which JSON can spell and no file can hold."""
        try:
            json.dumps(self.__dict__, ensure_ascii=False, default=vars).encode()
        except UnicodeEncodeError as error:
            raise ValueError("a text holds half a character (a lone surrogate)") from error
        return self


class Trouble(Shape):
    """Every error."""

    code: str
    message: str
    hint: str


class FirstPagesIn(Shape):
    """What the first screen sends."""

    workshop: str
    time_zone: str
    unit: str
    lead_name: str
    passcode: str
    definition: dict[str, Any] | None = None
    stamp_number: str = ""
    standard: dict[str, Any] | None = None


class SignInIn(Shape):
    """Who signs in."""

    person: str
    passcode: str


class PersonIn(Shape):
    """A new person."""

    name: str
    role: str
    passcode: str
    stamp_number: str = ""


class RoleIn(Shape):
    """A role given, or null: withdrawn."""

    role: str | None
    reason: str


class ReasonIn(Shape):
    """Why something is done."""

    reason: str


class PasscodeIn(Shape):
    """A new passcode."""

    passcode: str


class EnrolIn(Shape):
    """A tablet that has a code."""

    code: str
    public_key: dict[str, str]


class EnrolDeskIn(Shape):
    """The browser of a signed-in person."""

    public_key: dict[str, str] | None = None


class MissingIn(Shape):
    """Files asked for by SHA-256."""

    sha256: list[str]


class DigestOut(Shape):
    """What the log holds up to a seq: how many entries, and the SHA-256 of their sorted ids."""

    epoch: str
    entries: int
    sha256: str


class MissingOut(Shape):
    """Files that are not here, and of which of them some parts are."""

    missing: list[str]
    begun: list[str] = []


class PartsOut(Shape):
    """What is here of a photograph that comes in parts."""

    whole: bool
    size_bytes: int | None
    here: list[int]


Counted = Annotated[int, Field(ge=0, le=10**9)]


class ToldIn(Shape):
    """What a device says of itself: all of it as it is now, times in ms.

    `offset_ms` is what its clock lacks of the server's, `oldest_ms` the age of what waits longest.
    """

    version: str = Field(max_length=40)
    epoch: str = Field(max_length=64)
    entries: Counted
    files: Counted
    refused: Counted
    oldest_ms: Annotated[int, Field(ge=0, le=10**13)] | None
    offset_ms: Annotated[int, Field(ge=-(10**14), le=10**14)]
    last_number: str | None = Field(pattern=r"^[A-Z]{1,2}/[0-9]{4}$")
    battery_percent: Annotated[int, Field(ge=0, le=100)] | None
    room_photographs: Counted | None


class ToldOut(Shape):
    """By how much the clock of a device that told is off, ms: slow where it is more than 0."""

    clock_off_ms: int


class ReportsIn(Shape):
    """Zones whose reports are asked for."""

    zones: list[str] = Field(max_length=100)
    airframe: str = ""


class StickIn(Shape):
    """A file of a memory stick that is about to come."""

    size_bytes: int


class TakeInIn(Shape):
    """Why a lead takes in the file of a tablet that was lost or ended; empty else."""

    reason: str = ""


class DefinitionIn(Shape):
    """A definition of a new airframe."""

    definition: dict[str, Any]


class StandardIn(Shape):
    """A standard of acceptance to look through."""

    standard: dict[str, Any]


class StandardIssueIn(StandardIn):
    """A new issue of a standard, and why."""

    reason: str


class CheckIn(Shape):
    """A definition to look at, and the airframe whose next issue it is to be."""

    definition: dict[str, Any]
    airframe: str | None = None


class IssueIn(Shape):
    """A new issue of a definition with its reason."""

    definition: dict[str, Any]
    reason: str


class MembersIn(Shape):
    """Members of a structure as they were typed."""

    structure: str = ""
    unit: str
    text: str


class PaperIn(Shape):
    """A line of a paper form, as typed: texts by column."""

    typed: dict[str, str] = Field(max_length=40)
    airframe: str = ""


class CodeOut(Shape):
    """An enrolment code, shown once."""

    code: str
