"""When two values that stand are one: the same length typed differently, the same state."""

import re
from collections.abc import Mapping
from typing import Any

from skinpin.domain.fields import field_of
from skinpin.domain.quantities import is_unmeasured, tenth_nm_or_none

PART = re.compile(r"[0-9]+|[^0-9]+")
Values = Mapping[str, Mapping[str, Any]]
"""Standing values by entry: {entry id: {field: value}}."""


def sameness(kind: str, field: str, value: Any) -> Any:
    """Return what two values of a field must share to be one value."""
    row = field_of(kind, field)
    word = row["type"] if row else ""
    if word == "state" and isinstance(value, Mapping):
        return ("state", str(value.get("to")))
    if word == "percent" and isinstance(value, str):
        return ("percent", _short(value))
    return _plain(value)


def _plain(value: Any) -> Any:
    length = tenth_nm_or_none(value)
    if length is not None:
        return ("length", length)
    if isinstance(value, Mapping):
        return ("fields", tuple((key, _plain(value[key])) for key in sorted(value)))
    if isinstance(value, list):
        return ("list", tuple(_plain(one) for one in value))
    return (type(value).__name__, str(value))


def _short(decimal: str) -> str:
    return decimal.rstrip("0").rstrip(".") if "." in decimal else decimal


def standing_of(values: Values, field: str) -> list[Any]:
    """Return the values of a field that stand, by entry id; null is no value."""
    ids = values if len(values) < 2 else sorted(values)
    return [value for id in ids if (value := values[id].get(field)) is not None]


def without_hints(values: list[Any]) -> list[Any]:
    """Leave out of several values the figures that were only copied; where all were, none is."""
    return [value for value in values if not is_unmeasured(value)] or values


def differing(kind: str, values: Values, field: str) -> list[Any]:
    """Return the values of a field that differ from each other, null among them.

    A figure copied from another record is none beside one that was measured.
    """
    ids = values if len(values) < 2 else sorted(values)
    all_values = [values[id][field] for id in ids if field in values[id]]
    if len(all_values) < 2:
        return all_values
    found: dict[Any, Any] = {}
    for value in without_hints(all_values):
        found.setdefault(sameness(kind, field, value), value)
    return list(found.values())


def copied_in(kind: str, values: Values) -> list[str]:
    """Return the fields in which nothing stands but a figure that counts for no measurement."""
    fields = {
        field for one in values.values() for field, value in one.items() if is_unmeasured(value)
    }
    return sorted(
        field for field in fields if all(map(is_unmeasured, differing(kind, values, field)))
    )


def settled_value(kind: str, values: Values, field: str) -> Any:
    """Return the value of a field where only one stands, else None."""
    if len(values) == 1:
        [only] = values.values()
        return only.get(field)
    found = differing(kind, values, field)
    return found[0] if len(found) == 1 else None


def two_values(kind: str, values: Values) -> list[str]:
    """Return the fields of which several values stand that differ."""
    if len(values) < 2:
        return []
    fields = {field for one in values.values() for field in one}
    return sorted(field for field in fields if len(differing(kind, values, field)) > 1)


def natural(text: str) -> list[tuple[int, int, str]]:
    """Return a key by which Stage 2 comes before Stage 10.

    >>> sorted(["Stage 10", "Stage 2"], key=natural)
    ['Stage 2', 'Stage 10']
    """
    return [_part(part) for part in PART.findall(text)]


def _part(part: str) -> tuple[int, int, str]:
    if part[0] not in "0123456789":
        return 1, 0, part
    figure = part.lstrip("0")
    return 0, len(figure), figure
