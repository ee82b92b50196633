"""Definitions that tests change: the demo's, one in mm, and the smallest."""

import copy
import json
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
MARRAM: dict[str, Any] = json.loads(
    (ROOT / "sample_data/skinpin_demo/data/definition_2603.json").read_text("utf-8")
)
SECOND: dict[str, Any] = json.loads(
    (ROOT / "tests/vectors/second_airframe.json").read_text("utf-8")
)


def second(**changes: Any) -> dict[str, Any]:
    """Return the airframe in mm, to be changed."""
    return copy.deepcopy(SECOND) | changes


def marram(**changes: Any) -> dict[str, Any]:
    """Return the demo's airframe, to be changed."""
    return copy.deepcopy(MARRAM) | changes


def smallest(*members: dict[str, Any], **changes: Any) -> dict[str, Any]:
    """Return an airframe of one structure with these members, in one zone."""
    structure = {
        "name": "Hull",
        "axis": "Sta",
        "unit": "in",
        "datum": "the stem",
        "positive": "aft",
        "hands": ["P", "S"],
        "members": list(members) or [frame("F1", "10"), frame("F2", "20"), frame("F3", "30")],
        "strakes": ["K", "B1", "C"],
        "plating": [],
        "faces": [],
    }
    zones = [
        {"zone": zone, "title": zone, "structure": "Hull", "hand": hand}
        for zone, hand in (("111", "P"), ("112", "S"))
    ]
    made = {"name": "Small", "constructor": "1", "issue": "1", "unit": "in"}
    return made | {"structures": [structure | changes], "zones": zones, "views": []}


def frame(name: str, station: str, **more: Any) -> dict[str, Any]:
    """Return a frame."""
    return {"name": name, "kind": "frame", "station": station, **more}
