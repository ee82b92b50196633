"""The worst grade of a record where two values stand for one field."""

from collections.abc import Iterator, Mapping
from itertools import islice, product
from typing import Any

from skinpin.domain.grading import Compiled, Grading, Standard, compile_standard, grade
from skinpin.domain.grading_figures import COPIED
from skinpin.domain.kinds import HIGHEST
from skinpin.domain.quantities import is_unmeasured, tenth_nm_or_none

MOST_TRIED = 64


def worst_grade(
    standing_values: Mapping[str, Mapping[str, Any]], standard: Standard | Compiled
) -> Grading:
    """Grade every combination of the values that stand, and return the highest.

    Parameters
    ----------
    standing_values
        By entry, as the standing values of a record are kept: {entry id: {field: value}}.
    """
    compiled = compile_standard(standard)
    choices = _choices(standing_values, compiled.inputs)
    count = 1
    for _, values in choices:
        count *= len(values)
    gradings = [grade(values, compiled) for values in islice(_combined(choices), MOST_TRIED)]
    worst = max(gradings, key=_badness)
    if len(gradings) == 1:
        return worst
    return _widened(worst, gradings, tried_all=count <= MOST_TRIED)


def _choices(
    standing_values: Mapping[str, Mapping[str, Any]], inputs: tuple[str, ...]
) -> list[tuple[str, list[Any]]]:
    """Return each input that stands with its differing values: by field name, then entry id.

    What was copied from another record stands for nothing beside a measured figure; alone it
    stands as unreadable.
    """
    choices: list[tuple[str, list[Any]]] = []
    for field in inputs:
        differing: dict[Any, Any] = {}
        for entry in sorted(standing_values):
            if field in standing_values[entry]:
                value = standing_values[entry][field]
                value = COPIED if is_unmeasured(value) else value
                differing.setdefault(_sameness(value), value)
        if any(tenth_nm_or_none(value) is not None for value in differing.values()):
            differing.pop(_sameness(COPIED), None)
        if differing:
            choices.append((field, list(differing.values())))
    return choices


def _sameness(value: Any) -> Any:
    """Return what makes two values one: a quantity typed differently is the same length."""
    length = tenth_nm_or_none(value)
    return ("length", length) if length is not None else (type(value).__name__, str(value))


def _combined(choices: list[tuple[str, list[Any]]]) -> Iterator[dict[str, Any]]:
    names = [name for name, _ in choices]
    for values in product(*(values for _, values in choices)):
        yield dict(zip(names, values, strict=True))


def _badness(grading: Grading) -> tuple[int, bool, int]:
    highest = -1 if grading.grade is None else grading.grade
    return highest, not grading.known, max(grading.could_be, default=0)


def _widened(worst: Grading, gradings: list[Grading], tried_all: bool) -> Grading:
    """Return the worst with everything the other combinations leave open above it."""
    least = -1 if worst.grade is None else worst.grade
    could_be = {above for each in gradings for above in each.could_be if above > least}
    if not tried_all:
        could_be |= set(range(least + 1, HIGHEST + 1))
    raising = [each for each in gradings if any(above > least for above in each.could_be)]
    return worst._replace(
        known=tried_all and not could_be and all(map(_is_judged, gradings)),
        missing=tuple(dict.fromkeys(field for each in raising for field in each.missing)),
        could_be=tuple(sorted(could_be)),
        unjudged=tuple(dict.fromkeys(rule for each in raising for rule in each.unjudged)),
        hand_off=any(each.hand_off for each in gradings),
        must_choose=not tried_all,
        partly_cleaned=all(each.partly_cleaned for each in raising if "cleaned" in each.missing),
        cleaned_unsaid=all(each.cleaned_unsaid for each in raising if "cleaned" in each.missing),
        unreadable=tuple(dict.fromkeys(field for each in raising for field in each.unreadable)),
    )


def raises(grading: Grading, worse: Grading) -> bool:
    """Say whether another grading of the same record is higher, or can't be tried whole."""
    least = -1 if grading.grade is None else grading.grade
    return worse.must_choose or any(one.grade > least for one in worse.fired)


def opened(grading: Grading, worse: Grading, fields: tuple[str, ...]) -> Grading:
    """Leave open what another value of these fields would raise: the grade is *at least*."""
    least = -1 if grading.grade is None else grading.grade
    raising = [one for one in worse.fired if one.grade > least]
    could_be = {*grading.could_be, *worse.could_be, *(one.grade for one in raising)}
    return grading._replace(
        known=False,
        missing=tuple(dict.fromkeys([*grading.missing, *fields])),
        could_be=tuple(sorted(grade for grade in could_be if grade > least)),
        unjudged=tuple(dict.fromkeys([*grading.unjudged, *(one.rule for one in raising)])),
        hand_off=grading.hand_off or worse.hand_off,
        must_choose=grading.must_choose or worse.must_choose,
    )


def _is_judged(grading: Grading) -> bool:
    """Say whether the standard has rows for these values, be their figures there or not."""
    return grading.grade is not None or bool(grading.could_be)
