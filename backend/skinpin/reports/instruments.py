"""Instruments that figures were taken with, and whether their check was in date."""

from collections.abc import Iterable, Mapping
from typing import Any

from skinpin.reports.words import is_figure, printable

Record = Mapping[str, Any]


def uses_of(records: Iterable[Record]) -> dict[str, list[tuple[str, str]]]:
    """Return by instrument the uses of it: day and number of the record."""
    uses: dict[str, list[tuple[str, str]]] = {}
    for record in records:
        for taken in (one for some in record.get("measured", {}).values() for one in some):
            value = taken["value"]
            name = value.get("instrument") if is_figure(value) else None
            if isinstance(name, str) and name:
                uses.setdefault(name, []).append((taken["date"], record["row"]["number"]))
    return {name: sorted(set(uses[name])) for name in sorted(uses)}


def in_date_words(due: str, days: Iterable[str], today: str) -> str:
    """Return whether a check was in date whenever the instrument was used.

    >>> in_date_words("2025-09-30", ["2025-09-01", "2025-10-11"], "2025-11-03")
    'OUT OF DATE when used 2025-10-11'
    """
    late = sorted(day for day in set(days) if due and day > due)
    if late:
        return f"OUT OF DATE when used {', '.join(late)}"
    if not due:
        return "due date not known"
    return "in date when used, check overdue now" if today > due else "in date"


def instrument_rows(
    records: Iterable[Record], known: Mapping[str, Mapping[str, str]], today: str
) -> list[list[str]]:
    """Return a row for each instrument used: name, what it is, due, in date, used on."""
    return [_row(name, used, known.get(name), today) for name, used in uses_of(records).items()]


def _row(
    name: str, used: list[tuple[str, str]], known: Mapping[str, str] | None, today: str
) -> list[str]:
    numbers = ", ".join(dict.fromkeys(number for _, number in used))
    if known is None:
        return [printable(name), "not in the register", "–", "due date not known", numbers]
    what = " · ".join(each for each in (known["title"], known["range"]) if each)
    words = in_date_words(known["due"], (day for day, _ in used), today)
    return [printable(name), printable(what), known["due"] or "–", words, numbers]


def instrument_note(
    name: str, days: Iterable[str], known: Mapping[str, Mapping[str, str]], today: str
) -> str:
    """Return an instrument in one line, for the sheet of a record."""
    one = known.get(name)
    if one is None:
        return f"{name}, not in the register of instruments"
    due = f", check due {one['due']}" if one["due"] else ""
    return f"{name} {one['title']}{due}: {in_date_words(one['due'], days, today)}"
