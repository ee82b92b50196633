"""Figures whose measurement, scale or photograph no longer stands: told, and not graded on.

Who strikes a scale withdraws the figures that are known there; one that was taken from it
elsewhere meanwhile is found here, whatever came first.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from skinpin.domain.kinds import ASKED
from skinpin.domain.quantities import figure_text, is_quantity, is_unmeasured
from skinpin.domain.values import Values, standing_of

Records = Mapping[str, Values]
CODE = "scale struck"
REASON = "was measured on a photograph by what was struck out or withheld since; it is not graded."


def standing_figures(
    values: Values, measurements: Records, scales: Records, photographs: Records
) -> tuple[Values, list[dict[str, str]]]:
    """Return the values of a defect without what fell, and what fell, told."""
    gone = fallen(measurements, scales, photographs)
    return without_fallen(values, gone), fallen_figures(values, gone)


def fallen(measurements: Records, scales: Records, photographs: Records) -> set[str]:
    """Return the measurements that no longer stand, by themselves, their scale or photograph."""
    gone_scales = {id for id, one in scales.items() if _is_true(one, "struck")}
    gone_pictures = {id for id, one in photographs.items() if _is_true(one, "withheld")}
    return {
        id
        for id, one in measurements.items()
        if _is_true(one, "struck")
        or not gone_scales.isdisjoint(_texts(one, "scale"))
        or not gone_pictures.isdisjoint(_texts(one, "photograph"))
    }


def without_fallen(values: Values, gone: set[str]) -> Values:
    """Return the values of a defect, each figure that rests on such a measurement withdrawn."""
    if not gone:
        return values
    return {
        id: {
            field: {**value, "scale_withdrawn": True} if _rests_on(value, gone) else value
            for field, value in fields.items()
        }
        for id, fields in values.items()
    }


def fallen_figures(values: Values, gone: set[str]) -> list[dict[str, str]]:
    """Return the figures that stand and are not graded on: entry, reason and `measurement`."""
    return [
        {
            **{"entry": id, "code": CODE, "measurement": value["measurement"]},
            "reason": f"{_words(field, value)} {REASON}",
        }
        for id in sorted(values)
        for field, value in sorted(values[id].items())
        if gone and _rests_on(value, gone)
    ]


def fallen_in(row: Mapping[str, Any]) -> set[str]:
    """Return the measurements that fell, on which figures stand, by the row of their defect."""
    told = row.get("not_counting") or []
    return {one["measurement"] for one in told if one["code"] == CODE and "measurement" in one}


def _rests_on(value: Any, gone: set[str]) -> bool:
    if not isinstance(value, dict) or is_unmeasured(value):
        return False
    named = value.get("measurement")
    return isinstance(named, str) and named in gone


def _words(field: str, value: Any) -> str:
    label = str(ASKED.get(field, {}).get("label", field.replace("_", " "))).partition(",")[0]
    return f"{label} {figure_text(value)}" if is_quantity(value) else label


def _is_true(values: Values, field: str) -> bool:
    return any(value is True for value in standing_of(values, field))


def _texts(values: Values, field: str) -> Iterator[str]:
    return (value for value in standing_of(values, field) if isinstance(value, str))
