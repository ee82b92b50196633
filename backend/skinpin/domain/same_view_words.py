"""How one photograph lies on another, as words: what is kept of a fit, read for people."""

from collections.abc import Mapping
from math import floor
from typing import Any

# Where two pictures serve to show a change: field notes of the trade, no published source.
GOOD_TURN_DEG = 5.0
GOOD_SCALE_PERCENT = 5.0


def fit_words(fit: Any) -> str:
    """Return how a picture lies on the earlier one by a kept fit, empty where it can't be read.

    A fit keeps what the picture shows against the earlier one; laid on that one, the picture
    itself lies turned the other way, and the smaller the larger it shows the metal.

    >>> fit_words({"turn_deg": "1.20", "scale_percent": "0.80"})
    'turned 1.2° anticlockwise, 0.8 % smaller'
    """
    given = fields_of(fit)
    turn, scale = number_of(given.get("turn_deg")), number_of(given.get("scale_percent"))
    if turn is None or scale is None or scale <= -100:
        return ""
    turned = decimal_text(abs(turn), 1)
    size = 100 * (100 / (100 + scale) - 1)
    sized = decimal_text(abs(size), 1)
    way = "anticlockwise" if turn > 0 else "clockwise"
    words = "not turned" if turned == "0.0" else f"turned {turned}° {way}"
    larger = "larger" if size > 0 else "smaller"
    return f"{words}, {'of the same size' if sized == '0.0' else f'{sized} % {larger}'}"


def is_good(fit: Any) -> bool:
    """Tell whether a kept fit is good enough to compare by."""
    given = fields_of(fit)
    turn, scale = number_of(given.get("turn_deg")), number_of(given.get("scale_percent"))
    if turn is None or scale is None:
        return False
    return is_near(turn, scale)


def is_near(turn_deg: float, scale_percent: float) -> bool:
    """Tell whether a turn and a scale are good enough to compare by."""
    return abs(turn_deg) <= GOOD_TURN_DEG and abs(scale_percent) <= GOOD_SCALE_PERCENT


def decimal_text(number: float, places: int) -> str:
    """Return a number with so many decimals, half away from nought; never a nought with a minus.

    >>> decimal_text(-0.125, 2)
    '-0.13'
    """
    whole = floor(abs(number) * 10**places + 0.5)
    figures = str(whole).rjust(places + 1, "0")
    sign = "-" if number < 0 and whole > 0 else ""
    return f"{sign}{figures[:-places]}.{figures[-places:]}"


def fields_of(value: Any) -> Mapping[str, Any]:
    """Return a mapping as it is, anything else as an empty one."""
    return value if isinstance(value, Mapping) else {}


def number_of(value: Any) -> float | None:
    """Return the number of a decimal text, None where it is none."""
    if not isinstance(value, str) or not value.isascii():
        return None
    figures = value.removeprefix("-").replace(".", "", 1)
    return float(value) if figures.isdigit() and len(value) <= 40 else None
