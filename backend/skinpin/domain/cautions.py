"""Cautions to read before a hand goes near: by kind of defect, and by where one lies."""

from typing import Any

from skinpin.domain.fields import read_table
from skinpin.domain.kinds import KINDS

CAUTIONS: dict[str, dict[str, Any]] = read_table("cautions.json")


def cautions_for(kind: str | None, confined: bool = False) -> list[dict[str, Any]]:
    """Return the cautions of a kind, that of a confined space first where one works in it."""
    names = ["confined_space"] if confined else []
    names += KINDS.get(kind or "", {}).get("cautions", [])
    return [{"caution": name, **CAUTIONS[name]} for name in names]
