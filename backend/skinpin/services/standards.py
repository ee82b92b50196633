"""Standards of acceptance: listed, looked through, issued, handed out.

Each issue is a record of its own, so that what was graded by an earlier one keeps it until
*Grade again*.
"""

import hashlib
import json
from typing import Any, NamedTuple

from skinpin_sync.chain import Draft
from sqlalchemy import Connection

from skinpin.domain.errors import Refused
from skinpin.domain.standard_check import standard_troubles
from skinpin.services.airframes import last_value
from skinpin.services.people import book_text, need_lead
from skinpin.services.photographs import keep_bytes
from skinpin.services.push import write_act_here
from skinpin.services.workday import workshop_day
from skinpin.services.workshop import Workshop
from skinpin.storage.files_named import MOST_BYTES
from skinpin.storage.log import lock_book
from skinpin.storage.records import StandingRecord, find_records, records_of_kind


class StandardIssue(NamedTuple):
    """An issue of a standard as the book has it."""

    record: str
    name: str
    issue: str
    sha256: str


def list_standards(workshop: Workshop) -> list[dict[str, Any]]:
    """Return every issue of the book, the one that stands (written last) first."""
    with workshop.reading() as connection:
        found = records_of_kind(connection, "standard")
    listed = sorted(found, key=lambda one: max(one.standing.values, default=""), reverse=True)
    return [_issue(one)._asdict() for one in listed]


def check_standard(workshop: Workshop, lead: str, standard: Any) -> dict[str, Any]:
    """Return what is wrong with a standard; nothing is stored."""
    with workshop.reading() as connection:
        need_lead(connection, lead, workshop_day(workshop, connection))
    return {"troubles": [one._asdict() for one in standard_troubles(standard)]}


def standard_file(workshop: Workshop, record: str) -> bytes:
    """Return the file of an issue, byte for byte."""
    with workshop.reading() as connection:
        one = find_records(connection, [record]).get(record)
    if one is None or one.kind != "standard":
        raise Refused("no_standard", f"There is no standard '{record[:64]}'.", "Choose one listed.")
    sha256 = _issue(one).sha256
    if workshop.files.find(sha256) is None:
        raise Refused(
            "no_standard",
            "The standard's file is not on this server yet.",
            "It comes when the device that has it sends it.",
        )
    return workshop.folder.read(sha256)


def issue_standard(workshop: Workshop, lead: str, standard: Any, reason: str) -> StandardIssue:
    """Write a new issue of a standard into the book; no record is graded by it until again.

    Raises
    ------
    Refused
        No reason, a row that can't be read, a name and issue that the book has, or no lead.
    """
    if not reason.strip():
        raise Refused("no_reason", "A new issue needs its reason.", "Write why.")
    with workshop.reading() as connection:
        need_lead(connection, lead, workshop_day(workshop, connection))
        content = _ready(standard)
        pin = _pin_of(content)
        _refuse_taken(connection, pin)
    keep_bytes(workshop, content)
    with workshop.writing() as connection:
        lock_book(connection)
        author = need_lead(connection, lead, workshop_day(workshop, connection))
        _refuse_taken(connection, pin)
        record, relies = workshop.new_id(), [author.role_entry or ""]
        draft = Draft(record, "standard", dict(pin), relies=relies, why=book_text(reason))
        write_act_here(workshop, connection, lead, [draft])
    return StandardIssue(record, **pin)


def standard_bytes(standard: Any) -> bytes:
    """Return the one spelling in which a standard is kept: read and kept again it is the same."""
    text = json.dumps(standard, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return text.encode()


def _ready(standard: Any) -> bytes:
    troubles = standard_troubles(standard)
    if troubles:
        rest = f" And {len(troubles) - 1} more." if len(troubles) > 1 else ""
        raise Refused("not_a_standard", f"{troubles[0].message}{rest}", troubles[0].hint)
    content = standard_bytes(standard)
    if len(content) > MOST_BYTES:
        message = f"The standard has {len(content)} bytes; at most {MOST_BYTES} are kept."
        raise Refused("too_large", message, "Leave out rows.")
    return content


def _pin_of(content: bytes) -> dict[str, str]:
    made = json.loads(content)
    sha256 = hashlib.sha256(content).hexdigest()
    return {"name": str(made["name"]), "issue": str(made["issue"]), "sha256": sha256}


def _refuse_taken(connection: Connection, pin: dict[str, str]) -> None:
    for one in records_of_kind(connection, "standard"):
        own = _issue(one)
        if (own.name, own.issue) == (pin["name"], pin["issue"]):
            raise Refused(
                "standard_exists",
                f"{own.name} issue {own.issue} is in the book already.",
                "Give it the next issue number.",
            )


def _issue(one: StandingRecord) -> StandardIssue:
    name, issue, sha256 = (
        str(last_value(one.standing, word) or "") for word in ("name", "issue", "sha256")
    )
    return StandardIssue(one.record, name, issue, sha256)
