"""Cells that nobody looked at: hatched, crossed where they were blocked, and saying so."""

from collections.abc import Sequence
from typing import NamedTuple

from skinpin.reports.drawing import Item, line, text
from skinpin.reports.lettering import width_mm
from skinpin.reports.mark_places import Box, overlap

_HATCH_MM = 1.85
_PT, _LINE_MM, _ASIDE_MM = 8.3, 3.6, 1.2
_KEY_MM = (5.5, 3.2)
UNSEEN, BLOCKED = "not looked at", "blocked, reason beside"


class _Form(NamedTuple):
    """Words in lines, or upright, with the room that they take in millimetres."""

    lines: tuple[str, ...]
    upright: bool
    wide: float
    high: float


def hatched_cells(
    plain: Sequence[Box], stopped: Sequence[Box], spots: Sequence[Box]
) -> tuple[list[Item], list[Box]]:
    """Return cells hatched and crossed with their words, and what those words cover.

    Parameters
    ----------
    plain, stopped
        Cells not looked at, and cells blocked: left, top, right, bottom in millimetres.
    spots
        What marks cover; a block of cells bears its words once, clear of them.
    """
    hatches = [item for box in (*plain, *stopped) for item in hatch(*box)]
    crosses = [item for box in stopped for item in hatch(*box, falling=True)]
    words: list[Item] = []
    taken: list[Box] = []
    for boxes, forms in ((plain, _UNSEEN), (stopped, _BLOCKED)):
        for block in _blocks(boxes):
            form = next((each for each in forms if _holds(block, each)), None)
            if form:
                box = _place_in(block, form, [*spots, *taken])
                taken.append(box)
                words += _words(box, form)
    return [*hatches, *crosses, *words], taken


def hatch_key(x: float, y: float, plain: Sequence[Box], stopped: Sequence[Box]) -> list[Item]:
    """Return what the hatches mean, where one was blocked or has no room to say it."""
    unsaid = [box for box in _blocks(plain) if not any(_holds(box, form) for form in _UNSEEN)]
    told = [(UNSEEN, False)] if plain and (stopped or unsaid) else []
    told += [(BLOCKED, True)] if stopped else []
    items: list[Item] = []
    for words, is_crossed in told:
        wide, high = _KEY_MM
        box = (x, y - high + 0.4, x + wide, y + 0.4)
        frame = [(box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3])]
        items += [*hatch(*box), *(hatch(*box, falling=True) if is_crossed else [])]
        items += [line(frame, closed=True), text(x + wide + 1.5, y - 0.1, words, size=_PT)]
        x += wide + 1.5 + width_mm(words, _PT) + 4
    return items


def hatch(
    left: float, top: float, right: float, bottom: float, *, falling: bool = False
) -> list[Item]:
    """Return lines of 45 degrees over a box, rising to the right or falling."""
    items = []
    height = bottom - top
    count = int((right - left + height) / _HATCH_MM) + 1
    for i in range(1, count + 1):
        start = left - height + i * _HATCH_MM
        a, b = max(start, left), min(start + height, right)
        if b > a:
            ends = [(a, bottom - (a - start)), (b, bottom - (b - start))]
            turned = [(x, top + bottom - y) for x, y in ends]
            items.append(line(turned if falling else ends, colour="line2"))
    return items


# ---- their words


def _form(*lines: str, upright: bool = False) -> _Form:
    long = max(width_mm(each, _PT, bold=True) for each in lines) + 2 * _ASIDE_MM
    high = _LINE_MM * len(lines) + 0.6
    return _Form(lines, upright, high if upright else long, long if upright else high)


_UNSEEN = (
    _form("NOT LOOKED AT"),
    _form("NOT", "LOOKED AT"),
    _form("NOT LOOKED AT", upright=True),
)
_BLOCKED = (_form("BLOCKED"), _form("BLOCKED", upright=True))


def _holds(block: Box, form: _Form) -> bool:
    left, top, right, bottom = block
    return right - left >= form.wide and bottom - top >= form.high


def _place_in(block: Box, form: _Form, spots: Sequence[Box]) -> Box:
    """Return where words stand in a block: in its middle, or aside where marks lie."""
    left, top, right, bottom = block
    across, down = (right - left - form.wide) / 2, (bottom - top - form.high) / 2
    x, y = (left + right) / 2, (top + bottom) / 2
    places = [
        (
            x + dx - form.wide / 2,
            y + dy - form.high / 2,
            x + dx + form.wide / 2,
            y + dy + form.high / 2,
        )
        for dx in _offsets(across)
        for dy in _offsets(down)
    ]
    clear = (place for place in places if not any(overlap(place, spot) for spot in spots))
    return next(clear, places[0])


def _offsets(most: float) -> list[float]:
    """Return how far words may stand off the middle, the nearest first."""
    steps = int(most / 2)
    return [0.0, *(side * step * 2.0 for step in range(1, steps + 1) for side in (-1, 1))]


def _words(box: Box, form: _Form) -> list[Item]:
    """Return words on their ground."""
    left, top, right, bottom = box
    ground = [(left, top), (right, top), (right, bottom), (left, bottom)]
    x, y = (left + right) / 2, (top + bottom) / 2
    first = y - _LINE_MM * (len(form.lines) - 1) / 2 + (0 if form.upright else 1.1)
    return [
        line(ground, "thin", colour="white", closed=True, fill="white"),
        *(
            text(
                x + (1.1 if form.upright else 0),
                first + _LINE_MM * at,
                words,
                size=_PT,
                bold=True,
                anchor="middle",
                turned=form.upright,
            )
            for at, words in enumerate(form.lines)
        ),
    ]


# ---- blocks of cells


def _blocks(boxes: Sequence[Box]) -> list[Box]:
    """Join neighbouring cells into blocks: first along a bay, then bay to bay."""
    return _join(_join(sorted(boxes), upright=True), upright=False)


def _join(boxes: Sequence[Box], *, upright: bool) -> list[Box]:
    joined: list[Box] = []
    for box in sorted(boxes, key=lambda b: (b[0], b[1]) if upright else (b[1], b[0])):
        last = joined[-1] if joined else None
        if last and upright and last[::2] == box[::2] and abs(last[3] - box[1]) < 1e-6:
            joined[-1] = (last[0], last[1], last[2], box[3])
        elif last and not upright and last[1::2] == box[1::2] and abs(last[2] - box[0]) < 1e-6:
            joined[-1] = (last[0], last[1], box[2], last[3])
        else:
            joined.append(box)
    return joined
