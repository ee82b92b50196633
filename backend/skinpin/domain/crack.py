"""A crack's record: is it growing, is that real, and how far it still is to the next edge.

No life is foretold: that belongs to the design authority.
"""

from collections.abc import Iterable, Mapping
from itertools import pairwise
from math import isqrt
from typing import Any, NamedTuple

from skinpin.domain.crack_rate import Rate, rate_of
from skinpin.domain.errors import Refused
from skinpin.domain.figures import day_number
from skinpin.domain.quantities import TENTH_NM, places_of, rounded_text, to_tenth_nm

NO_LIFE = "No life is foretold; that is for the design authority."
PLACES = 3
Observation = Mapping[str, Any]


class Seen(NamedTuple):
    """One observation read; lengths in 0.1 nm, `own` as it was written, `day` as a number."""

    own: Observation
    day: int
    length: int
    uncertainty: int | None
    unit: str


def crack(
    observations: Iterable[Observation],
    limit: Mapping[str, Any] | None = None,
    to: str = "next hole",
) -> dict[str, Any]:
    """Return what the observations of one crack come to.

    Parameters
    ----------
    observations
        `date`, `length` (a quantity with its uncertainty, k = 2), `method`; `stop_hole` true where
        one was drilled, which begins a new series, as another method does.
    limit
        Distance from the crack's start to the next hole or edge, named by `to`.

    Raises
    ------
    Refused
        A date or a length is none, or a length is below nought.
    """
    read = sorted((_seen(one) for one in observations), key=lambda one: one.day)
    series = _series(read)
    last = series[-1] if series else []
    rate = rate_of([(one.day, one.length) for one in last])
    return {
        "points": [_point(one, at) for one in series for at in range(len(one))],
        "series": [{"from": one[0].own["date"], "points": len(one)} for one in series],
        "growth_shown": any(_is_grown(one) for one in series),
        "rate": _rate(rate, last),
        "left": _left(last[-1], limit, to) if last and limit else None,
        "breaks": [_break(a[-1], b[0]) for a, b in pairwise(series)],
        "life": NO_LIFE,
    }


def _seen(own: Observation) -> Seen:
    day = day_number(own.get("date"))
    if day is None:
        shown = own.get("date")
        raise Refused("not_a_date", f"“{shown}” is no date.", "Write it as 2025-03-08.")
    length = own["length"]
    tip, given = to_tenth_nm(length), length.get("uncertainty")
    doubt = to_tenth_nm(given) if given else None
    if tip < 0 or (doubt is not None and doubt < 0):
        raise Refused(
            "below_nought", f"A crack can't be {length['value']} long.", "Leave out the minus."
        )
    return Seen(own, day, tip, doubt, length["unit"])


def _series(read: Iterable[Seen]) -> list[list[Seen]]:
    """Split observations where the method changes or a stop-hole was drilled."""
    made: list[list[Seen]] = []
    for one in read:
        if made and one.own.get("method") == made[-1][-1].own.get("method") and not _stops(one):
            made[-1].append(one)
        else:
            made.append([one])
    return made


def _stops(one: Seen) -> bool:
    return one.own.get("stop_hole") is True


def is_shown(first: Seen, second: Seen) -> bool | None:
    """Say whether growth is shown: more than the root of both uncertainties squared.

    Nothing can be said where an uncertainty is missing. Decided by squares, so exact.
    """
    if first.uncertainty is None or second.uncertainty is None:
        return None
    grown = second.length - first.length
    return grown > 0 and grown**2 > first.uncertainty**2 + second.uncertainty**2


def _is_grown(series: list[Seen]) -> bool:
    return any(is_shown(a, b) for at, b in enumerate(series) for a in series[:at])


def _point(series: list[Seen], at: int) -> dict[str, Any]:
    one = series[at]
    return {
        "date": one.own["date"],
        "since_previous": _growth(series[at - 1], one) if at else None,
        "since_first": _growth(series[0], one) if at else None,
        "shorter": at > 0 and one.length < series[at - 1].length,
        "growth_shown": _is_grown(series[: at + 1]),
    }


def _growth(first: Seen, second: Seen) -> dict[str, Any]:
    shown = is_shown(first, second)
    return {
        "since": first.own["date"],
        "growth": _signed(second.length - first.length, first, second),
        "limit": None if shown is None else _root(first, second, second.unit),
        "shown": shown,
        "words": f"Since {_day(first, second)}: {_growth_words(first, second, shown)}",
    }


def _growth_words(first: Seen, second: Seen, shown: bool | None) -> str:
    grown = _signed(second.length - first.length, first, second)
    if second.length < first.length:
        return f"{grown}, shorter: look again at paint, light and tips"
    if shown is None:
        return f"{grown}, no ± given, growth can't be judged"
    return f"{grown}, growth proved (CK3)" if shown else f"{grown}, within ±, no growth proved"


def _day(first: Seen, second: Seen) -> str:
    """Return month and day, with the year where it is another."""
    one, other = first.own["date"], second.own["date"]
    return str(one[5:] if one[:4] == other[:4] else one)


def _signed(length: int, *seen: Seen) -> str:
    text = _typed(abs(length), seen)
    return f"−{text}" if length < 0 else f"+{text}"


def _typed(length: int, seen: Iterable[Seen]) -> str:
    """Return a length as finely as the lengths it comes from were typed."""
    *_, last = seen
    places = max(places_of(one.own["length"]["value"]) for one in seen)
    return rounded_text(length, TENTH_NM[last.unit], places)


def _root(first: Seen, second: Seen, unit: str) -> str:
    square = (first.uncertainty or 0) ** 2 + (second.uncertainty or 0) ** 2
    return root_text(square, 1, TENTH_NM[unit], PLACES)


def root_text(part: int, whole: int, unit: int, places: int) -> str:
    """Return √(part ÷ whole) ÷ unit with so many decimals, half up, exactly."""
    halves = isqrt(part * (2 * 10**places) ** 2 // (whole * unit**2))
    return rounded_text((halves + 1) // 2, 10**places, places)


def _rate(rate: Rate | None, series: list[Seen]) -> dict[str, Any] | None:
    if rate is None:
        return None
    unit = series[-1].unit
    places = max(places_of(one.own["length"]["value"]) for one in series) + 1
    slope = rounded_text(rate.slope * 30, rate.slope_of * TENTH_NM[unit], places)
    error = root_text(rate.square * 900, rate.square_of, TENTH_NM[unit], places)
    slope = slope.replace("-", "−")
    words = f"{slope} {unit} per 30 days, standard error {error}, {len(series)} points"
    return {
        "per_30_days": slope,
        "standard_error": error,
        "unit": unit,
        "points": len(series),
        "words": words,
    }


def _left(last: Seen, limit: Mapping[str, Any], to: str) -> dict[str, Any]:
    """Return how far it is still to the next hole or edge."""
    end, given = to_tenth_nm(limit), limit.get("uncertainty")
    places = max(places_of(limit["value"]), places_of(last.own["length"]["value"]))
    left = rounded_text(end - last.length, TENTH_NM[last.unit], places).replace("-", "−")
    doubt = None
    if last.uncertainty is not None:
        square = last.uncertainty**2 + (to_tenth_nm(given) if given else 0) ** 2
        doubt = root_text(square, 1, TENTH_NM[last.unit], places)
    about = f" ± {doubt}" if doubt is not None else ""
    typed = last.own["length"]["value"]
    whole = limit["value"]
    if limit["unit"] != last.unit:
        whole = rounded_text(end, TENTH_NM[last.unit], places)
    return {
        "left": left,
        "uncertainty": doubt,
        "unit": last.unit,
        "words": f"To {to}: {whole} − {typed} = {left}{about} {last.unit}",
    }


def _break(before: Seen, after: Seen) -> str:
    if _stops(after):
        return f"{after.own['date']}: stop-hole drilled, a temporary measure; a new series begins."
    was, now = (one.own.get("method") or "no method" for one in (before, after))
    return f"{after.own['date']}: {now} in place of {was}; a new series begins."
