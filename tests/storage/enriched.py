"""Makes random histories touch everything that rows are derived from."""

import hashlib
import json
import random
from collections.abc import Sequence

from skinpin_sync.entry import Act, Entry

from tests.benches import DEFINITION

STANDARD = json.dumps(
    {
        "name": "QS-7",
        "issue": "1",
        "rows": [
            {
                "rule": "GN1",
                "material": "any",
                "kinds": ["pitting"],
                "when": {"always": True},
                "needs": [],
                "uses": [],
                "grade": 3,
                "text": "Pitting of any depth",
                "basis": {"text": "t", "source": "s", "marker": "m"},
            },
            {
                "rule": "RV4",
                "material": "any",
                "kinds": ["pitting"],
                "when": {"percent": "shear_share_percent", "under": "50"},
                "needs": [],
                "uses": ["shear_share_percent"],
                "grade": 4,
                "text": "Shear share under 50 %",
                "basis": {"text": "t", "source": "s", "marker": "m"},
            },
        ],
    }
).encode()
DEFINED = json.dumps(DEFINITION).encode()
FILES = (STANDARD, DEFINED)


def sha256(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


PIN = {"name": "QS-7", "issue": "1", "sha256": sha256(STANDARD)}
DEFINITION_PIN = {"name": "Marram", "issue": "1", "sha256": sha256(DEFINED)}
SHEET = {"thickness": {"value": "0.064", "unit": "in"}}
RIVETS = {"head": "470", "diameter": "1/8", "alloy": "2117", "sheets": [SHEET]}
PLACE = {"structure": "Hull", "hand": "P", "member": "F6", "strakes": ["K"], "precision": "exact"}


def enriched(entries: Sequence[Entry], seed: int) -> list[Entry]:
    """Give captures places, chains ends, photographs marks and defects rivet lines.

    A line gets worse with its second entry, and its third names another defect beside the first.
    """
    chance = random.Random(seed)
    made = [_changed(one, chance) for one in entries]
    photographs = [one.record for one in made if one.kind == "photograph"]
    airframe = {"type": "Marram", "constructor": "2603", "definition": DEFINITION_PIN}
    drafts = [("AF", "airframe", airframe)]
    dot = {"kind": "dot", "points": [[1, 2]]}
    for place, one in enumerate(photographs):
        drafts.append((f"M{place}", "mark", {"photograph": one, "shape": dot}))
    drafts += [("X", "defect", {"airframe": "AF"}), ("Y", "defect", {"airframe": "AF"})]
    for place, found in enumerate(("LSLS", "SSSS")):
        if chance.random() < 0.4:
            continue
        line = {"defect": "XY"[place], "design": RIVETS, "as_found": found}
        drafts.append((f"R{place}", "rivet_line", line))
        drafts.append((f"R{place}", "rivet_line", {"as_found": "SLLL"}))
        drafts.append((f"R{place}", "rivet_line", {"defect": chance.choice("XYZ")}))
    extra = [_extra(*draft, n) for n, draft in enumerate(drafts, start=1)]
    [role_entry] = [one.id for one in made if one.record == "lead" and not one.seen][:1]
    extra[0] = extra[0]._replace(by="lead", relies=[role_entry])
    return [*made, *extra]


def _changed(one: Entry, chance: random.Random) -> Entry:
    values = dict(one.set)
    if "same_as" in values:
        values["same_as"] = chance.choice("XYZ")
    if "standard" in values:
        values["standard"] = PIN
    if "note" in values:
        values |= {"place": PLACE, "airframe": "AG" if chance.random() < 0.1 else "AF"}
    if values.get("number") and chance.random() < 0.4:
        values["number"] = chance.choice(["B/0002", "A 0001", "\0not a number"])
    if isinstance(values.get("state"), dict) and values["state"].get("move") == "new":
        values["standard"] = PIN
    seen = {field: [_fit(id) for id in ids] for field, ids in one.seen.items()}
    return one._replace(set=values, seen=seen, relies=[_fit(id) for id in one.relies])


def _fit(id: str) -> str:
    """Return an id that names nothing in the form of an id that might."""
    return id[:19] + id[19:].replace("-", "0")


def _extra(record: str, kind: str, values: dict[str, object], n: int) -> Entry:
    return Entry(
        id=f"{1_741_500_000_000 + n:013d}-0000-markers1",
        n=n,
        prev=None,
        act=Act(f"extra{n}", 1),
        record=record,
        kind=kind,
        set=values,
        seen={},
        relies=[],
        by="ben",
        device="M",
        wall="2025-03-09T10:15:00+00:00",
        why=None,
        schema=1,
        sig=None,
        more={},
    )
