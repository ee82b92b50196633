"""Search in place words: terms joined with *and*, over the rows that are at hand."""

from collections.abc import Iterable, Mapping
from typing import Any

from skinpin.domain.place import Definition
from skinpin.domain.search_rows import Sought
from skinpin.domain.search_terms import Vocabulary

Row = Mapping[str, Any]


def search(
    rows: Iterable[Row],
    words: str,
    definition: Definition | None = None,
    people: Mapping[str, str] | None = None,
) -> list[Row]:
    """Return the rows that all terms of the words hold of, in the order given.

    Terms: a number (A/0009, A9) or tag, a member (F11, 12A) or members (F10-F13), strakes (K-B1), a
    hand (P, port, left), a zone (122), a kind or group of kinds, a grade (>=3, G2, crack 2), a
    state or *open*, *two values*, a stage (Stage 3), a person, a day, month, year or range of them
    (2025-03..2025-06). Anything else is looked for at the beginning of words. What was raised in
    error shows only where it is asked for, by its state or its number.

    Parameters
    ----------
    rows
        Rows of defects.
    words
        What was typed; "quoted words" are only looked for.
    definition
        The structures whose members, strakes and zones are terms.
    people
        Names by record of the person.
    """
    terms = Vocabulary(definition, people or {}).terms(words)
    asks_error = any(term.asks_error for term in terms)
    found = []
    for row in rows:
        sought = Sought(row, definition)
        if row["state"] == "Raised in error" and not asks_error:
            continue
        if all(term.holds(sought) for term in terms):
            found.append(row)
    return found
