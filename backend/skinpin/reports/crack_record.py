"""A crack's record on its sheet: observation by observation, growth shown or not, and a plot."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from skinpin.domain.crack import crack
from skinpin.domain.errors import Refused
from skinpin.domain.photo_measure import AID
from skinpin.domain.quantities import TENTH_NM, to_tenth_nm
from skinpin.reports.drawing import Item, line, text
from skinpin.reports.words import printable, quantity_text

Observation = Mapping[str, Any]
FEWEST = 2
_WIDTH, _HEIGHT = 66.0, 40.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 11.0, 63.0, 4.5, 31.0
_STEPS = (1, 2, 5)


def crack_record(
    observations: Sequence[Observation], limit: Mapping[str, Any] | None, unit: str
) -> dict[str, Any] | None:
    """Return what the sheet shows of a crack; nothing of one that was measured only once.

    Its plot is in `unit`, that of the structure.
    """
    try:
        told = crack(observations, limit)
    except Refused as refused:
        return _unread(refused) if len(observations) >= FEWEST else None
    if len(observations) < FEWEST and not limit:
        return None
    rows = [
        _row(one, point) for one, point in zip(_by_day(observations), told["points"], strict=True)
    ]
    shown = "growth is shown" if told["growth_shown"] else "no growth is shown"
    facts = [told["left"]["words"] if told["left"] else "", _rate_words(told["rate"])]
    return {
        "title": f"Crack record: {_count(len(rows))}, {shown}",
        "rows": rows,
        "facts": [
            printable(each)
            for each in (
                *filter(None, facts),
                *told["breaks"],
                *_beside(_by_day(observations)),
                told["life"],
            )
        ],
        "plot": _plot(_by_day(observations), limit, unit),
    }


def _by_day(observations: Sequence[Observation]) -> list[Observation]:
    return sorted(observations, key=lambda one: str(one["date"]))


def _count(count: int) -> str:
    return f"{count} observation{'' if count == 1 else 's'}"


def _unread(refused: Refused) -> dict[str, Any]:
    words = f"The observations can't be read: {refused.message}"
    return {"title": "Crack record", "rows": [], "facts": [printable(words)], "plot": None}


def _row(one: Observation, point: Mapping[str, Any]) -> list[str]:
    method = printable(str(one.get("method") or "not said"))
    growth = [_growth(point[name]) for name in ("since_previous", "since_first")]
    return [str(one["date"]), printable(quantity_text(one["length"])), method, *growth]


def _growth(growth: Mapping[str, Any] | None) -> str:
    if growth is None:
        return "–"
    shown = growth["shown"]
    word = "can't be judged" if shown is None else "shown" if shown else "not shown"
    return f"{growth['growth']}, {word}"


def _beside(observations: Sequence[Observation]) -> list[str]:
    """Return what stood beside lengths from photographs when they were taken, by their days."""
    days: dict[str, list[str]] = {}
    for one in observations:
        if one.get("warnings"):
            days.setdefault(" ".join([f"{AID}.", *one["warnings"]]), []).append(str(one["date"]))
    return [f"{', '.join(some)}: {words}" for words, some in days.items()]


def _rate_words(rate: Mapping[str, Any] | None) -> str:
    return f"Rate over the last series: {rate['words']}." if rate else ""


# ---- the plot: lengths with their ± over days


class _Scales:
    """Where a day and a length lie on paper."""

    def __init__(self, days: Sequence[int], top: float) -> None:
        self.first, self.span = days[0], max(days[-1] - days[0], 1)
        self.top = top

    def x(self, day: int) -> float:
        return _LEFT + 3 + (day - self.first) / self.span * (_RIGHT - _LEFT - 6)

    def y(self, length: float) -> float:
        return _BOTTOM - length / self.top * (_BOTTOM - _TOP)


def _plot(
    observations: Sequence[Observation], limit: Mapping[str, Any] | None, unit: str
) -> dict[str, Any]:
    per_unit = TENTH_NM[unit]
    lengths = [to_tenth_nm(one["length"]) / per_unit for one in observations]
    sure = [_doubt(one, per_unit) for one in observations]
    end = to_tenth_nm(limit) / per_unit if limit else None
    highest = max([*(a + b for a, b in zip(lengths, sure, strict=True)), end or 0])
    step = _step(highest)
    scales = _Scales(
        [date.fromisoformat(one["date"]).toordinal() for one in observations],
        step * (int(highest / step) + 1),
    )
    days = [scales.x(date.fromisoformat(one["date"]).toordinal()) for one in observations]
    items = [*_axes(scales, step, unit), *_dates(observations, days)]
    if end is not None:
        items += _end(scales.y(end))
    items.append(line([(x, scales.y(y)) for x, y in zip(days, lengths, strict=True)], "thin"))
    for x, length, doubt in zip(days, lengths, sure, strict=True):
        items += _point(x, scales.y(length), scales.y(length - doubt), scales.y(length + doubt))
    return {"width": _WIDTH, "height": _HEIGHT, "items": items}


def _doubt(one: Observation, per_unit: int) -> float:
    given = one["length"].get("uncertainty")
    return to_tenth_nm(given) / per_unit if given else 0.0


def _step(highest: float) -> float:
    """Return the distance of ticks: 1, 2 or 5 times a power of ten, three to eight of them."""
    power = 1e-4
    while True:
        for each in _STEPS:
            if highest / (each * power) <= 6:
                return each * power
        power *= 10


def _axes(scales: _Scales, step: float, unit: str) -> list[Item]:
    items = [
        line([(_LEFT, _TOP - 1.5), (_LEFT, _BOTTOM), (_RIGHT, _BOTTOM)], "medium", colour="ink"),
        text(0, 2.2, f"LENGTH, {unit}", size=8.3, bold=True),
    ]
    for count in range(round(scales.top / step) + 1):
        y = scales.y(count * step)
        items.append(line([(_LEFT - 1, y), (_LEFT, y)], colour="ink"))
        items.append(text(_LEFT - 1.6, y + 1, f"{count * step:.4g}", size=8.3, anchor="end"))
    return items


def _dates(observations: Sequence[Observation], days: Sequence[float]) -> list[Item]:
    """Name the days there is room for, the last one before any other."""
    named: list[tuple[float, str]] = [(days[-1], str(observations[-1]["date"]))]
    for x, one in zip(days, observations, strict=True):
        if all(abs(x - other) >= 17.5 for other, _ in named):
            named.append((x, str(one["date"])))
    ticks = [line([(x, _BOTTOM), (x, _BOTTOM + 1)], colour="ink") for x in days]
    right = _WIDTH - 8.2
    words = [
        text(min(max(x, 8.2), right), _BOTTOM + 4.6, name, size=8.3, anchor="middle")
        for x, name in named
    ]
    return [*ticks, *words]


def _end(y: float) -> list[Item]:
    return [
        line([(_LEFT, y), (_RIGHT, y)], "thin", "chain", "ink"),
        text(_RIGHT, y - 0.8, "next hole or edge", size=8.3, anchor="end", colour="ink2"),
    ]


def _point(x: float, y: float, low: float, high: float) -> list[Item]:
    """A cross with the reach of its ±; no line goes on beyond the last one."""
    ends = [line([(x - 1, each), (x + 1, each)], colour="ink") for each in (low, high)]
    cross = [
        line([(x - 1.1, y - 1.1), (x + 1.1, y + 1.1)], "medium", colour="ink"),
        line([(x - 1.1, y + 1.1), (x + 1.1, y - 1.1)], "medium", colour="ink"),
    ]
    return [line([(x, low), (x, high)], colour="ink"), *ends, *cross]
