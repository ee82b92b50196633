"""Why two records are asked about, and what was decided of them, in sentences."""

from collections.abc import Iterable

from skinpin.domain.kinds import GROUPS, kind_group, kind_words
from skinpin.domain.pairs_spots import Row, Spot
from skinpin.domain.quantities import TENTH_NM, rounded_text

OPPOSITE = {
    "aft": "forward",
    "forward": "aft",
    "outboard": "inboard",
    "inboard": "outboard",
    "up": "down",
    "down": "up",
}
PLACES = 3


def length_words(length: int, unit: str, parts: int = 1) -> str:
    """Return a length (0.1 nm, or so many parts of that) without the noughts at its end.

    >>> length_words(127_000_000, "in")
    '0.5 in'
    """
    text = rounded_text(length, TENTH_NM[unit] * parts, PLACES).rstrip("0").rstrip(".")
    return f"under 0.001 {unit}" if text == "0" and length else f"{text} {unit}"


def same_reason(first: Spot, second: Spot, least: int) -> str:
    """Say why two records may be one defect; `least` is twice how far is always asked."""
    distance = second.station - first.station
    reach = max(least, first.length + second.length)
    one, other, unit = first.row, second.row, first.structure["unit"]
    is_same = first.strakes == second.strakes
    kinds = ["kind"] if one["kind"] == other["kind"] else []
    shared = ["hand", *([_across(first)] if is_same else []), *kinds]
    told = [
        f"Same {listed(shared)}" if len(shared) > 1 else "Same hand",
        *([] if is_same else [f"{_strakes(one)} and {_strakes(other)} overlap"]),
        *([] if kinds else [_group(one, other)]),
        f"asked up to {length_words(reach, unit, 2)}",
    ]
    where = f"{_away(distance, first)}" if distance else "at the same station"
    reason = f"{_named(other)} lies {where}. {'; '.join(told)}."
    return " ".join([reason, *_found_again(one, other)])


def opposite_reason(first: Spot, second: Spot, reach: int) -> str:
    """Say why a record may have been entered for the wrong hand."""
    across = _across(first)
    shared = ["member", "kind"] if across == "member" else ["member", across, "kind"]
    distance = second.offset - first.offset
    where = _away(distance, first) if distance else "at the same distance"
    asked = f"asked within {length_words(reach, first.structure['unit'])}"
    named = f"{_named(second.row)} lies on the other hand, {where}"
    return f"{named}. Same {listed(shared)}; {asked}."


def decided_words(rows: Iterable[Row]) -> str | None:
    """Say what was already decided of the records of a pair."""
    told = [sentence for row in rows if (sentence := _decided(row))]
    return " ".join(told) or None


def two_words(query: str) -> str:
    """Say that both records were left as they are."""
    if query == "wrong hand":
        return "Both were decided to be right: one on each hand."
    return "They were decided to be two defects."


def _decided(row: Row) -> str | None:
    if row["state"] == "Raised in error":
        return f"{_named(row)} was raised in error."
    if row["own_state"] == "Same as":
        other = row["same_as_number"] or "another record"
        return f"{_named(row)} was decided to be the same as {other}."
    return None


def _found_again(first: Row, second: Row) -> list[str]:
    cleared = [row for row in (first, second) if row["state"] == "Cleared"]
    return [f"{_named(row)} is cleared: if they are one, it was found again." for row in cleared]


def _across(spot: Spot) -> str:
    return "strakes" if spot.strakes else spot.beside[0]


def _away(distance: int, spot: Spot) -> str:
    positive = str(spot.structure["positive"])
    way = positive if distance > 0 else OPPOSITE.get(positive, f"against {positive}")
    return f"{length_words(abs(distance), spot.structure['unit'])} {way}"


def _group(first: Row, second: Row) -> str:
    named = str(kind_group(first["kind"]))
    kinds = f"{kind_words(first['kind'])} and {kind_words(second['kind']).lower()}"
    return f"{kinds} are both {GROUPS.get(named, named).lower()}"


def _strakes(row: Row) -> str:
    return "–".join(dict.fromkeys(one for one in row["place"]["strakes"] if one is not None))


def _named(row: Row) -> str:
    return str(row["number"] or "The record without a number")


def listed(words: list[str]) -> str:
    """Return words as a list in a sentence: hand, strakes and kind."""
    return f"{', '.join(words[:-1])} and {words[-1]}"
