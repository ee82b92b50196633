"""What the rivet lines linked to a defect give its grade to read: shear share and run, as found.

The share is the low figure, in which a hole not reached carries nothing, for that is what the
limits of a standard are laid on. A run is only what is confirmed: one that holes not reached may
lengthen leaves the grade open.
"""

from collections.abc import Iterator, Mapping
from itertools import islice, product
from typing import Any, NamedTuple

from skinpin.domain.errors import Refused
from skinpin.domain.grading import Compiled, Grading, Standard
from skinpin.domain.grading_doubt import grade_with_doubt
from skinpin.domain.grading_figures import NOT_MEASURED
from skinpin.domain.grading_worst import MOST_TRIED, opened, raises
from skinpin.domain.quantities import MILLION, scaled
from skinpin.domain.rivet_line_holes import Line, read_line
from skinpin.domain.rivet_line_shear import loads_of, share
from skinpin.domain.rivet_line_states import STATES, longest_run
from skinpin.domain.values import Values, differing

SHARE, RUN = "shear_share_percent", "run"
UNREAD = "cannot be worked out"
"""Stands for the share of a line that is linked but can't be read: it keeps its rows open."""
KIND = "rivet_line"
Given = dict[str, list[Any]]


class Reading(NamedTuple):
    """What one line says as found: its share (None where it can't be read), confirmed run, run."""

    share: str | None
    run: int
    possible: int


def grade_with_lines(
    values: Values, lines: Mapping[str, Values], standard: Standard | Compiled
) -> Grading:
    """Return the worst grade of what stands of a record and of the rivet lines that name it."""
    given = line_inputs(lines)
    if not given:
        return grade_with_doubt(values, standard)
    run, *longer = given[RUN]
    grading = grade_with_doubt(_joined(values, {**given, RUN: [run]}), standard)
    for possible in longer:
        longest = grade_with_doubt(_joined(values, {**given, RUN: [possible]}), standard)
        if raises(grading, longest):
            grading = opened(grading, longest, (RUN,))
    return grading


def line_inputs(lines: Mapping[str, Values]) -> Given:
    """Return by field what the lines give grading to read: of all that stands the worst.

    The least share, and `UNREAD` beside it where one can't be worked out; the longest run that is
    confirmed, and after it the longest possible one where that is longer. Lines without holes give
    nothing.
    """
    readings = [one for values in lines.values() for one in _readings(values)]
    if not readings:
        return {}
    shares: list[Any] = sorted((one.share for one in readings if one.share), key=_parts)[:1]
    if any(one.share is None for one in readings):
        shares.append(UNREAD)
    run = max(one.run for one in readings)
    possible = max(one.possible for one in readings)
    return {SHARE: shares, RUN: [run, possible] if possible > run else [run]}


def _parts(share_text: str) -> int:
    return scaled(share_text, MILLION) or 0


def _readings(values: Values) -> Iterator[Reading]:
    """Read every combination of the values that stand of a line, if its holes are there."""
    fields = [differing(KIND, values, f) for f in ("design", "as_found", "holes")]
    choices = [some or [None] for some in fields]
    count = len(choices[0]) * len(choices[1]) * len(choices[2])
    for design, found, holes in islice(product(*choices), MOST_TRIED):
        if found is not None and found != "":
            yield _reading(design, found, holes)
    if count > MOST_TRIED:
        yield Reading(None, 0, 0)


def _reading(design: Any, found: Any, holes: Any) -> Reading:
    if not isinstance(found, str) or any(state not in STATES for state in found):
        return Reading(None, 0, 0)
    run = longest_run(found)["length"] or 0
    possible = longest_run(found, not_reached=True)["length"] or 0
    try:
        return Reading(
            share(loads_of(read_line(_line(design, found, holes)), found=True)), run, possible
        )
    except (Refused, LookupError, TypeError, ValueError, AttributeError):
        # A record may hold anything; what can't be read keeps the grade open.
        return Reading(None, run, possible)


def _line(design: Any, found: str, holes: Any) -> Line:
    """Return as much of a line as its share hangs on."""
    planes = design.get("planes")
    if planes is not None and (type(planes) is not int or planes < 1):
        raise ValueError(planes)
    own = {at: _hole(hole) for at, hole in ({} if holes is None else holes).items()}
    texts = {name: _text(design, name) for name in ("head", "basis", "f_bru_psi")}
    return {
        **_rivet(design),
        **texts,
        "planes": planes,
        "sheets": _sheets(design),
        "as_found": found,
        "as_now": found,
        "holes": own,
    }


def _hole(hole: Any) -> dict[str, Any]:
    fitted = hole.get("fitted")
    given = {} if fitted is None else {k: v for k, v in _rivet(fitted).items() if v}
    return {**_rivet(hole), "sheets": _sheets(hole), **({"fitted": given} if given else {})}


def _rivet(given: Any) -> dict[str, str | None]:
    return {name: _text(given, name) for name in ("diameter", "alloy")}


def _text(given: Any, name: str) -> str | None:
    value = given.get(name)
    if value is not None and not isinstance(value, str):
        raise ValueError(name)
    return value


def _sheets(given: Any) -> list[Any]:
    sheets = given.get("sheets")
    if sheets is not None and not isinstance(sheets, list):
        raise ValueError(sheets)
    return sheets or []


def _joined(values: Values, given: Given) -> Values:
    """Put what lines say beside what was typed; where nothing was, theirs stands alone."""
    own = {
        id: {
            field: value
            for field, value in fields.items()
            if field not in given or value not in (None, NOT_MEASURED)
        }
        for id, fields in values.items()
    }
    added = {
        f"{KIND} {field} {at}": {field: value}
        for field, some in given.items()
        for at, value in enumerate(some)
    }
    return {**own, **added}
