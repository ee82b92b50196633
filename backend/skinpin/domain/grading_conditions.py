"""Conditions of a standard of acceptance, made into functions once and asked many times.

A condition is plain data. Its outcome is the reasons in words where it holds, False where it does
not, and None where a needed figure is missing.
"""

import operator
import re
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from skinpin.domain.errors import Refused
from skinpin.domain.grading_figures import (
    Figures,
    Values,
    figure_named,
    lacks,
    shown,
    unreadable,
)
from skinpin.domain.quantities import MILLION, percent_of, rounded_text, to_millionths, to_tenth_nm

Outcome = tuple[str, ...] | bool | None
Judge = Callable[[Values, Figures], Outcome]
Gap = Callable[[Values], bool | None]
Say = Callable[[Values], str]
Condition = Mapping[str, Any]

# Upper bounds first: where a band has both, the upper one is said.
BOUNDS: Mapping[str, tuple[str, Callable[[int, int], bool]]] = {
    "at_most": ("≤", operator.le),
    "under": ("<", operator.lt),
    "over": (">", operator.gt),
    "at_least": ("≥", operator.ge),
}
Tests = list[tuple[Callable[[int, int], bool], int]]


def condition(when: Condition, needs: Iterable[str]) -> Judge:
    """Return the function that judges a condition; fields outside `needs` count only if given."""
    needed = frozenset(needs)
    for subject, build in BUILDERS.items():
        if subject in when:
            return build(when, needed)
    raise Refused(
        "unknown_condition",
        f"The condition {dict(when)} is of no kind known here.",
        f"A condition has one of: {', '.join(BUILDERS)}.",
    )


def _gap(names: Iterable[str], needed: frozenset[str]) -> Gap:
    """Return what a condition comes to where a figure is missing.

    Open where the figure is needed; and where something is given that can't be read, or it would
    read as if nothing had been found.
    """
    figures = [figure_named(name) for name in names]
    if {field for one in figures for field in one.needs} <= needed:
        return lambda values: None
    fields = tuple(field for one in figures for field in one.fields)

    def gap(values: Values) -> bool | None:
        for field in fields:
            if unreadable(values, field):
                return None
        return False

    return gap


def _bounds(when: Condition, whole_number: Callable[[Any], int]) -> tuple[Tests, str]:
    found = [(name, *BOUNDS[name]) for name in BOUNDS if name in when]
    if not found:
        raise Refused(
            "no_limit", f"The condition {dict(when)} has no limit.", f"Give {', '.join(BOUNDS)}."
        )
    name, sign, _ = found[0]
    limit = when[name]
    said = f"{sign} {limit['value']} {limit['unit']}" if isinstance(limit, dict) else limit
    tests = [(test, whole_number(when[name])) for name, _, test in found]
    return tests, said if isinstance(limit, dict) else f"{sign} {limit}"


def _say(when: Condition, otherwise: Say) -> Say:
    if "say" not in when:
        return otherwise
    parts = re.split(r"\{(\w+)\}", when["say"])
    if len(parts) == 1:
        return lambda values: parts[0]
    fields, without = parts[1::2], when.get("say_without")

    def say(values: Values) -> str:
        if without is not None and any(lacks(values, field) for field in fields):
            return str(without)
        return "".join(shown(values.get(part)) if at % 2 else part for at, part in enumerate(parts))

    return say


def _single(name: str, tests: Tests, gap: Gap, say: Say) -> Judge:
    (test, limit), *others = tests

    def judge(values: Values, figures: Figures) -> Outcome:
        found = figures[name]
        if found is None:
            return gap(values)
        if not test(found, limit):
            return False
        for other, other_limit in others:
            if not other(found, other_limit):
                return False
        return (say(values),)

    return judge


def _figure(when: Condition, needed: frozenset[str]) -> Judge:
    name = when["figure"]
    tests, said = _bounds(when, to_tenth_nm)
    text, label = figure_named(name).text, name.replace("_", " ")
    say = _say(when, lambda values: f"{label} {text(values)} {said}")
    return _single(name, tests, _gap([name], needed), say)


def _percent(when: Condition, needed: frozenset[str]) -> Judge:
    name = when["percent"]
    tests, said = _bounds(when, to_millionths)
    label = name.removesuffix("_percent").replace("_", " ")
    say = _say(when, lambda values: f"{label} {values[name]} % {said} %")
    return _single(name, tests, _gap([name], needed), say)


def _count(when: Condition, needed: frozenset[str]) -> Judge:
    name = when["count"]
    tests, said = _bounds(when, int)
    say = _say(when, lambda values: f"{name} {values[name]} {said}")
    return _single(name, tests, _gap([name], needed), say)


def _pair(names: list[str], tests: Tests, times: int, gap: Gap, say: Any) -> Judge:
    first, second = names
    (test, limit), *others = tests

    def judge(values: Values, figures: Figures) -> Outcome:
        part, whole = figures[first], figures[second]
        if part is None or not whole:
            return gap(values)
        share = part * times
        if not test(share, whole * limit):
            return False
        for other, other_limit in others:
            if not other(share, whole * other_limit):
                return False
        return (say(values, part, whole),)

    return judge


def _share(when: Condition, needed: frozenset[str]) -> Judge:
    names = when["share"]
    tests, said = _bounds(when, to_millionths)
    whole_text = figure_named(names[1]).text
    unsaid = when.get("whole") == "unsaid"

    def say(values: Values, part: int, whole: int) -> str:
        of = "" if unsaid else f" of {whole_text(values)}"
        return f"loss {percent_of(part, whole)} {said} %{of}"

    return _pair(names, tests, 100 * MILLION, _gap(names, needed), say)


def _ratio(when: Condition, needed: frozenset[str]) -> Judge:
    names = when["ratio"]
    tests, said = _bounds(when, to_millionths)
    label = "/".join(name.removeprefix("least_") for name in names)

    def say(values: Values, part: int, whole: int) -> str:
        return f"{label} {rounded_text(part, whole, 3)} {said}"

    return _pair(names, tests, MILLION, _gap(names, needed), say)


def _is(when: Condition, needed: frozenset[str]) -> Judge:
    name, is_needed = when["is"], when["is"] in needed
    say = _say(when, lambda values: name.replace("_", " "))

    def judge(values: Values, figures: Figures) -> Outcome:
        given = values.get(name)
        if given is True:
            return (say(values),)
        if given is False:
            return False
        return None if is_needed or unreadable(values, name) else False

    return judge


def _word(when: Condition, needed: frozenset[str]) -> Judge:
    name, wanted, is_needed = when["word"], when["equals"], when["word"] in needed
    say = _say(when, lambda values: str(wanted))

    def judge(values: Values, figures: Figures) -> Outcome:
        given = values.get(name)
        if given == wanted:
            return (say(values),)
        if given is None:
            return None if is_needed else False
        return None if unreadable(values, name) else False

    return judge


def _kind(when: Condition, needed: frozenset[str]) -> Judge:
    kinds = frozenset(when["kind"])
    say = _say(when, lambda values: str(values["kind"]))
    return lambda values, figures: (say(values),) if values["kind"] in kinds else False


def _always(when: Condition, needed: frozenset[str]) -> Judge:
    say = _say(when, lambda values: str(values["kind"]))
    return lambda values, figures: (say(values),)


def _any(when: Condition, needed: frozenset[str]) -> Judge:
    judges = [condition(one, needed) for one in when["any"]]
    said = _say(when, lambda values: "") if "say" in when else None

    def judge(values: Values, figures: Figures) -> Outcome:
        reasons: tuple[str, ...] = ()
        outcome: bool | None = False
        for one in judges:
            found = one(values, figures)
            if found is None:
                outcome = None
            elif found:
                reasons += found if isinstance(found, tuple) else ()
        if not reasons:
            return outcome
        return (said(values),) if said else tuple(dict.fromkeys(reasons))

    return judge


def _all(when: Condition, needed: frozenset[str]) -> Judge:
    judges = [condition(one, needed) for one in when["all"]]
    say = _say(when, lambda values: "")

    def judge(values: Values, figures: Figures) -> Outcome:
        found = [one(values, figures) for one in judges]
        if False in found:
            return False
        if None in found:
            return None
        reasons = [reason for one in found if isinstance(one, tuple) for reason in one]
        return (say(values) or ", ".join(reasons),)

    return judge


BUILDERS: Mapping[str, Callable[[Condition, frozenset[str]], Judge]] = {
    "figure": _figure,
    "share": _share,
    "ratio": _ratio,
    "percent": _percent,
    "count": _count,
    "is": _is,
    "word": _word,
    "kind": _kind,
    "any": _any,
    "all": _all,
    "always": _always,
}
