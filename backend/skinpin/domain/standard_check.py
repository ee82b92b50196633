"""What is wrong with a standard of acceptance, row by row, before it may be issued."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from skinpin.domain.definition_trouble import Trouble
from skinpin.domain.errors import Refused
from skinpin.domain.grading_standard import compiled_row
from skinpin.domain.kinds import ASKED, HIGHEST, KINDS, MATERIALS, is_grade
from skinpin.domain.odd_texts import odd_text
from skinpin.domain.standard_bands import band_troubles, unsaid_limits

MARKERS = (
    "source read",
    "source read, secondary",
    "derived",
    "from memory",
    "common practice, no source",
    "workshop's own",
)
MOST_ROWS = 500
MOST_DEEP = 8
HINT = "DEVELOPERS.md says what a row holds; an exported standard is a pattern."


def standard_troubles(standard: Any) -> list[Trouble]:
    """Return everything that keeps a standard from being issued, in the order of its rows.

    `at` is the path, such as "rows/3/grade"; the words name the row by its rule.
    """
    if not isinstance(standard, dict):
        return [_trouble("", "A standard is one JSON object.")]
    odd = odd_text(standard)
    if odd:
        return [_trouble("", f"The standard can't be kept: {odd}.")]
    rows = standard.get("rows")
    found = [
        _trouble(name, f"The standard's {name} is empty.")
        for name in ("name", "issue")
        if not _is_text(standard.get(name))
    ]
    if not isinstance(rows, list) or not rows:
        return [*found, _trouble("rows", "The standard has no rows.")]
    if len(rows) > MOST_ROWS:
        return [
            *found,
            _trouble("rows", f"The standard has {len(rows)} rows; {MOST_ROWS} at most."),
        ]
    for at, row in enumerate(rows):
        found += row_troubles(f"rows/{at}", row, at + 1)
    return found or list(band_troubles(rows))


def row_troubles(path: str, row: Any, count: int) -> Iterator[Trouble]:
    """Yield what is wrong with one row, the count-th of its standard."""
    if not isinstance(row, dict):
        yield _trouble(path, f"Row {count} is no object.")
        return
    rule = row.get("rule")
    name = f"Row {count}, {rule}" if _is_text(rule) else f"Row {count}"
    wrong = [(field, words) for field, is_right, words in _FIELDS if not is_right(row.get(field))]
    for field, words in wrong:
        yield _trouble(f"{path}/{field}", f"{name}: {words}.")
    if wrong:
        return
    words = _condition_words(row["when"], MOST_DEEP) or _unread(row)
    if words:
        yield _trouble(f"{path}/when", f"{name}: {words}")
    elif unsaid := unsaid_limits(row):
        yield _trouble(f"{path}/text", f"{name}: its words do not name {' and '.join(unsaid)}.")


def _trouble(at: str, message: str) -> Trouble:
    return Trouble(at, "not_a_standard", message, HINT)


def _is_text(value: Any) -> bool:
    return isinstance(value, str) and bool(value.strip())


def _are_words(known: Mapping[str, Any]) -> Callable[[Any], bool]:
    def are_words(value: Any) -> bool:
        if value == "any":
            return True
        return (
            isinstance(value, list) and bool(value) and all(_is_one(each, known) for each in value)
        )

    return are_words


def _is_one(value: Any, known: Mapping[str, Any]) -> bool:
    return isinstance(value, str) and value in known


def _are_fields(value: Any) -> bool:
    return isinstance(value, list) and all(
        isinstance(one, str) and (one in ASKED or one == "material") for one in value
    )


def _is_basis(value: Any) -> bool:
    return (
        isinstance(value, dict)
        and all(isinstance(value.get(part), str) for part in ("text", "source", "marker"))
        and bool(value["text"].strip())
        and value["marker"] in MARKERS
        and (bool(value["source"].strip()) or value["marker"] not in MARKERS[:3])
    )


_FIELDS: tuple[tuple[str, Callable[[Any], bool], str], ...] = (
    ("rule", _is_text, "it has no name (rule)"),
    ("grade", is_grade, f"the grade is none of 0 to {HIGHEST}"),
    ("material", _are_words(MATERIALS), "material is “any” or a list of known materials"),
    ("kinds", _are_words(KINDS), "kinds is “any” or a list of known kinds"),
    ("needs", _are_fields, "needs is a list of known fields"),
    ("uses", _are_fields, "uses is a list of known fields"),
    ("when", lambda value: isinstance(value, dict), "it has no condition (when)"),
    ("text", _is_text, "it has no words (text)"),
    (
        "basis",
        _is_basis,
        f"basis needs text, source and marker, one of: {', '.join(MARKERS)}; "
        "what was read or derived names its source",
    ),
)


def _condition_words(when: Any, deep: int) -> str:
    """Return what is wrong with the names in a condition, nothing where all are known."""
    if not isinstance(when, dict) or deep == 0:
        return "a condition is an object, and at most eight deep."
    for key in ("any", "all"):
        if key in when:
            inner = when[key] if isinstance(when[key], list) else [None]
            return next((words for one in inner if (words := _condition_words(one, deep - 1))), "")
    about = ASKED.get(str(when.get("is", when.get("word"))), {})
    if "is" in when and about.get("type") != "yes_no":
        return f"{when['is']!r} is asked by no yes or no."
    if "word" in when and when.get("equals") not in about.get("choices", ()):
        return f"{when.get('equals')!r} is no answer to {when['word']!r}."
    return ""


def _unread(row: Mapping[str, Any]) -> str:
    """Return why a row can't be made ready to judge."""
    try:
        compiled_row(row)
    except Refused as refused:
        return refused.message
    except (LookupError, TypeError, ValueError, AttributeError) as error:
        return f"its condition can't be read ({error!r})."
    return ""
