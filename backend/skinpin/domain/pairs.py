"""Records that may be the same defect seen twice, or one entered for the wrong hand.

Nothing is merged: a pair is a question for people, with the figures it rests on.
"""

import re
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from operator import attrgetter
from typing import Any, NamedTuple

from skinpin.domain.pairs_spots import (
    Couples,
    Reader,
    Row,
    Spot,
    across,
    overlapping,
    within,
)
from skinpin.domain.pairs_words import decided_words, opposite_reason, same_reason, two_words
from skinpin.domain.place import Definition
from skinpin.domain.quantities import TENTH_NM
from skinpin.domain.same_as import number_key

SAME_DEFECT, WRONG_HAND = "same defect", "wrong hand"
TWO_DEFECTS = "two defects"
NEAREST = 2 * TENTH_NM["in"]
"""Two sightings this near are always asked about, however short they are."""
ALONG = TENTH_NM["in"]
"""How far from each other two distances from a member may be on opposite hands."""
STATION, OFFSET = attrgetter("station"), attrgetter("offset")
SIDE = re.compile(r"\b(?:port|starboard|left|right) ", re.IGNORECASE | re.ASCII)


class Pair(NamedTuple):
    """Two records, the smaller number first, why they are asked about, and what was decided."""

    query: str
    records: tuple[str, str]
    numbers: tuple[str | None, str | None]
    reason: str
    decided: str | None


def pairs(
    rows: Iterable[Row],
    definition: Definition | None,
    decisions: Iterable[Mapping[str, Any]] = (),
) -> list[Pair]:
    """Return same-defect candidates, then wrong-hand queries, each by number.

    Candidates share structure, hand, kind group and a strake (where there are no strakes the part
    as named) and lie within the greater of 2 in and half their lengths together. A wrong hand has
    the same member, strakes and kind, and a distance from the member within 1 in. Rows without a
    place or kind, and nil records, are in no pair.

    Parameters
    ----------
    rows
        Rows of defects of one airframe or several.
    definition
        The structures on which their places stand.
    decisions
        What stands of the records of kind `pair`, one value a field.
    """
    if definition is None:
        return []
    read = Reader(definition).spot
    spots = [spot for at, row in enumerate(rows) if (spot := read(at, row))]
    same, opposite = _by_number(_candidates(spots)), _by_number(_opposites(spots))
    two = {_couple(one) for one in decisions if one.get("decided") == TWO_DEFECTS}
    return [
        *(_pair(SAME_DEFECT, first, second, two) for first, second in same),
        *(_pair(WRONG_HAND, first, second, two) for first, second in opposite),
    ]


def _couple(decision: Mapping[str, Any]) -> tuple[Any, frozenset[Any]]:
    return decision.get("query"), frozenset((decision.get("first"), decision.get("second")))


def _by_number(couples: Couples) -> list[tuple[Spot, Spot]]:
    found = list(couples)
    met = {spot.at: spot.row for couple in found for spot in couple}
    ordered = sorted(met, key=lambda at: (number_key(met[at]["number"] or ""), met[at]["record"]))
    rank = {at: place for place, at in enumerate(ordered)}
    right = ((a, b) if rank[a.at] < rank[b.at] else (b, a) for a, b in found)
    return sorted(right, key=lambda couple: (rank[couple[0].at], rank[couple[1].at]))


def _candidates(spots: Iterable[Spot]) -> Couples:
    """Find each candidate once: of the strakes two spots share, in the lowest."""
    bundles: dict[Any, list[Spot]] = defaultdict(list)
    for spot in spots:
        low, high = spot.strakes or (0, 0)
        key = (spot.row["airframe"], spot.structure["name"], spot.hand, spot.group)
        for strake in range(low, high + 1):
            beside = strake if spot.strakes else spot.beside
            bundles[*key, beside].append(spot)
    for key, bundle in bundles.items():
        for first, second in _near(bundle):
            if key[-1] == _first_shared(first, second):
                yield first, second


def _first_shared(first: Spot, second: Spot) -> Any:
    if first.strakes is None or second.strakes is None:
        return first.beside
    return max(first.strakes[0], second.strakes[0])


def _near(bundle: list[Spot]) -> Couples:
    """Find the pairs within the greater of 2 in and half their lengths together, each once."""
    if len(bundle) < 2:
        return
    yield from overlapping(bundle)
    for first, second in within(sorted(bundle, key=STATION), NEAREST):
        if 2 * (second.station - first.station) > first.length + second.length:
            yield first, second


def _opposites(spots: Iterable[Spot]) -> Couples:
    port: dict[Any, list[Spot]] = defaultdict(list)
    starboard: dict[Any, list[Spot]] = defaultdict(list)
    sides: dict[str, str] = {}
    for spot in spots:
        if spot.hand in ("P", "S"):
            row, name = spot.row, spot.structure["name"]
            side = sides.get(name) or sides.setdefault(name, SIDE.sub("", name))
            beside = spot.strakes or spot.beside
            key = (row["airframe"], side, spot.member, row["kind"], beside)
            hand = port if spot.hand == "P" else starboard
            hand[key].append(spot)
    for key, bundle in port.items():
        if key in starboard:
            others = sorted(starboard[key], key=OFFSET)
            yield from across(sorted(bundle, key=OFFSET), others, ALONG)


def _pair(query: str, first: Spot, second: Spot, two: Collection[Any]) -> Pair:
    say = same_reason if query == SAME_DEFECT else opposite_reason
    one, other = first.row, second.row
    records = (one["record"], other["record"])
    is_two = (query, frozenset(records)) in two
    return Pair(
        query,
        records,
        (one["number"], other["number"]),
        say(first, second, 2 * NEAREST if query == SAME_DEFECT else ALONG),
        decided_words([one, other]) or (two_words(query) if is_two else None),
    )
