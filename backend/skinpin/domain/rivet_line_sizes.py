"""The rivet catalogue: sizes, alloys, codes, lengths and driven heads.

Lengths are whole 0.1 nm; diameters are written as fractions of an inch, as rivets are ordered.
"""

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Any, NamedTuple

from skinpin.domain.errors import Refused
from skinpin.domain.fields import read_table
from skinpin.domain.quantities import TENTH_NM, scaled

INCH = TENTH_NM["in"]
CATALOGUE: Mapping[str, Any] = read_table("rivets.json")
SIZES: Mapping[str, Mapping[str, str]] = CATALOGUE["sizes"]
ALLOYS: Mapping[str, Mapping[str, Any]] = CATALOGUE["alloys"]
HEADS: Mapping[str, Mapping[str, Any]] = CATALOGUE["heads"]
LIMITS: Mapping[str, Mapping[str, Any]] = CATALOGUE["limits"]
FRACTION = re.compile(r"([0-9]{1,3})/([0-9]{1,3})")
CODE = re.compile(r"(?:MS20|AN)([0-9]{3})(AD|DD|A|B|D|E|M)([0-9]{1,2})-([0-9]{1,2})(\.5)?")
ORDER = list(SIZES)


class Code(NamedTuple):
    """What a rivet's code says: head and its kind, alloy, diameter and length as fractions."""

    head: str
    flush: bool
    alloy: str
    diameter: str
    length: str


def fraction_tenth_nm(text: str) -> int:
    """Return a fraction of an inch in 0.1 nm: 5/32 is 39 687 500."""
    found = FRACTION.fullmatch(text)
    top, bottom = (int(found[1]), int(found[2])) if found else (0, 0)
    if not top or not bottom or INCH * top % bottom:
        raise Refused("not_a_size", f"“{text}” is no size of a rivet.", "Write it as 5/32.")
    return INCH * top // bottom


def fraction_text(parts: int, of: int) -> str:
    """Return so many parts of an inch in lowest terms: 8 of 16 is 1/2."""
    least = Fraction(parts, of)
    whole, rest = divmod(least.numerator, least.denominator)
    if not rest:
        return str(whole)
    part = f"{rest}/{least.denominator}"
    return f"{whole} {part}" if whole else part


def inches_tenth_nm(text: str) -> int:
    """Return a figure of the catalogue, decimal inches, in 0.1 nm."""
    length = scaled(text, INCH)
    if length is None:
        raise Refused("not_a_figure", f"“{text}” is no decimal figure.", "Mend the catalogue.")
    return length


def size_of(diameter: str) -> Mapping[str, str]:
    """Return the row of a size: its structural nominal hole and its handbook drill."""
    if diameter in SIZES:
        return SIZES[diameter]
    known = ", ".join(SIZES)
    raise Refused("no_such_size", f"No {diameter} rivet is in the catalogue.", f"It has {known}.")


def alloy_of(alloy: str) -> Mapping[str, Any]:
    """Return the row of an alloy."""
    if alloy in ALLOYS:
        return ALLOYS[alloy]
    known = ", ".join(ALLOYS)
    raise Refused("no_such_alloy", f"No alloy {alloy} is in the catalogue.", f"It has {known}.")


def hole_tenth_nm(diameter: str) -> int:
    """Return the structural nominal hole of a size."""
    return inches_tenth_nm(size_of(diameter)["structural_nominal_hole"])


def next_larger(diameter: str) -> str:
    """Return the size one step up: 1/32 in up to 1/4 in, 1/16 in above."""
    parts = fraction_tenth_nm(diameter) * 32 // INCH
    return fraction_text(parts + (1 if parts < 8 else 2), 32)


def size_for_sheet(thickness: int) -> str | None:
    """Return the smallest size that is three times a sheet's thickness, or None past the last."""
    return next((one for one in ORDER if fraction_tenth_nm(one) >= 3 * thickness), None)


def stock_length(grip: int, diameter: str, half_sizes: bool = False) -> str:
    """Return grip + 1.5 D, rounded up to the next stocked length in inches.

    >>> stock_length(52_832_000, "5/32")
    '1/2'
    """
    of = 32 if half_sizes else 16
    steps = -(-(2 * grip + 3 * fraction_tenth_nm(diameter)) * of // (2 * INCH))
    return fraction_text(steps, of)


def oversize_allowed(count: int) -> int:
    """Return how many rivets of a pattern may be oversize: a fifth of them, ten at most."""
    return min(count // 5, 10)


def head_target(diameter: str) -> tuple[int, int]:
    """Return width and height that a driven head should have: 1.5 D and 0.5 D."""
    size = fraction_tenth_nm(diameter)
    return 3 * size // 2, size // 2


def head_holds(width: int, height: int, diameter: str, alloy: str) -> str:
    """Return "below minimum", "below target" or "holds" for a driven head as measured."""
    size = fraction_tenth_nm(diameter)
    tenths = 14 if alloy == "7050" else 13
    if 10 * width < tenths * size or 10 * height < 3 * size:
        return "below minimum"
    wide, high = head_target(diameter)
    return "below target" if width < wide or height < high else "holds"


def read_code(text: str) -> Code:
    """Return what a rivet's code says; diameter in 1/32, length in 1/16 in, half sizes .5."""
    found = CODE.fullmatch(text.strip(" ").upper())
    head = HEADS.get(found[1]) if found else None
    alloy = next((name for name, row in ALLOYS.items() if found and row["letters"] == found[2]), "")
    if found is None or head is None or not alloy:
        raise Refused("not_a_rivet", f"“{text}” is no rivet code.", "Write it as MS20470AD4-7.")
    halves = 2 * int(found[4]) + (1 if found[5] else 0)
    diameter = fraction_text(int(found[3]), 32)
    return Code(head["head"], head["flush"], alloy, diameter, fraction_text(halves, 32))
