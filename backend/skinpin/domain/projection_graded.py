"""The grade in the row of a defect, as worked out or as overruled."""

from collections.abc import Mapping
from typing import Any

from skinpin.domain.grading import Compiled, Grading, Standard
from skinpin.domain.grading_line import grade_with_lines
from skinpin.domain.grading_words import deciding_words, grade_words
from skinpin.domain.kinds import HIGHEST, is_grade
from skinpin.domain.values import Values, standing_of

Row = dict[str, Any]
NOT_GRADED = Grading(None, False, (), (), (), (), False)


def grade_keys(
    values: Values, lines: Mapping[str, Values], standard: Standard | Compiled | None
) -> Row:
    """Return the grade with its reasons, and what it was before it was overruled.

    `lines` are the rivet lines that name the defect.
    """
    overruled = standing_of(values, "overrule")
    if standard is None and not overruled:
        return {**_NOT_GRADED_KEYS, "fired": [], "missing": []}
    grading = grade_with_lines(values, lines, standard) if standard is not None else NOT_GRADED
    given = (value for value in overruled if isinstance(value, dict))
    grades = [one["grade"] for one in given if is_grade(one.get("grade"))]
    row = _graded(grading)
    if grades:
        told = {"from": grading.grade, "from_words": row["grade_words"], "to": max(grades)}
        row |= {"grade": max(grades), "grade_known": True, "overruled": told}
        row["grade_words"] = f"Grade {max(grades)}"
    return row


def no_grades(values: Values) -> list[dict[str, str]]:
    """Return what stands as an overruled grade and is none: it is ignored, and that is said."""
    given = [(id, values[id]["overrule"]) for id in sorted(values) if "overrule" in values[id]]
    ignored = [
        id
        for id, one in given
        if one is not None and not (isinstance(one, dict) and is_grade(one.get("grade")))
    ]
    reason = f"The grade it gives is none of 0 to {HIGHEST} in whole figures, and is ignored."
    return [{"entry": id, "code": "no grade", "reason": reason} for id in ignored]


def _graded(grading: Grading) -> Row:
    return {
        "grade": grading.grade,
        "grade_known": grading.known,
        "grade_words": grade_words(grading),
        "deciding": deciding_words(grading),
        "fired": [dict(one._asdict(), basis=dict(one.basis)) for one in grading.fired],
        "missing": list(grading.missing),
        "overruled": None,
    }


_NOT_GRADED_KEYS = _graded(NOT_GRADED)
