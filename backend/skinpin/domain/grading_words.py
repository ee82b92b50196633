"""A grading in words: the grade, its deciding reasons, and what is still open."""

import re

from skinpin.domain.grading import Fired, Grading
from skinpin.domain.kinds import ASKED, GRADES, HIGHEST

FIGURE_TYPES = ("quantity", "percent", "whole")
NUMBERED = re.compile(r"([A-Z]+)([0-9]+)")
LABELS = {"kind": "Kind", "material": "Material"}


def grade_words(grading: Grading) -> str:
    """Return "Grade 2", "Grade at least 2 ?" or "Not graded ?".

    Nothing is "at least 0", and nothing is above grade 4.
    """
    if grading.known or grading.grade == HIGHEST:
        return f"Grade {grading.grade}"
    return f"Grade at least {grading.grade} ?" if grading.grade else "Not graded ?"


def grade_name(grade: int) -> str:
    """Return the word of a grade: "severe"."""
    return str(GRADES[grade]["word"])


def deciding(grading: Grading) -> list[Fired]:
    """Return the reasons that set the grade."""
    return [fired for fired in grading.fired if fired.deciding]


def deciding_words(grading: Grading) -> str:
    """Return the deciding reasons on one line: "AL3: depth 0.011 in > 0.010 in; AL4: …"."""
    return "; ".join(f"{fired.rule}: {fired.reason}" for fired in deciding(grading))


def open_words(grading: Grading) -> str:
    """Return what keeps the grade open, or nothing where it is known.

    "Depth not measured: AL1–AL5 cannot be judged. Could be 3 or 4."
    """
    if grading.known:
        return ""
    if grading.must_choose:
        return "Too many values stand side by side: choose among them first."
    if grading.missing == ("kind",):
        return "Kind not given."
    if not grading.could_be:
        return "No row of the standard gives this a grade: refer it."
    lacking = "; ".join(_lacking(field, grading) for field in grading.missing)
    could = _either([str(grade) for grade in grading.could_be])
    return f"{lacking}: {_ranges(grading.unjudged)} cannot be judged. Could be {could}."


def _lacking(field: str, grading: Grading) -> str:
    row = ASKED.get(field, {})
    label = LABELS.get(field) or str(row["label"]).partition(",")[0]
    if field in grading.unreadable:
        return f"{label} cannot be read"
    if field in grading.doubted:
        return f"{label} reaches a limit within its ±"
    if field == "cleaned" and grading.cleaned_unsaid:
        return f"{label} not given"
    if field == "cleaned" and grading.partly_cleaned:
        return "Depth taken when only partly cleaned"
    if field == "cleaned":
        return "Depth taken before cleaning"
    return f"{label} {'not measured' if row.get('type') in FIGURE_TYPES else 'not given'}"


def _either(words: list[str]) -> str:
    return " or ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def _ranges(rules: tuple[str, ...]) -> str:
    """Join rules that follow each other: AL1–AL5."""
    runs: list[list[str]] = []
    for rule in rules:
        if runs and _follows(runs[-1][-1], rule):
            runs[-1].append(rule)
        else:
            runs.append([rule])
    return ", ".join(f"{run[0]}–{run[-1]}" if len(run) > 2 else ", ".join(run) for run in runs)


def _follows(before: str, rule: str) -> bool:
    first, second = NUMBERED.fullmatch(before), NUMBERED.fullmatch(rule)
    return bool(first and second and first[1] == second[1] and int(second[2]) == int(first[2]) + 1)
