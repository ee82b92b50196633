"""What a rivet line may carry in shear, as whole figures, and which share of it is left.

A load is counted in parts of a pound that make every load a whole number: π is taken to twenty
decimals and lengths to 0.1 nm, so that shares are exact wherever bearing doesn't govern, for then
π falls out.
"""

from collections.abc import Sequence

from skinpin.domain.quantities import rounded_text
from skinpin.domain.rivet_line_holes import Hole, Read, Rivet
from skinpin.domain.rivet_line_sizes import INCH, alloy_of, fraction_tenth_nm, hole_tenth_nm

PI, ONE = 314159265358979323846, 10**20
PARTS_OF_POUND = 4 * ONE * INCH**2
WINDOW = 6
EFFECTIVE = frozenset("SRV")
Loads = Sequence[tuple[int, int]]
"""For each hole what it carries and what it was designed to carry."""


def load_of(rivet: Rivet, sheets: Sequence[int], line: Read) -> int:
    """Return what one rivet may carry: the lower of shear and, where it is known, bearing."""
    strength = int(alloy_of(rivet.alloy)["shear"][line.basis]["f_su_psi"])
    by_hole = line.basis == "hole"
    size = hole_tenth_nm(rivet.diameter) if by_hole else fraction_tenth_nm(rivet.diameter)
    shear = strength * PI * size**2 * line.planes
    if line.f_bru_psi is None:
        return shear
    return min(shear, line.f_bru_psi * 4 * ONE * size * min(sheets))


def pounds(load: int) -> str:
    """Return a load in whole pounds, half up."""
    return rounded_text(load, PARTS_OF_POUND, 0)


def loads_of(line: Read, found: bool, not_reached: bool = False) -> list[tuple[int, int]]:
    """Return what the holes carry, as found or now; holes not reached carry nothing unless told."""
    return [
        _loads(hole, line, hole.found if found else hole.now, not_reached) for hole in line.holes
    ]


def _loads(hole: Hole, line: Read, state: str, not_reached: bool) -> tuple[int, int]:
    designed = load_of(hole.designed, hole.sheets, line)
    if state == "N":
        return (designed if not_reached else 0), designed
    if state not in EFFECTIVE:
        return 0, designed
    rivet = hole.designed if state == "S" else hole.fitted(state)
    return load_of(rivet, hole.sheets, line), designed


def share(loads: Loads) -> str:
    """Return the share of the designed load that is left, in percent."""
    return share_text(sum(one for one, _ in loads), sum(designed for _, designed in loads))


def share_text(part: int, whole: int) -> str:
    """Return a percentage to 0.1, finer where that would round it up to a whole percent.

    A limit is a whole percent, so a share under one never reads as reaching it.

    >>> share_text(31, 48), share_text(7496, 10000)
    ('64.6', '74.96')
    """
    below = part * 100 // whole
    for places in range(1, 7):
        text = rounded_text(part * 100, whole, places)
        if int(text.partition(".")[0]) == below:
            return text
    return f"{below}.999999"


def worst_in_row(loads: Loads) -> dict[str, int | str]:
    """Return the first six in a row (all, where there are fewer) that have the least share left."""
    size = min(WINDOW, len(loads))
    best, best_at = (1, 0), 0
    for at in range(len(loads) - size + 1):
        window = loads[at : at + size]
        part, whole = sum(one for one, _ in window), sum(designed for _, designed in window)
        if best[1] == 0 or part * best[1] < best[0] * whole:
            best, best_at = (part, whole), at
    return {"percent": share_text(*best), "from": best_at + 1, "to": best_at + size}


def thin_sheet(line: Read) -> list[int]:
    """Return the holes whose thinnest sheet is under 0.18 D, where shear has to be reduced."""
    return [
        hole.at
        for hole in line.holes
        if 100 * min(hole.sheets) < 18 * fraction_tenth_nm(hole.designed.diameter)
    ]
