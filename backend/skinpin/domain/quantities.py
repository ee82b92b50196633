"""Lengths as typed: decimal text with a unit, compared as whole numbers of 0.1 nm."""

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from skinpin.domain.errors import Refused

TENTH_NM = {"in": 254_000_000, "mm": 10_000_000}
# The last decimal place that is whole 0.1 nm, as the refusal says it.
FINEST = {"in": "0.000001 in", "mm": "0.0000001 mm"}
OTHER_UNIT = {"in": "mm", "mm": "in"}
NOT_MEASURED = "not measured"
MOST_CHARACTERS = 20
FIGURE = re.compile(r"-?(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)")
COPIED_METHOD = re.compile(r"as ([^ ,]*), not measured here")
UNNAMED = "another record"
WITHDRAWN = "scale withdrawn"
EXAMPLE = "Type digits with one point or comma, such as 0.064."


@lru_cache(maxsize=65_536)
def scaled(text: str, per_unit: int) -> int | None:
    """Return a decimal figure as a whole number of parts, `per_unit` of them to one.

    None where the text is no figure, or is finer than one part.
    """
    if len(text) > MOST_CHARACTERS or not FIGURE.fullmatch(text):
        return None
    whole, _, part = text.partition(".")
    parts, rest = divmod(int(whole + part) * per_unit, 10 ** len(part))
    return None if rest else parts


def is_quantity(value: object) -> bool:
    """Say whether a value has the shape of a measured figure (it may still be refused)."""
    return (
        isinstance(value, Mapping)
        and isinstance(value.get("value"), str)
        and isinstance(value.get("unit"), str)
        and value["unit"] in TENTH_NM
    )


def tenth_nm_or_none(value: Any) -> int | None:
    """Return a quantity in 0.1 nm, or None for anything that is no figure."""
    if not isinstance(value, dict):
        return None
    try:
        return scaled(value["value"], TENTH_NM[value["unit"]])
    except (KeyError, TypeError):  # a field is missing, or is no text
        return None


def copied_from(value: Any) -> str:
    """Return the number of the record that a figure was copied from; "" for any other value.

    Release 1 said it in the method: "as D/0001, not measured here", or no number at all.

    >>> copied_from({"value": "0.011", "unit": "in", "copied_from": "D/0001"})
    'D/0001'
    """
    if not isinstance(value, dict):
        return ""
    source = value.get("copied_from")
    if source is not None:
        return source if isinstance(source, str) and source else UNNAMED
    method = value.get("method")
    said = COPIED_METHOD.fullmatch(method) if isinstance(method, str) else None
    return (said[1] or UNNAMED) if said else ""


def is_withdrawn(value: Any) -> bool:
    """Say whether a value is a figure from a photograph whose scale was struck since."""
    return isinstance(value, dict) and value.get("scale_withdrawn") is True


def is_unmeasured(value: Any) -> bool:
    """Say whether a value is a figure that counts for no measurement: copied, or withdrawn."""
    return copied_from(value) != "" or is_withdrawn(value)


def unmeasured_words(value: Any) -> str:
    """Return why a figure counts for no measurement, nothing of one that does.

    "copied from D/0001, not measured here" or "scale withdrawn".
    """
    if is_withdrawn(value):
        return WITHDRAWN
    source = copied_from(value)
    return f"copied from {source}, not measured here" if source else ""


def to_tenth_nm(quantity: Any) -> int:
    """Return a quantity in whole 0.1 nm.

    >>> to_tenth_nm({"value": "0.011", "unit": "in"})
    2794000

    Raises
    ------
    Refused
        Not measured, no figure, an unknown unit, or finer than 0.1 nm.
    """
    read = tenth_nm_or_none(quantity)
    if read is not None:
        return read
    if not is_quantity(quantity):
        raise Refused(
            "not_a_quantity",
            f"{_shown(quantity)} is no measured figure.",
            "Give a figure with its unit, in or mm.",
        )
    parts = scaled(quantity["value"], TENTH_NM[quantity["unit"]])
    if parts is None:
        _refuse_figure(quantity["value"])
        raise Refused(
            "too_fine",
            f"{quantity['value']} {quantity['unit']} is finer than {FINEST[quantity['unit']]}, "
            "the finest step kept.",
            "Leave out the last figures.",
        )
    return parts


def parse_typed(text: str, unit: str, signed: bool = False) -> dict[str, str]:
    """Return what was typed as a quantity: the same figure, a decimal comma as a point.

    >>> parse_typed(" 0,50 ", "mm")
    {'value': '0.50', 'unit': 'mm'}

    Raises
    ------
    Refused
        No figure, a length below nought (unless signed), or one finer than 0.1 nm.
    """
    figure = text.strip().replace("\N{MINUS SIGN}", "-")
    if figure.count(",") == 1 and "." not in figure:
        figure = figure.replace(",", ".")
    _refuse_figure(figure)
    if figure.startswith("-") and not signed:
        raise Refused("below_nought", f"A length can't be {figure}.", "Leave out the minus.")
    quantity = {"value": figure, "unit": unit}
    to_tenth_nm(quantity)
    return quantity


def _refuse_figure(figure: str) -> None:
    if not figure:
        raise Refused("no_figure", "No figure was typed.", EXAMPLE)
    if len(figure) > MOST_CHARACTERS:
        raise Refused(
            "too_long", f"The figure has more than {MOST_CHARACTERS} characters.", EXAMPLE
        )
    if not FIGURE.fullmatch(figure):
        raise Refused("not_a_figure", f"“{figure}” is no decimal figure.", EXAMPLE)


def _shown(value: object) -> str:
    if isinstance(value, Mapping):
        return f"“{value.get('value')} {value.get('unit')}”"
    return f"“{value}”"


def compare(a: Any, b: Any) -> int:
    """Return -1, 0 or 1: how quantity a stands to b, whatever their units."""
    first, second = to_tenth_nm(a), to_tenth_nm(b)
    return (first > second) - (first < second)


def exceeds_share(part: Any, whole: Any, percent: str) -> bool:
    """Say whether a part is more than a percentage of the whole; exactly at it is not more."""
    return to_tenth_nm(part) * 100 * MILLION > _whole(whole) * to_millionths(percent)


MILLION = 1_000_000


def to_millionths(percent: object) -> int:
    """Return a decimal percentage in whole millionths of a percent."""
    parts = scaled(percent, MILLION) if isinstance(percent, str) else None
    if parts is None:
        raise Refused("not_a_percentage", f"“{percent}” is no percentage.", EXAMPLE)
    return parts


def percent_text(part: Any, whole: Any) -> str:
    """Return part of whole as a percentage to 0.1, half up: "17.2 %"."""
    return f"{rounded_text(to_tenth_nm(part) * 100, _whole(whole), 1)} %"


def percent_of(part: int, whole: int) -> str:
    """Return one whole number as a percentage of another, neither below nought, to 0.1, half up."""
    tenths = (part * 2000 + whole) // (whole * 2)
    return f"{tenths // 10}.{tenths % 10} %"


def _whole(quantity: Any) -> int:
    whole = to_tenth_nm(quantity)
    if whole <= 0:
        raise Refused(
            "no_thickness", f"Nothing is a share of {_shown(quantity)}.", "Measure it again."
        )
    return whole


@lru_cache(maxsize=65_536)
def rounded_text(part: int, whole: int, places: int) -> str:
    """Return part ÷ whole (whole above nought) with so many decimals, half away from nought."""
    steps = (abs(part) * 10**places * 2 + whole) // (whole * 2)
    return decimal_text(-steps if part < 0 else steps, places)


def decimal_text(steps: int, places: int) -> str:
    """Return a whole number of 10^-places as decimal text, all places shown."""
    digits = str(abs(steps)).rjust(places + 1, "0")
    sign = "-" if steps < 0 else ""
    return f"{sign}{digits[:-places]}.{digits[-places:]}" if places else f"{sign}{digits}"


def places_of(text: str) -> int:
    """Return how many decimals a figure was typed with."""
    return len(text.partition(".")[2])


def other_unit_text(quantity: Any) -> str:
    """Return a quantity in the other unit, about as fine as it was typed.

    >>> other_unit_text({"value": "0.064", "unit": "in"})
    '1.626 mm'
    """
    unit = quantity["unit"] if is_quantity(quantity) else ""
    length = to_tenth_nm(quantity)
    typed = places_of(quantity["value"])
    places = typed + 2 if unit == "mm" else typed if typed >= 2 else 0
    other = OTHER_UNIT[unit]
    return f"{rounded_text(length, TENTH_NM[other], places)} {other}"


def figure_text(quantity: Any) -> str:
    """Return a quantity as typed with its unit and what it is sure to; nothing for what is none.

    >>> figure_text({"value": "0.38", "unit": "in", "uncertainty": {"value": "0.02", "unit": "in"}})
    '0.38 ± 0.02 in'
    """
    if not is_quantity(quantity):
        return ""
    value, unit, doubt = quantity["value"], quantity["unit"], quantity.get("uncertainty")
    if tenth_nm_or_none(doubt) is None:
        return f"{value} {unit}"
    own = "" if doubt["unit"] == unit else f" {unit}"
    return f"{value}{own} ± {doubt['value']} {doubt['unit']}"


def round_up_tenth(quantity: Any) -> dict[str, str]:
    """Return a damage size rounded up to the next tenth of its unit; a whole tenth stays."""
    length, unit = to_tenth_nm(quantity), quantity["unit"]
    tenths = -(-length * 10 // TENTH_NM[unit])
    return {"value": decimal_text(tenths, 1), "unit": unit}
