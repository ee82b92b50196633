"""Grades with reasons: the highest grade of all rows of the standard that fire."""

from collections.abc import Mapping
from typing import NamedTuple

from skinpin.domain.errors import Refused
from skinpin.domain.grading_figures import (
    COPIED,
    FIGURES,
    Values,
    lacks,
    shown,
    unreadable,
    without_copied,
)
from skinpin.domain.grading_standard import Compiled, Row, Sheet, Standard, compile_standard
from skinpin.domain.kinds import HANDED_OFF, is_loss

__all__ = [
    "Compiled",
    "Fired",
    "Grading",
    "Standard",
    "compile_standard",
    "grade",
    "refuse_figures",
]

CLEAN = (None, "yes")
"""A depth taken through product can only be less than the true one; unsaid is no answer."""
LIGHT = 1


class Fired(NamedTuple):
    """One reason of one row: a row may fire for two reasons."""

    rule: str
    grade: int
    reason: str
    basis: Mapping[str, str]
    deciding: bool


class Grading(NamedTuple):
    """A grade with its reasons, deciding ones first, and what keeps it from being known.

    Parameters
    ----------
    grade
        0 to 4, or None where no row fires.
    known
        False: the grade is *at least* this, or not graded at all.
    missing
        Fields that could raise the grade.
    could_be
        Higher grades that are still open.
    unjudged
        Rules that a missing field keeps from being judged.
    hand_off
        A matter for a licensed or qualified person.
    must_choose
        Too many values stand side by side to try them all.
    partly_cleaned
        The depth was taken when only partly cleaned, and not through all of the product.
    cleaned_unsaid
        A row asks whether it was cleaned before the depth was taken, and nobody said.
    unreadable
        Those of the missing fields that hold something that can't be read.
    doubted
        Those of the missing fields that are measured, and reach a limit within their ±.
    """

    grade: int | None
    known: bool
    fired: tuple[Fired, ...]
    missing: tuple[str, ...]
    could_be: tuple[int, ...]
    unjudged: tuple[str, ...]
    hand_off: bool
    must_choose: bool = False
    partly_cleaned: bool = False
    cleaned_unsaid: bool = False
    unreadable: tuple[str, ...] = ()
    doubted: tuple[str, ...] = ()


Found = list[tuple[Row, tuple[str, ...]]]


def grade(values: Values, standard: Standard | Compiled) -> Grading:
    """Grade the values of one record; what can't be read keeps open the rows that read it.

    A figure that was copied from another record keeps them open too: nobody measured it.
    """
    values = without_copied(values)
    compiled = standard if isinstance(standard, Compiled) else compile_standard(standard)
    sheet = compiled.sheet(values.get("kind"), values.get("material"))
    figures = {name: read(values) for name, read in sheet.readers}
    found: Found = []
    unfired: list[Row] = []
    open_rows: list[Row] = []
    for row in sheet.rows:
        outcome = row.judge(values, figures)
        if isinstance(outcome, tuple):
            found.append((row, outcome))
        else:
            (open_rows if outcome is None else unfired).append(row)
    if sheet.excluding and len(found) > 1:
        found = _without_excluded(found)
    highest = max([row.grade for row, _ in found], default=None)
    has_depth = figures.get("depth") is not None
    unclean = has_depth and sheet.asks_cleaned and values.get("cleaned") not in CLEAN
    if highest is None or highest <= LIGHT:
        open_rows += [row for row in unfired if row.strict and row.strict(values, figures) is None]
    if unclean:
        open_rows += [row for row in unfired if row.by_depth and row.grade > (highest or 0)]
    elif has_depth and values.get("cleaned") is None:
        open_rows += [row for row in unfired if row.asks_cleaned and row.grade > (highest or 0)]
    open_rows += sheet.unlit
    return _grading(values, sheet, found, highest, open_rows, unclean)


def _without_excluded(found: Found) -> Found:
    """Leave one row of each family, the highest, and none that gives way to another."""
    rules = {row.rule for row, _ in found}
    best: dict[str, Row] = {}
    for row, _ in found:
        if row.family and (row.family not in best or row.grade > best[row.family].grade):
            best[row.family] = row
    return [
        (row, reasons)
        for row, reasons in found
        if (not row.family or best[row.family] is row) and rules.isdisjoint(row.gives_way_to)
    ]


def _grading(
    values: Values,
    sheet: Sheet,
    found: Found,
    highest: int | None,
    open_rows: list[Row],
    unclean: bool,
) -> Grading:
    fired = [
        Fired(row.rule, row.grade, reason, row.basis, row.grade == highest)
        for row, reasons in found
        for reason in reasons
    ]
    if len(fired) > 1:
        fired.sort(key=_deciding_first)
    missing: tuple[str, ...] = ()
    could_be: tuple[int, ...] = ()
    unjudged: tuple[str, ...] = ()
    if open_rows:
        raising = [row for row in open_rows if highest is None or row.grade > highest]
        missing = _missing(values, raising, unclean)
        could_be = tuple(sorted({row.grade for row in raising}))
        unjudged = _rules_in_order(sheet, open_rows) if raising else ()
    elif not isinstance(values.get("kind"), str):
        missing = ("kind",)
    return Grading(
        highest,
        highest is not None and not could_be,
        tuple(fired),
        missing,
        could_be,
        unjudged,
        sheet.hand_off or highest in HANDED_OFF,
        partly_cleaned=unclean and values.get("cleaned") == "partly",
        cleaned_unsaid="cleaned" in missing and values.get("cleaned") is None,
        unreadable=tuple(
            field for field in missing if unreadable(values, field) and values[field] != COPIED
        ),
    )


def _deciding_first(fired: Fired) -> bool:
    return not fired.deciding


def _rules_in_order(sheet: Sheet, open_rows: list[Row]) -> tuple[str, ...]:
    rules = {row.rule for row in open_rows}
    rows = (*sheet.rows, *sheet.unlit)
    return tuple(dict.fromkeys(row.rule for row in rows if row.rule in rules))


def _missing(values: Values, rows: list[Row], unclean: bool) -> tuple[str, ...]:
    lacking = [
        field
        for row in rows
        for fields, is_lacking in ((row.needs, _is_open), (row.reads, unreadable))
        for field in fields
        if is_lacking(values, field)
    ]
    if unclean and any(row.by_depth for row in rows):
        lacking.append("cleaned")
    return tuple(dict.fromkeys(lacking))


def _is_open(values: Values, field: str) -> bool:
    # A material that is given but unknown here is as good as none.
    return field == "material" or lacks(values, field)


def refuse_figures(values: Values) -> None:
    """Refuse figures that can't be true together, while they are being typed.

    A record that holds such figures all the same, from two tablets, is graded on the worse.

    Raises
    ------
    Refused
        A depth of loss greater than the thickness, or a hole narrower than its smaller diameter.
    """
    values = without_copied(values)
    depth, thickness = FIGURES["depth"].read(values), FIGURES["thickness"].read(values)
    if is_loss(values.get("kind")) and depth and thickness and depth > thickness:
        raise Refused(
            "deeper_than_thick",
            f"{shown(values['depth'])} is deeper than the plate is thick, "
            f"{shown(values['thickness'])}: enter it as perforated.",
            "Set Perforated, and the depth to the thickness or to not measured.",
        )
    major, minor = FIGURES["hole_major"].read(values), FIGURES["hole_minor"].read(values)
    if major is not None and minor is not None and major < minor:
        raise Refused(
            "hole_turned_about",
            f"The larger diameter, {shown(values['hole_major'])}, is less than the smaller, "
            f"{shown(values['hole_minor'])}.",
            "Change the two about.",
        )
