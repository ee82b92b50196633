"""Brings into a book what no screen can write yet: python -m tests.browser.brought WHAT DATA.

`issue`: issue 2 of the demo's standard, under which a depth of 0.005 in is what 0.010 in was.
`airframe`: one of the definition on standard input, as it is, which no service would take.
`crack`: a crack measured twice with its ±, in October and on the demo's day.
"""

import json
import sys
from pathlib import Path

from skinpin.app import open_workshop
from skinpin.services.airframes import find_airframe
from skinpin.services.enrolment import enrol, give_code
from skinpin.services.people import list_people
from skinpin.services.photographs import keep_bytes
from skinpin.services.push import need_book, push
from skinpin.services.workshop import Workshop
from skinpin.settings import read_settings
from skinpin_sync.canonical import sha256_hex
from skinpin_sync.chain import Draft

from tests.benches import Tablet, airframe_draft, body_of, new_key
from tests.ready_book import DEMO_TODAY

ROOT = Path(__file__).parents[2]
ISSUE_1 = ROOT / "sample_data/skinpin_demo/data/standard_qs7.json"


def issue_2() -> bytes:
    """Return the standard with its limits of depth on aluminium halved."""
    standard = json.loads(ISSUE_1.read_text("utf-8"))
    for row in standard["rows"]:
        for bound in ("at_most", "over"):
            limit = row["when"].get(bound)
            if row["rule"] in ("AL2", "AL3") and isinstance(limit, dict):
                limit["value"] = limit["value"].replace("0.010", "0.005")
    return json.dumps(standard | {"issue": "2"}).encode()


def issue(workshop: Workshop, tablet: Tablet) -> list[bytes]:
    """Keep the file and write the entry that names it."""
    content = issue_2()
    keep_bytes(workshop, content)
    values = {"name": "QS-7", "issue": "2", "sha256": sha256_hex(content)}
    written = tablet.write(Draft("qs7-issue-2", "standard", values, relies=[tablet.role_entry]))
    return [line for _, line in written]


def airframe(workshop: Workshop, tablet: Tablet) -> list[bytes]:
    """Keep a definition past those who look at it, and write the airframe that names it."""
    content = sys.stdin.buffer.read()
    keep_bytes(workshop, content)
    draft = airframe_draft(workshop.new_id(), content, tablet.role_entry)
    return [line for _, line in tablet.write(draft)]


def crack(workshop: Workshop, tablet: Tablet) -> list[bytes]:
    """Write a crack with its first length, and the second a month later."""
    with workshop.reading() as connection:
        airframe = find_airframe(workshop, connection, "2603").record
    pin = {"name": "QS-7", "issue": "1", "sha256": sha256_hex(ISSUE_1.read_bytes())}
    place = {"structure": "Hull", "hand": "P", "member": "F6", "strakes": ["B1"]}
    values = {"state": {"move": "new", "to": "Draft"}, "number": "E/0001", "kind": "crack"}
    values |= {"airframe": airframe, "material": "AL", "standard": pin, "length": length("0.40")}
    values |= {"place": place | {"precision": "bay only"}}
    values |= {"reaches_edge": False, "joins_holes": False}
    tablet.now_ms -= 33 * 86_400_000
    [(begun, line)] = tablet.defect("crack-twice", **values)
    tablet.now_ms += 33 * 86_400_000
    again = Draft("crack-twice", "defect", {"length": length("0.47")}, {"length": [begun.id]})
    return [line, *(line for _, line in tablet.write(again))]


def length(value: str) -> dict[str, object]:
    """Return a length as a photograph with a rule gives it."""
    sure = {"value": "0.03", "unit": "in"}
    return {"value": value, "unit": "in", "method": "photograph with rule", "uncertainty": sure}


WRITERS = {"issue": issue, "airframe": airframe, "crack": crack}


def main(what: str, folder: Path) -> None:
    """Write as a lead's tablet that has just been enrolled."""
    workshop = open_workshop(read_settings(folder, {"SKINPIN_TODAY": DEMO_TODAY}))
    with workshop.reading() as connection:
        lead = next(one for one in list_people(connection, DEMO_TODAY) if one.role == "lead")
        book = need_book(connection).id
    done = enrol(workshop, give_code(workshop, lead.person), new_key())
    tablet = Tablet(done.device, done.token, book, lead.person, lead.role_entry, "issuetwo")
    push(workshop, book, body_of(WRITERS[what](workshop, tablet)))
    workshop.close()


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]))
