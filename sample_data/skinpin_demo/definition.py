"""The airframe definition of the Marram, made by code and written as one JSON file."""

import json
import re
from pathlib import Path
from typing import Any

from skinpin_demo import marram
from skinpin_demo.structures import structures
from skinpin_demo.views import profile_heights, views
from skinpin_demo.zones import zones

DATA = Path(__file__).parent / "data"
DEFINITION = DATA / "definition_2603.json"


def definition() -> dict[str, Any]:
    """Return the airframe definition of airframe 2603, issue 1."""
    return {
        "name": marram.TYPE,
        "constructor": marram.CONSTRUCTOR,
        "issue": "1",
        "unit": "in",
        "structures": structures(),
        "zones": zones(),
        "views": views(),
        "profile_heights": profile_heights(),
    }


def definition_text() -> str:
    """Return the definition as JSON text, lists of plain values on one line each."""
    text = json.dumps(definition(), ensure_ascii=False, indent=1)
    inner = re.compile(r"[\[{][^\[\]{}]*[\]}]")
    for _ in range(2):
        text = inner.sub(lambda match: re.sub(r"\n\s*", "", match.group()), text)
    return re.sub(r"\[\s+(\[[^{}]*?\])\s+\]", _join_points, text) + "\n"


def _join_points(match: re.Match[str]) -> str:
    return "[" + re.sub(r"\n\s*", "", match.group(1)) + "]"


if __name__ == "__main__":
    DEFINITION.write_text(definition_text(), encoding="utf-8")
