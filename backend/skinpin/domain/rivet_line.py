"""The survey of a rivet line: how bad, what size next, what to draw from stores.

A sorting aid: the share is worked out from catalogue strengths, whose basis is named with it, and
a size that fails a check is for the design authority, who alone chooses another way.
"""

from collections.abc import Mapping
from typing import Any

from skinpin.domain.rivet_line_decisions import (
    MEASURE,
    OVERSIZE,
    REFER,
    Decision,
    decide,
    demand,
    pitch_notes,
    thumb_note,
)
from skinpin.domain.rivet_line_holes import Line, Read, Rivet, read_line
from skinpin.domain.rivet_line_shear import (
    load_of,
    loads_of,
    pounds,
    share,
    thin_sheet,
    worst_in_row,
)
from skinpin.domain.rivet_line_sizes import LIMITS, ORDER, alloy_of, oversize_allowed
from skinpin.domain.rivet_line_states import counts_of, longest_run, not_effective

MOST_ADJACENT = 2


def rivet_line(line: Line) -> dict[str, Any]:
    """Return what a rivet line comes to, as found and now.

    Parameters
    ----------
    line
        `as_found`, `as_now` (a letter a hole), `diameter`, `alloy`, `head` (code), `sheets`
        [{"thickness"}]; may have `pitch`, `edge`, `row_spacing`, `planes`, `basis` ("hole" or
        "rivet"), `f_bru_psi`, `fit_allowance`, `spare_percent`, `half_sizes`, and `holes` by
        number: `major`, `minor`, `edge`, `sheets`, `diameter` and `alloy` as designed, `fitted`.

    Raises
    ------
    Refused
        A state, size, alloy, head or figure is none, or the holes found and now differ.
    """
    read = read_line(line)
    decisions = decide(read)
    return {
        "holes": len(read.holes),
        "as_found": _condition(read, found=True),
        "as_now": _condition(read, found=False),
        "allowable": _allowable(read, decisions),
        "bearing": "bearing not checked"
        if read.f_bru_psi is None
        else "lower of shear and bearing",
        "decisions": [_shown(one) for one in decisions],
        "demand": demand(decisions, read),
        "held": [one.hole for one in decisions if one.result in (REFER, MEASURE)],
        "not_reached": [hole.at for hole in read.holes if hole.now == "N"],
        "warnings": _warnings(read, decisions),
    }


def _condition(line: Read, found: bool) -> dict[str, Any]:
    states = "".join(hole.found if found else hole.now for hole in line.holes)
    low, high = loads_of(line, found), loads_of(line, found, not_reached=True)
    return {
        "counts": counts_of(states),
        "not_effective": len(not_effective(states)),
        "run": longest_run(states),
        "possible_run": longest_run(states, not_reached=True),
        "share": {"low": share(low), "high": share(high)},
        "worst_six": worst_in_row(low),
        "heads_off": "T" in states,
    }


def _allowable(line: Read, decisions: list[Decision]) -> list[Mapping[str, Any]]:
    """Return the allowable load of each rivet that is in the line or goes into it."""
    used = {hole.designed: hole for hole in line.holes}
    used |= {hole.fitted(hole.now): hole for hole in line.holes if hole.now in "RV"}
    for one in decisions:
        if one.diameter:
            hole = line.holes[one.hole - 1]
            used[Rivet(one.diameter, hole.designed.alloy)] = hole
    return [
        {
            "diameter": rivet.diameter,
            "alloy": rivet.alloy,
            "pounds": pounds(load_of(rivet, hole.sheets, line)),
            "basis": alloy_of(rivet.alloy)["shear"][line.basis]["basis"],
        }
        for rivet, hole in sorted(
            used.items(), key=lambda pair: (pair[0].alloy, ORDER.index(pair[0].diameter))
        )
    ]


def _shown(one: Decision) -> dict[str, Any]:
    return {**one._asdict(), "checks": [check._asdict() for check in one.checks]}


def _warnings(line: Read, decisions: list[Decision]) -> list[str]:
    told: list[str] = []
    for hole in line.holes:
        told += pitch_notes(line, hole.designed.diameter)
    told += [
        note for hole in line.holes if (note := thumb_note(hole.sheets, hole.designed.diameter))
    ]
    told += [
        note
        for one in decisions
        if one.diameter and (note := thumb_note(line.holes[one.hole - 1].sheets, one.diameter))
    ]
    thin = thin_sheet(line)
    if thin:
        told.append(f"Sheet under 0.18 D at hole {thin[0]}: reduction for thin sheet not checked.")
    return [*dict.fromkeys(told), *_oversize_warnings(line, decisions)]


def _oversize_warnings(line: Read, decisions: list[Decision]) -> list[str]:
    chosen = {one.hole for one in decisions if one.result == OVERSIZE}
    marks = "".join("V" if h.now == "V" or h.at in chosen else "-" for h in line.holes)
    count, most = marks.count("V"), oversize_allowed(len(line.holes))
    source = LIMITS["oversize"]["source"]
    told = []
    if count > most:
        told.append(f"{count} oversize of {len(line.holes)}; {source} has {most} at most.")
    if "V" * (MOST_ADJACENT + 1) in marks:
        told.append(f"More than {MOST_ADJACENT} oversize side by side; {source} asks for more.")
    return told
