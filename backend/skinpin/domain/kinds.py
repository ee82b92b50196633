"""Kinds of defect, what each asks for, and the words of materials, grades and safety."""

from collections.abc import Mapping
from typing import Any

from skinpin.domain.fields import read_table

_TABLE = read_table("kinds.json")
KINDS: Mapping[str, Mapping[str, Any]] = _TABLE["kinds"]
GROUPS: Mapping[str, str] = _TABLE["groups"]
ASKED: Mapping[str, Mapping[str, Any]] = _TABLE["fields"]
MATERIALS: Mapping[str, Mapping[str, str]] = read_table("materials.json")
GRADES: list[Mapping[str, Any]] = read_table("grades.json")
DISPOSITIONS: list[Mapping[str, Any]] = read_table("dispositions.json")
WORDING: Mapping[str, str] = read_table("wording.json")
HIGHEST: int = GRADES[-1]["grade"]
NOT_KNOWN = "not known"
HANDED_OFF = frozenset(row["grade"] for row in GRADES if row["hand_off"])


def is_grade(value: Any) -> bool:
    """Say whether a value is a grade: in whole figures, and not beyond the highest."""
    return type(value) is int and 0 <= value <= HIGHEST


def kind_words(kind: str | None) -> str:
    """Return a kind as a title: "Pitting"; a kind unknown here as it was written."""
    row = KINDS.get(kind or "")
    return str(row["label"]) if row else (kind or "Kind not given")


def kind_group(kind: str | None) -> str | None:
    """Return the group whose kinds may be the same defect seen twice."""
    row = KINDS.get(kind or "")
    return str(row["group"]) if row else None


def commonest_kinds() -> list[str]:
    """Return the eight kinds that have large keys, commonest first."""
    common = [kind for kind, row in KINDS.items() if "commonest" in row]
    return sorted(common, key=lambda kind: int(KINDS[kind]["commonest"]))


def fields_for(kind: str | None, material: str | None = None) -> list[dict[str, Any]]:
    """Return the fields a kind asks for, in asking order: field, type, label, choices.

    Where the material is not known, the fields of every material are asked.
    """
    open_material = material is None or material == NOT_KNOWN
    rows = [
        row if isinstance(row, dict) else {"field": row}
        for row in KINDS.get(kind or "", {}).get("fields", ())
    ]
    return [
        {**ASKED[row["field"]], **{key: row[key] for key in row if key != "materials"}}
        for row in rows
        if open_material or material in row.get("materials", [material])
    ]


def is_loss(kind: str | None) -> bool:
    """Say whether a kind's depth is metal gone, so that it can't pass the thickness."""
    return KINDS.get(kind or "", {}).get("depth") == "loss"


def dispositions_for(kind: str | None, grade: int | None = None) -> list[dict[str, Any]]:
    """Return the dispositions a kind may have; `suggested` where the grade suggests one."""
    group = kind_group(kind)
    return [
        {**row, "suggested": grade in row["suggested"]}
        for row in DISPOSITIONS
        if group in row.get("groups", [group])
    ]
