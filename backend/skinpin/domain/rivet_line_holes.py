"""A rivet line as recorded, read into whole figures."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

from skinpin.domain.errors import Refused
from skinpin.domain.quantities import scaled, to_tenth_nm
from skinpin.domain.rivet_line_sizes import (
    HEADS,
    LIMITS,
    ORDER,
    alloy_of,
    inches_tenth_nm,
    size_of,
)
from skinpin.domain.rivet_line_states import check_states

Line = Mapping[str, Any]


class Rivet(NamedTuple):
    """A size and an alloy."""

    diameter: str
    alloy: str


class Hole(NamedTuple):
    """One hole: states, rivet as designed and as the record says of a renewed one, measures."""

    at: int
    found: str
    now: str
    designed: Rivet
    given: Rivet | None
    widest: Mapping[str, Any] | None
    edge: Mapping[str, Any] | None
    sheets: tuple[int, ...]

    def fitted(self, state: str) -> Rivet:
        """Return what was put in; where nobody says, oversize is the next size in the catalogue."""
        if self.given or state != "V":
            return self.given or self.designed
        after = min(ORDER.index(self.designed.diameter) + 1, len(ORDER) - 1)
        return self.designed._replace(diameter=ORDER[after])


@dataclass(frozen=True)
class Read:
    """A line whose figures were read; lengths in 0.1 nm, strengths in whole psi."""

    holes: tuple[Hole, ...]
    head: str
    flush: bool
    planes: int
    basis: str
    f_bru_psi: int | None
    pitch: Mapping[str, Any] | None
    row_spacing: Mapping[str, Any] | None
    fit_allowance: int
    spare_percent: str
    half_sizes: bool


def read_line(line: Line) -> Read:
    """Return a line read; refused where a state, size, alloy, head or figure is none."""
    check_states(line["as_found"], line["as_now"])
    head = HEADS.get(line["head"])
    if head is None:
        known = ", ".join(f"{code} {row['head']}" for code, row in HEADS.items())
        raise Refused("not_a_rivet", f"No head {line['head']} is known.", f"Heads are {known}.")
    given = line.get("fit_allowance")
    fit = to_tenth_nm(given) if given else inches_tenth_nm(LIMITS["fit_allowance"]["inches"])
    pairs = enumerate(zip(line["as_found"], line["as_now"], strict=True), start=1)
    return Read(
        holes=tuple(_hole(line, at, found, now) for at, (found, now) in pairs),
        head=head["head"],
        flush=head["flush"],
        planes=line.get("planes") or 1,
        basis=line.get("basis") or "hole",
        f_bru_psi=_psi(line["f_bru_psi"]) if line.get("f_bru_psi") else None,
        pitch=line.get("pitch"),
        row_spacing=line.get("row_spacing"),
        fit_allowance=fit,
        spare_percent=line.get("spare_percent") or LIMITS["spare"]["percent"],
        half_sizes=line.get("half_sizes") is True,
    )


def _hole(line: Line, at: int, found: str, now: str) -> Hole:
    own = line.get("holes", {}).get(str(at), {})
    designed = _rivet(own, Rivet(line["diameter"], line["alloy"]))
    given = _rivet(own["fitted"], designed) if own.get("fitted") else None
    measured = [own[field] for field in ("major", "minor") if own.get(field)]
    sheets = own.get("sheets") or line["sheets"]
    if not sheets:
        raise Refused(
            "not_a_rivet_line", f"Hole {at} joins no sheets.", "Say what it goes through."
        )
    return Hole(
        at,
        found,
        now,
        designed,
        given,
        max(measured, key=to_tenth_nm, default=None),
        own.get("edge") or line.get("edge"),
        tuple(_thickness(sheet["thickness"]) for sheet in sheets),
    )


def _thickness(given: Mapping[str, Any]) -> int:
    thickness = to_tenth_nm(given)
    if thickness <= 0:
        said = f"No sheet is {given['value']} {given['unit']} thick."
        raise Refused("no_thickness", said, "Measure it again.")
    return thickness


def _psi(text: str) -> int:
    strength = scaled(text, 1)
    if strength is None or strength <= 0:
        raise Refused("not_a_rivet_line", f"{text} psi is no strength.", "Write whole psi.")
    return strength


def _rivet(given: Mapping[str, Any], otherwise: Rivet) -> Rivet:
    rivet = Rivet(
        given.get("diameter") or otherwise.diameter, given.get("alloy") or otherwise.alloy
    )
    size_of(rivet.diameter)
    alloy_of(rivet.alloy)
    return rivet
