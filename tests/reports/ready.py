"""Ready data of a small zone report, as the services hand it over."""

import json
from pathlib import Path

from skinpin_demo.definition import DATA, definition

SAFETY = json.loads(
    (Path(__file__).parents[2] / "backend/skinpin/domain/tables/wording.json").read_text()
)["full"]


def row(number, **changes):
    plain = {
        "record": f"r{number}",
        "number": number,
        "state": "Raised",
        "grade": 3,
        "grade_known": True,
        "grade_words": "Grade 3",
        "overruled": None,
        "structure": "Hull",
        "hand": "P",
        "member": "F6",
        "station": "72.0",
        "kind": "pitting",
        "kind_words": "Pitting",
        "material": "AL",
        "part": "bottom plating",
        "stage": "Stage 3",
        "disposition": "Repair by patch",
        "same_as_number": None,
        "missing": [],
        "fired": [
            {
                "rule": "AL3",
                "grade": 3,
                "reason": "depth 0.011 in > 0.010 in",
                "basis": {"text": "severe", "source": "TM 1-1520-238-23", "marker": "source read"},
                "deciding": True,
            }
        ],
    }
    return plain | changes


def record(number, values=None, **changes):
    plain = {
        "row": row(number),
        "place": {
            "structure": "Hull",
            "hand": "P",
            "member": "F6",
            "offset": inches("2.0"),
            "strakes": ["K", "B1"],
        },
        "place_short": "Port · F6 + 2.0 · K–B1",
        "place_long": "Hull · Port · F6 + 2.0 aft · K–B1 · Sta 72.0 · zone 111",
        "material_words": "Aluminium alloy",
        "values": values or figures(),
        "photographs": [],
        "measured": {},
        "observations": [],
        "rivet_lines": [],
        "history": [
            {"date": "2025-03-08", "time": "10:14", "sentence": "Raised by Inspector 1 (11)."}
        ],
        "stamps": [],
        "found_on": "2025-03-08",
        "sha256": "5a" * 32,
        "same": [],
    }
    return plain | changes


def inches(value, **more):
    return {"value": value, "unit": "in", **more}


def figures(depth="0.011"):
    return {
        "thickness": [inches("0.064")],
        "length": [inches("5.5")],
        "width": [inches("2")],
        "depth": [inches(depth, instrument="DG-1")],
    }


def coverage(hand="P", blocked=True):
    members, strakes = [f"F{i}" for i in range(1, 9)], ["K", "B1", "B2", "B3", "C"]
    cells = []
    for bay in zip(members, members[1:], strict=False):
        for row_ in zip(strakes, strakes[1:], strict=False):
            seen = not (blocked and bay == ("F1", "F2"))
            cell = {"structure": "Hull", "hand": hand, "bay": list(bay), "strakes": list(row_)}
            why = None if seen else "too narrow to enter or see"
            cells.append({"cell": cell, "looked_at": seen, "blocked": why, "survey": "s1"})
    return cells


def ready(records=(), zone="111", **changes):
    marram = definition()
    rules = [rule for rule in marram["zones"] if rule["zone"] == zone]
    plain = {
        "zone": zone,
        "title": rules[0]["title"],
        "rules": rules,
        "definition": marram,
        "standard": json.loads((DATA / "standard_qs7.json").read_text(encoding="utf-8")),
        "airframe": "Marram Type 7 · 2603",
        "workshop": "Quay Shed Workshop",
        "date": "2025-11-03",
        "epoch": "k3v9",
        "cutoff": {"seq": 412, "at": "2025-11-03 17:20", "zone": "Europe/London"},
        "rested": {"count": 97, "sha256": "c4" * 32},
        "limits": "Limits shown come from general publications.",
        "instruments": {
            "DG-1": {"title": "depth gauge", "range": "", "due": "2026-05-31"},
            "PG-07": {"title": "pressure gauge", "range": "0–2000 psi", "due": "2025-09-30"},
        },
        "version": "0.1.0",
        "safety": SAFETY,
        "surveys": [
            {
                "record": "s1",
                "title": "SV-1",
                "date": "2025-03-08",
                "by": "Inspector 1",
                "tablet": "A",
                "method": "eye, inspection lamp and mirror, paint on",
            }
        ],
        "coverage": coverage(),
        "records": list(records),
    }
    return plain | changes
