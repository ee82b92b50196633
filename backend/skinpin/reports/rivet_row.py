"""A rivet line on the sheet of its defect: hole by hole as found and as now, share, next sizes."""

from collections.abc import Mapping, Sequence
from typing import Any

from skinpin.domain.errors import Refused
from skinpin.domain.rivet_line import rivet_line
from skinpin.domain.rivet_line_states import NOT_EFFECTIVE, STATES
from skinpin.reports.drawing import Item, line, text
from skinpin.reports.rivet_heads import head_svg
from skinpin.reports.words import is_figure, marker_words, printable, quantity_text

Line = Mapping[str, Any]
HOLES_A_ROW = 24
_WIDTH, _LEFT, _PITCH, _HEAD = 172.0, 17.0, 6.4, 4.4
_ROW_MM, _NUMBERS_MM = 12.8, 4.0
_FEWEST_BRACKETED = 2


def rivet_row(recorded: Line) -> dict[str, Any]:
    """Return what the sheet shows of a rivet line.

    Parameters
    ----------
    recorded
        `name`, `line` (as `domain/rivet_line` takes it) and `along`, the words of where it runs.
    """
    name = printable(str(recorded.get("name") or "without a name"))
    try:
        told = rivet_line(recorded["line"])
    except (Refused, KeyError, TypeError, AttributeError) as error:
        reason = error.message if isinstance(error, Refused) else "a part of it is missing."
        words = printable(f"It can't be worked out: {reason}")
        return {"title": f"Rivet line {name}", "along": "", "lines": [words], "rows": []}
    found, now = recorded["line"]["as_found"], recorded["line"]["as_now"]
    return {
        "title": f"Rivet line {name}",
        "along": printable(str(recorded.get("along") or "")),
        "lines": [printable(_design(recorded, told))],
        "rows": [_row(found, now, first) for first in range(0, len(found), HOLES_A_ROW)],
        "key": _key(found + now),
        "condition": _condition(told),
        "decisions": _decisions(told["decisions"]),
        "notes": [printable(each) for each in _notes(told)],
    }


def _design(recorded: Line, told: Mapping[str, Any]) -> str:
    design = recorded["line"]
    head = f", head {design['head']}" if design.get("head") else ""
    pitch = f", pitch {quantity_text(design['pitch'])}" if is_figure(design.get("pitch")) else ""
    sheets = " + ".join(quantity_text(one["thickness"]) for one in design["sheets"])
    words = f"{told['holes']} holes, {design['diameter']} {design['alloy']}{head}{pitch}"
    return f"{words}, through {sheets}."


# ---- hole by hole


def _row(found: str, now: str, first: int) -> dict[str, Any]:
    last = min(first + HOLES_A_ROW, len(found))
    items: list[Item] = [
        text(_x(at - first), 2.6, str(at + 1), size=8.3, anchor="middle", colour="ink2")
        for at in range(first, last)
    ]
    for states, words, top in (
        (found, "as found", _NUMBERS_MM),
        (now, "as now", _NUMBERS_MM + _ROW_MM),
    ):
        items += _states(states, first, last, top)
        items.append(text(0, top + 3.4, words, size=9, bold=True))
    return {"width": _WIDTH, "height": _NUMBERS_MM + 2 * _ROW_MM, "items": items}


def _x(at: int) -> float:
    return _LEFT + _PITCH * (at + 0.5)


def _states(states: str, first: int, last: int, top: float) -> list[Item]:
    middle = top + _HEAD / 2
    axis = [(_LEFT, middle), (_LEFT + _PITCH * (last - first), middle)]
    items: list[Item] = [line(axis, "thin", "chain", "line2")]
    for at in range(first, last):
        head = head_svg(states[at], _x(at - first), middle, _HEAD)
        items.append({"what": "shape", "svg": head})
        letter = text(_x(at - first), top + 8.0, states[at], size=8.3, anchor="middle", bold=True)
        items.append(letter)
    for start, end in _runs(states):
        items += _bracket(start, end, first, last, top + 9.0)
    return items


def _runs(states: str) -> list[tuple[int, int]]:
    """Return the runs of holes not effective, as half-open ranges counted from nought."""
    runs, start = [], None
    for at, state in enumerate([*states, "S"]):
        if state in NOT_EFFECTIVE and start is None:
            start = at
        elif state not in NOT_EFFECTIVE and start is not None:
            runs.append((start, at))
            start = None
    return [(a, b) for a, b in runs if b - a >= _FEWEST_BRACKETED]


def _bracket(start: int, end: int, first: int, last: int, y: float) -> list[Item]:
    """Bracket the part of a run that is on this row; the count is of all of the run."""
    a, b = max(start, first), min(end, last)
    if a >= b:
        return []
    left, right = _x(a - first) - _PITCH * 0.4, _x(b - 1 - first) + _PITCH * 0.4
    ends = [(left, y)] * (a == start), [(right, y)] * (b == end)
    points = [*ends[0], (left, y + 1), (right, y + 1), *ends[1]]
    count = text((left + right) / 2, y + 3.2, str(end - start), size=8.3, anchor="middle")
    return [line(points, "medium", colour="ink"), *([count] if a == start else [])]


def _key(states: str) -> str:
    words = [f"{letter} {word}" for letter, word in STATES.items() if letter in states]
    return f"{' · '.join(words)}. Bracketed: so many in a row not effective."


# ---- what it comes to


def _condition(told: Mapping[str, Any]) -> list[list[str]]:
    both = (told["as_found"], told["as_now"])

    def row(label: str, words: Any) -> list[str]:
        return [label, *(words(one) for one in both)]

    return [
        row("holes by state", lambda one: ", ".join(f"{n} {s}" for s, n in one["counts"].items())),
        row("not effective", lambda one: str(one["not_effective"])),
        row("longest run", lambda one: _run(one["run"])),
        row("longest run, if those not reached are bad", lambda one: _run(one["possible_run"])),
        row("shear share left", lambda one: _share(one["share"])),
        row("worst six in a row", lambda one: _worst(one["worst_six"])),
    ]


def _run(run: Mapping[str, Any]) -> str:
    if not run["length"]:
        return "none"
    if run["length"] == 1:
        return f"1 (hole {run['from']})"
    return f"{run['length']} (holes {run['from']}–{run['to']})"


def _share(share: Mapping[str, str]) -> str:
    low, high = share["low"], share["high"]
    return f"{low} %" if low == high else f"{low}–{high} %"


def _worst(worst: Mapping[str, Any] | None) -> str:
    if not worst:
        return "–"
    return f"{worst['percent']} % (holes {worst['from']}–{worst['to']})"


def _decisions(decisions: Sequence[Mapping[str, Any]]) -> list[list[str]]:
    """Return the holes that take the same in one row, in the order of the first of them."""
    bundles: dict[tuple[str, ...], list[int]] = {}
    for one in decisions:
        checks = ", ".join(
            f"{check['words']}{'' if check['holds'] else _holds_words(check['holds'])}"
            for check in one["checks"]
        )
        bundles.setdefault((one["words"], checks, one["result"]), []).append(one["hole"])
    return [
        [", ".join(map(str, holes)), *(printable(each) for each in told)]
        for told, holes in bundles.items()
    ]


def _holds_words(holds: bool | None) -> str:
    return " (not measured)" if holds is None else " (does not hold)"


def _notes(told: Mapping[str, Any]) -> list[str]:
    demand = "; ".join(
        f"{one['count']} of {one['diameter']} × {one['length']} {one['head']} {one['alloy']}"
        for one in told["demand"]
    )
    held, missed = (", ".join(map(str, told[name])) for name in ("held", "not_reached"))
    strengths = "; ".join(
        f"{one['diameter']} {one['alloy']} {one['pounds']} lb ({_basis(one['basis'])})"
        for one in told["allowable"]
    )
    return [
        *([f"Demand with spares: {demand}."] if demand else []),
        *([f"Held: hole {held}."] if held else []),
        *([f"Not reached: hole {missed}."] if missed else []),
        f"Share by {strengths}; {told['bearing']}.",
        *told["warnings"],
    ]


def _basis(basis: Mapping[str, Any]) -> str:
    told = (basis.get("source"), marker_words(basis.get("marker")))
    return ", ".join(str(each) for each in told if each)
