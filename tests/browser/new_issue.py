"""Writes issue 2 of the demo's standard into a book, as a lead would bring it: python -m ... DATA.

Under it a depth of 0.005 in is what 0.010 in was; everything else stays.
"""

import json
import sys
from pathlib import Path

from skinpin.app import open_workshop
from skinpin.services.enrolment import enrol, give_code
from skinpin.services.people import list_people
from skinpin.services.photographs import keep_bytes
from skinpin.services.push import need_book, push
from skinpin.settings import read_settings
from skinpin_sync.canonical import sha256_hex
from skinpin_sync.chain import Draft

from tests.benches import Tablet, body_of, new_key
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


def main(folder: Path) -> None:
    """Keep the file and write the entry that names it."""
    workshop = open_workshop(read_settings(folder, {"SKINPIN_TODAY": DEMO_TODAY}))
    with workshop.reading() as connection:
        lead = next(one for one in list_people(connection, DEMO_TODAY) if one.role == "lead")
        book = need_book(connection).id
    done = enrol(workshop, give_code(workshop, lead.person), new_key())
    tablet = Tablet(done.device, done.token, book, lead.person, lead.role_entry, "issuetwo")
    content = issue_2()
    keep_bytes(workshop, content)
    values = {"name": "QS-7", "issue": "2", "sha256": sha256_hex(content)}
    written = tablet.write(Draft("qs7-issue-2", "standard", values, relies=[lead.role_entry]))
    push(workshop, book, body_of([line for _, line in written]))
    workshop.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
