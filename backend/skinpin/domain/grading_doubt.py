"""What the ± of a figure leaves open: a limit that the figure reaches within its ±.

Inside its ± (k = 2) a figure proves neither side of a limit, so where any value in there would
raise the grade, the grade is *at least* (decision rule of ISO 14253-1, from memory).
"""

from collections.abc import Iterator
from typing import Any

from skinpin.domain.grading import Compiled, Grading, Standard, compile_standard
from skinpin.domain.grading_worst import opened, raises, worst_grade
from skinpin.domain.quantities import (
    TENTH_NM,
    is_unmeasured,
    rounded_text,
    tenth_nm_or_none,
)
from skinpin.domain.values import Values

LENGTHS = ("depth", "length", "width", "thickness", "hole_major", "hole_minor")
LEAST = {"width": 1, "thickness": 1}
"""Nought of these reads as not measured, so what is left of them stays above it."""
MM_PLACES = 7


def grade_with_doubt(values: Values, standard: Standard | Compiled) -> Grading:
    """Return the worst grade of what stands, open where the ± of a figure may raise it.

    Limits are steps, so the ends of a ± say all: each figure is tried less and more its ±, with
    those of every other. A field is named by itself where its own ± suffices, else all are.
    """
    compiled = compile_standard(standard)
    grading = worst_grade(values, compiled)
    fields = _doubted(values)
    if not fields:
        return grading
    worse = worst_grade(_spread(values, fields), compiled)
    if not raises(grading, worse):
        return grading
    alone = [
        field
        for field in fields
        if raises(grading, worst_grade(_spread(values, (field,)), compiled))
    ]
    doubted = tuple(alone) or fields
    return opened(grading, worse, doubted)._replace(doubted=doubted)


def _doubted(values: Values) -> tuple[str, ...]:
    """Return the fields with a ±; most records have none, and all that is graded comes here."""
    given = {
        field
        for fields in values.values()
        for field, value in fields.items()
        if isinstance(value, dict) and "uncertainty" in value
    }
    return tuple(field for field in LENGTHS if field in given and any(_rough(values, field)))


def _rough(values: Values, field: str) -> Iterator[str]:
    """Yield the entries whose value of a field has a ±."""
    return (id for id, given in values.items() if field in given and _ends(field, given[field]))


def _ends(field: str, value: Any) -> list[dict[str, str]]:
    """Return a figure less and more its ±, or nothing where it has none."""
    if not isinstance(value, dict) or "uncertainty" not in value or is_unmeasured(value):
        return []
    length, doubt = tenth_nm_or_none(value), tenth_nm_or_none(value["uncertainty"])
    if length is None or not doubt or doubt < 0:
        return []
    least = max(length - doubt, LEAST.get(field, 0))
    return [_in_mm(least), _in_mm(length + doubt)]


def _in_mm(tenths_nm: int) -> dict[str, str]:
    return {"value": rounded_text(tenths_nm, TENTH_NM["mm"], MM_PLACES), "unit": "mm"}


def _spread(values: Values, fields: tuple[str, ...]) -> Values:
    """Put both ends of the ± of these fields in the place of their figures."""
    own = {id: dict(given) for id, given in values.items()}
    ends: dict[str, dict[str, Any]] = {}
    for field in fields:
        for id in list(_rough(values, field)):
            less, more = _ends(field, own[id].pop(field))
            ends |= {f"{id} {field} less": {field: less}, f"{id} {field} more": {field: more}}
    return {**own, **ends}
