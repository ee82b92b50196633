"""What each hole takes next, checked for edge, pitch and rows, and what stores must give."""

from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from skinpin.domain.quantities import TENTH_NM, rounded_text, to_millionths, to_tenth_nm
from skinpin.domain.rivet_line_holes import Hole, Read
from skinpin.domain.rivet_line_sizes import (
    ORDER,
    fraction_tenth_nm,
    hole_tenth_nm,
    next_larger,
    stock_length,
)
from skinpin.domain.rivet_line_states import NOT_EFFECTIVE

SAME, OVERSIZE = "renew same size", "renew oversize"
REFER, MEASURE = "refer to design authority", "measure first"
PLACES = {"in": 3, "mm": 2}
FINER = 4
MILLION = 1_000_000


class Check(NamedTuple):
    """One check of a size: what was checked, whether it holds (None: not measured), in words."""

    check: str
    holds: bool | None
    words: str


class Decision(NamedTuple):
    """What a hole takes: its size, why, the checks; unmeasured holes may change once drilled."""

    hole: int
    result: str
    diameter: str | None
    measured: bool
    words: str
    checks: tuple[Check, ...]


def decide(line: Read) -> list[Decision]:
    """Return a decision for each hole that is not effective now."""
    return [_decide(hole, line) for hole in line.holes if hole.now in NOT_EFFECTIVE]


def _decide(hole: Hole, line: Read) -> Decision:
    diameter, words = _size(hole, line)
    is_measured = hole.widest is not None
    if diameter is None:
        return Decision(hole.at, REFER, None, is_measured, words, ())
    checks = size_checks(diameter, line, hole.edge)
    is_same = diameter == hole.designed.diameter
    result = SAME if is_same else OVERSIZE
    if any(check.holds is False for check in checks):
        result = REFER
    elif not is_same and any(check.holds is None for check in checks):
        result = MEASURE
    return Decision(hole.at, result, diameter, is_measured, words, checks)


def _size(hole: Hole, line: Read) -> tuple[str | None, str]:
    """Return the size a hole takes, and why."""
    own = hole.designed.diameter
    if hole.widest is None:
        return own, f"not measured: {own} until drilled and measured"
    widest, unit = to_tenth_nm(hole.widest), hole.widest["unit"]
    typed, keeps = hole.widest["value"], hole_tenth_nm(own) + line.fit_allowance
    limit = _limit(keeps, unit, widest)
    if widest <= keeps:
        return own, f"{typed} ≤ {limit}: keep {own}"
    for size in ORDER[ORDER.index(own) + 1 :]:
        if widest <= hole_tenth_nm(size) + line.fit_allowance:
            nominal = _limit(hole_tenth_nm(size), unit)
            return size, f"{typed} > {limit}: {size}, hole {nominal}{_skips(own, size)}"
    return None, f"{typed} > {limit}: no size in the catalogue is large enough"


def _skips(own: str, size: str) -> str:
    step = next_larger(own)
    is_more = fraction_tenth_nm(size) > fraction_tenth_nm(step)
    return f"; more than one step, which is {step}" if is_more else ""


def size_checks(diameter: str, line: Read, edge: Mapping[str, Any] | None) -> tuple[Check, ...]:
    """Return the checks of a size against edge, pitch and, where there are rows, their spacing."""
    edges = ("2.5 D", 5) if line.flush else ("2 D", 4)
    checks = [_at_least("edge", edge, diameter, *edges)]
    checks.append(_at_least("pitch", line.pitch, diameter, "3 D", 6))
    if line.row_spacing:
        checks.append(_at_least("row spacing", line.row_spacing, diameter, "2.5 D", 5))
    return tuple(checks)


def _at_least(
    check: str, measured: Mapping[str, Any] | None, diameter: str, times: str, halves: int
) -> Check:
    if not measured:
        return Check(check, None, f"{check} not measured")
    length, limit = to_tenth_nm(measured), halves * fraction_tenth_nm(diameter) // 2
    sign = "≥" if length >= limit else "<"
    shown = _limit(limit, measured["unit"], length)
    return Check(check, length >= limit, f"{check} {measured['value']} {sign} {times} {shown}")


def _limit(limit: int, unit: str, measured: int | None = None) -> str:
    """Return a limit as text, finer where rounding would turn the comparison about."""
    text = rounded_text(limit, TENTH_NM[unit], PLACES[unit])
    shown = to_tenth_nm({"value": text, "unit": unit})
    if measured is None or _order_of(measured, limit) == _order_of(measured, shown):
        return text
    return rounded_text(limit, TENTH_NM[unit], PLACES[unit] + FINER).rstrip("0")


def _order_of(a: int, b: int) -> int:
    return (a > b) - (a < b)


def pitch_notes(line: Read, diameter: str) -> list[str]:
    """Return what is unusual about the pitch: under 4 D or over 8 D."""
    if not line.pitch:
        return []
    length, size = to_tenth_nm(line.pitch), fraction_tenth_nm(diameter)
    times = [("<", 4, length < 4 * size), (">", 8, length > 8 * size)]
    return [
        f"Pitch {line.pitch['value']} {sign} {count} D "
        f"{_limit(count * size, line.pitch['unit'], length)}, which is seldom."
        for sign, count, is_so in times
        if is_so
    ]


def thumb_note(sheets: Iterable[int], diameter: str) -> str | None:
    """Return the warning of the rule of thumb: a diameter of one to three thickest sheets."""
    thickest, size = max(sheets), fraction_tenth_nm(diameter)
    if thickest <= size <= 3 * thickest:
        return None
    how = "thinner than" if size < thickest else "more than three times"
    return f"A {diameter} rivet is {how} its thickest sheet, {_limit(thickest, 'in')} in."


def demand(decisions: Iterable[Decision], line: Read) -> list[dict[str, Any]]:
    """Return the rivets to draw by head, alloy, diameter and length, with spares."""
    bundles: dict[tuple[str, str, str], list[int]] = {}
    for one in decisions:
        if one.result in (SAME, OVERSIZE) and one.diameter:
            hole = line.holes[one.hole - 1]
            length = stock_length(sum(hole.sheets), one.diameter, line.half_sizes)
            bundles.setdefault((hole.designed.alloy, one.diameter, length), []).append(one.hole)
    spare = 100 * MILLION + to_millionths(line.spare_percent)
    return [
        {
            "head": line.head,
            "alloy": alloy,
            "diameter": diameter,
            "length": length,
            "holes": holes,
            "count": -(-len(holes) * spare // (100 * MILLION)),
        }
        for (alloy, diameter, length), holes in sorted(bundles.items(), key=_order)
    ]


def _order(bundle: tuple[tuple[str, str, str], list[int]]) -> tuple[str, int, int]:
    alloy, diameter, _ = bundle[0]
    return alloy, ORDER.index(diameter), bundle[1][0]
