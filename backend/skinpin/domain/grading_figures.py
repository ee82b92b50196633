"""Figures that limits are laid on: measured, counted, or worked out of measured ones."""

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from skinpin.domain.errors import Refused
from skinpin.domain.kinds import ASKED
from skinpin.domain.quantities import (
    MILLION,
    TENTH_NM,
    is_unmeasured,
    places_of,
    rounded_text,
    scaled,
    tenth_nm_or_none,
)

Values = Mapping[str, Any]
Figures = Mapping[str, int | None]
NOT_MEASURED = "not measured"
COPIED = "copied"
"""What stands in place of a copied figure while a record is graded: given, and unreadable."""


class Figure(NamedTuple):
    """A figure: its number as a whole number, its words, and the fields it can't do without."""

    read: Callable[[Values], int | None]
    text: Callable[[Values], str]
    needs: tuple[str, ...]
    fields: tuple[str, ...]
    measured: bool


def shown(value: Any) -> str:
    """Return a value of a record as it was typed."""
    if isinstance(value, dict):  # not Mapping, whose check is slow
        return f"{value.get('value')} {value.get('unit')}"
    return "–" if value is None else str(value)


def _length(name: str, least: int = 0) -> Figure:
    def read(values: Values) -> int | None:
        length = tenth_nm_or_none(values.get(name))
        return None if length is None or length < least else length

    return Figure(read, lambda values: shown(values[name]), (name,), (name,), True)


def _percent(name: str) -> Figure:
    def read(values: Values) -> int | None:
        text = values.get(name)
        parts = scaled(text, MILLION) if isinstance(text, str) else None
        return None if parts is None or parts < 0 else parts

    return Figure(read, lambda values: f"{values[name]} %", (name,), (name,), False)


def _count(name: str) -> Figure:
    def read(values: Values) -> int | None:
        count = values.get(name)
        if isinstance(count, str):
            count = scaled(count, 1)
        if not isinstance(count, int) or isinstance(count, bool) or count < 0:
            return None
        return count

    return Figure(read, lambda values: str(values[name]), (name,), (name,), False)


def _ovality(values: Values) -> int | None:
    major, minor = FIGURES["hole_major"].read(values), FIGURES["hole_minor"].read(values)
    return None if major is None or minor is None else abs(major - minor)


def _ovality_text(values: Values) -> str:
    major, minor = values["hole_major"], values["hole_minor"]
    places = max(places_of(major["value"]), places_of(minor["value"]))
    if major["unit"] != minor["unit"]:
        places = max(places, 4)
    return f"{rounded_text(_ovality(values) or 0, TENTH_NM[major['unit']], places)} {major['unit']}"


def _least_width(values: Values) -> int | None:
    width, length = FIGURES["width"].read(values), FIGURES["length"].read(values)
    if length is None and unreadable(values, "length"):
        return None
    return width if width is None or length is None else min(width, length)


def _least_width_text(values: Values) -> str:
    width = FIGURES["width"].read(values)
    return shown(values["width" if width == _least_width(values) else "length"])


def figure_named(name: str) -> Figure:
    """Return a figure by its name; a name that no record has is refused."""
    figure = FIGURES.get(name)
    if figure is None:
        raise Refused(
            "unknown_figure", f"No figure is called {name}.", f"Known are {', '.join(FIGURES)}."
        )
    return figure


def figures_in(when: Any) -> frozenset[str]:
    """Return the names of all figures that a condition asks for."""
    if isinstance(when, list):
        return frozenset().union(*(figures_in(one) for one in when))
    names = [when[key] for key in ("figure", "percent", "count") if key in when]
    pairs = [name for key in ("share", "ratio") for name in when.get(key, ())]
    inner = [figures_in(when[key]) for key in ("any", "all") if key in when]
    return frozenset([*names, *pairs]).union(*inner)


FIGURES: Mapping[str, Figure] = {
    **{name: _length(name) for name in ("depth", "length", "hole_major", "hole_minor")},
    # Nothing is a share of nought: it was not measured.
    **{name: _length(name, least=1) for name in ("thickness", "width")},
    **{
        name: _percent(name)
        for name in ("panel_percent", "strength_percent", "shear_share_percent")
    },
    "run": _count("run"),
    "ovality": Figure(
        _ovality, _ovality_text, ("hole_major", "hole_minor"), ("hole_major", "hole_minor"), True
    ),
    "least_width": Figure(_least_width, _least_width_text, ("width",), ("width", "length"), True),
}


SHEETED = ("kind", "material")
"""Fields that choose the rows; no row reads them."""


def unreadable(values: Values, field: str) -> bool:
    """Say whether a record has something in a field that can't be read as what is due there.

    A figure in no known form, or finer than can be kept; neither yes nor no; a word of no list.
    """
    given = values.get(field)
    if given is None or given == NOT_MEASURED or field in SHEETED:
        return False
    figure = FIGURES.get(field)
    if figure is not None:
        # A thickness of nought can be read: it was not measured.
        return figure.read(values) is None and tenth_nm_or_none(given) is None
    about = ASKED.get(field, {})
    if about.get("type") == "yes_no":
        return not isinstance(given, bool)
    return about.get("type") == "word" and given not in about["choices"]


def without_copied(values: Values) -> Values:
    """Return the values of a record, its copied figures unreadable: nobody measured them."""
    for value in values.values():
        # Two keys are looked for before a function is called: all that is graded comes through.
        is_told = isinstance(value, dict) and ("copied_from" in value or "method" in value)
        if is_told and is_unmeasured(value):
            return {field: COPIED if is_unmeasured(one) else one for field, one in values.items()}
    return values


def lacks(values: Values, field: str) -> bool:
    """Say whether a record has no answer in a field, or no figure where one is due."""
    figure = FIGURES.get(field)
    return figure.read(values) is None if figure else values.get(field) in (None, NOT_MEASURED)
