"""Bands of one family of a standard: where one ends another must begin, or a figure falls between.

A figure in a gap would fire no row of its family and could read as light.
"""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Any, NamedTuple

from skinpin.domain.definition_trouble import Trouble
from skinpin.domain.quantities import to_millionths, to_tenth_nm

SUBJECTS: Mapping[str, Callable[[Any], int]] = {
    "figure": to_tenth_nm,
    "share": to_millionths,
    "ratio": to_millionths,
    "percent": to_millionths,
    "count": int,
}


class Limit(NamedTuple):
    """A limit of a band as a whole number; `after` it, or from it on."""

    number: int
    after: bool


class Band(NamedTuple):
    """A row's condition on one figure, and where on it the row begins and ends."""

    at: int
    rule: str
    family: str
    figure: str
    begins: Limit | None
    ends: Limit | None
    said: str


def band_troubles(rows: Sequence[Mapping[str, Any]]) -> Iterator[Trouble]:
    """Yield each band that ends with a gap before the next of its family and figure."""
    bands = [band for at, row in enumerate(rows) for band in _bands(at, row)]
    for band in bands:
        if not _leaves_gap(band, bands):
            continue
        yield Trouble(
            f"rows/{band.at}/when",
            "not_a_standard",
            f"Row {band.at + 1}, {band.rule}: just beyond {band.said} is no row of "
            f"“{band.family}”.",
            "Begin the next row of the family where this one ends.",
        )


def _leaves_gap(band: Band, bands: Sequence[Band]) -> bool:
    """Say whether a band ends, none goes on from there, and another begins beyond."""
    end = band.ends
    if end is None:
        return False
    beside = [one for one in bands if (one.family, one.figure) == (band.family, band.figure)]
    goes_on = any(
        (one.begins is None or one.begins <= end) and (one.ends is None or one.ends > end)
        for one in beside
    )
    return not goes_on and any(one.begins is not None and one.begins > end for one in beside)


def _bands(at: int, row: Mapping[str, Any]) -> Iterator[Band]:
    if not row.get("family"):
        return
    for when in _parts(row["when"]):
        subject = next((name for name in SUBJECTS if name in when), None)
        if subject is None:
            continue
        number = SUBJECTS[subject]
        begins = _limit(when, number, {"over": True, "at_least": False})
        ends = _limit(when, number, {"at_most": True, "under": False})
        limit = when.get("at_most", when.get("under"))
        said = f"{limit['value']} {limit['unit']}" if isinstance(limit, dict) else str(limit)
        figure = f"{subject} {when[subject]}"
        yield Band(at, row["rule"], row["family"], figure, begins, ends, said)


def _parts(when: Mapping[str, Any], inner: Sequence[str] = ("any",)) -> Iterator[Mapping[str, Any]]:
    """Yield the conditions within a condition, or itself."""
    found = [one for name in inner for one in when.get(name, ())]
    if not found:
        yield when
    for one in found:
        yield from _parts(one, inner)


NAMES = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_FIGURE = re.compile(r"[0-9]+(?:\.[0-9]+)?")


def unsaid_limits(row: Mapping[str, Any]) -> list[str]:
    """Return the limits of a row that its words do not name, as when only one was changed."""
    text = str(row["text"]).lower()
    named = {Decimal(one) for one in _FIGURE.findall(text)}
    named |= {Decimal(at) for at, name in enumerate(NAMES, 1) if name in text.split()}
    limits = [
        one["value"] if isinstance(one, dict) else one
        for when in _parts(row["when"], ("any", "all"))
        for name, one in when.items()
        if name in ("over", "at_least", "under", "at_most")
    ]
    return [str(one) for one in limits if Decimal(str(one)) not in named]


def _limit(
    when: Mapping[str, Any], number: Callable[[Any], int], names: Mapping[str, bool]
) -> Limit | None:
    found = [Limit(number(when[name]), after) for name, after in names.items() if name in when]
    return found[0] if found else None
