"""Words for paper: how a value reads, and text made fit to print whatever was typed."""

import re
from collections.abc import Mapping, Sequence
from typing import Any

from skinpin.domain.errors import Refused
from skinpin.domain.gauge import gauge_of
from skinpin.domain.quantities import (
    NOT_MEASURED,
    WITHDRAWN,
    figure_text,
    is_unmeasured,
    is_withdrawn,
    other_unit_text,
    percent_text,
    tenth_nm_or_none,
)

_LONG = re.compile(r"\S{26,}")
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ufeff]")
_BREAK = "\u200b"
_PIECE = 13
_MARKERS = {
    "source read": "read in the source",
    "source read, secondary": "read in a secondary source",
    "from memory": "from memory, to verify",
    "workshop's own": "workshop's own figure",
}


def printable(text: str) -> str:
    """Return text that breaks anywhere needed and turns no direction; no mark up is looked at.

    >>> printable("tab" + chr(7))
    'tab'
    """
    plain = _CONTROL.sub("", text.replace("\r\n", "\n").replace("\r", "\n"))
    return _LONG.sub(lambda found: _broken(found.group()), plain)


def _broken(word: str) -> str:
    return _BREAK.join(word[i : i + _PIECE] for i in range(0, len(word), _PIECE))


def is_figure(value: Any) -> bool:
    """Say whether a value is a measured figure that can be worked with; a copied one is none."""
    try:
        return tenth_nm_or_none(value) is not None and not is_unmeasured(value)
    except Refused:  # a number that nobody can read
        return False


def quantity_text(value: Any) -> str:
    """Return a value as typed with its unit and what it is sure to; "not measured" if copied.

    A figure whose scale was struck is "scale withdrawn".
    """
    if is_unmeasured(value):
        return WITHDRAWN if is_withdrawn(value) else NOT_MEASURED
    if not is_figure(value):
        return str(value) if isinstance(value, str | int) else ""
    return figure_text(value)


def marker_words(marker: Any) -> str:
    """Return in words how a limit came by its source.

    >>> marker_words("source read, secondary")
    'read in a secondary source'
    """
    return _MARKERS.get(str(marker), str(marker)) if marker else ""


def other_text(value: Any) -> str:
    """Return a quantity in the other unit, nothing for what is no figure."""
    return other_unit_text(value) if is_figure(value) else ""


def share_text(part: Any, whole: Any) -> str:
    """Return part of whole in per cent, nothing where either was not measured."""
    if not (is_figure(part) and is_figure(whole)) or float(whole["value"]) <= 0:
        return ""
    return percent_text(part, whole)


def only(values: Mapping[str, Sequence[Any]], field: str) -> Any:
    """Return the value of a field where just one stands."""
    found = values.get(field) or []
    return found[0] if len(found) == 1 else None


def found_words(row: Mapping[str, Any], values: Mapping[str, Sequence[Any]]) -> str:
    """Return what was found with its deciding figure, as "pitting 0.011 ± 0.001 in"."""
    kind = str(row.get("kind_words") or row["kind"])
    for field in ("depth", "length"):
        value = only(values, field)
        if is_figure(value):
            long = " long" if field == "length" else ""
            return f"{kind} {quantity_text(value)}{long}"
    return kind


def thickness_words(value: Any) -> str:
    """Return a thickness with its gauge, as "0.064 in (16 SWG)"."""
    if not is_figure(value):
        return ""
    gauge = gauge_of(value["value"]) if value["unit"] == "in" else None
    return f"{value['value']} {value['unit']}" + (f" ({gauge} SWG)" if gauge else "")
