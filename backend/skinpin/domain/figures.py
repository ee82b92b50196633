"""Check figures of a book: how many are open, how bad, how old, of which kind.

Each bar names the records that make it, so that what it opens and what it counts agree.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import Any

from skinpin.domain.kinds import HIGHEST, kind_words
from skinpin.domain.permissions import STATES
from skinpin.domain.quantities import rounded_text

Row = Mapping[str, Any]
Bar = dict[str, Any]
OPEN = ("Raised", "Assessed", "In work", "Offered", "Deferred")
AGES = ((0, 30), (31, 90), (91, 180), (181, None))
FEWEST_FOR_PERCENT = 20
"""Of fewer records than this no percentage is given: it would look surer than it is."""
DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


def day_number(text: object) -> int | None:
    """Return a date as the number of its day, or None where it is no date."""
    if not isinstance(text, str) or not DATE.fullmatch(text):
        return None
    try:
        return date.fromisoformat(text).toordinal()
    except ValueError:  # no such day
        return None


def figures(rows: Iterable[Row], today: str) -> dict[str, Any]:
    """Return the check figures of rows as at a day.

    Live are all but same-as, raised in error, nil and drafts. Ages run from the day a record was
    first raised. Bands of age and grades sum to what is open.
    """
    every = [row for row in rows if row["state"] is not None]
    open_rows = [row for row in every if row["state"] in OPEN]
    live = [row for row in every if row["state"] in (*OPEN, "Cleared") and row["kind"] != "nil"]
    return {
        "as_at": today,
        "records": _bar(every),
        "open": _bar(open_rows),
        "live": _bar(live),
        "states": [
            {"state": state, **_bar(row for row in every if row["state"] == state)}
            for state in STATES
        ],
        "live_by_grade": _grades(live),
        "open_by_grade": _grades(open_rows),
        "open_by_age": _ages(open_rows, today),
        "kinds": _kinds(live),
        "days_to_clear": _days_to_clear(live),
        "deferred": _deferred(open_rows),
        "left_out": {
            "nil": sum(row["kind"] == "nil" for row in every),
            "same_as": sum(row["state"] == "Same as" for row in every),
            "raised_in_error": sum(row["state"] == "Raised in error" for row in every),
            "draft": sum(row["state"] == "Draft" for row in every),
        },
    }


def _bar(rows: Iterable[Row]) -> Bar:
    records = [row["record"] for row in rows]
    return {"count": len(records), "records": records}


def _grades(rows: Sequence[Row]) -> list[Bar]:
    """Return a bar for each grade; the last, null, is what was not graded."""
    return [
        {"grade": grade, **_bar(row for row in rows if _grade(row) == grade)}
        for grade in (*range(HIGHEST + 1), None)
    ]


def _grade(row: Row) -> int | None:
    return row["grade"] if row["grade"] in range(HIGHEST + 1) else None


def _ages(rows: Sequence[Row], today: str) -> list[Bar]:
    """Return a bar for each band of age; the last is of those that no date is known of."""
    now = day_number(today)
    aged = [(_age(row, now), row) for row in rows]
    bands = [
        {
            "band": f"{low}–{high} days" if high else f"over {low - 1} days",
            **_bar(row for age, row in aged if _is_within(age, low, high)),
        }
        for low, high in AGES
    ]
    return [*bands, {"band": "date not known", **_bar(row for age, row in aged if age is None)}]


def _is_within(age: int | None, low: int, high: int | None) -> bool:
    return age is not None and low <= age and (high is None or age <= high)


def _age(row: Row, now: int | None) -> int | None:
    raised = day_number(row["raised_on"])
    # A tablet's clock may be ahead of the day asked about.
    return None if raised is None or now is None else max(now - raised, 0)


def _kinds(rows: Sequence[Row]) -> list[Bar]:
    """Return a bar for each kind in falling order, with its share and the running share."""
    bundles: dict[str | None, list[Row]] = {}
    for row in rows:
        bundles.setdefault(row["kind"], []).append(row)
    ordered = sorted(bundles.items(), key=lambda pair: (-len(pair[1]), pair[0] or ""))
    made: list[Bar] = []
    running = 0
    for kind, some in ordered:
        running += len(some)
        shares = {"percent": _percent(some, rows), "running_percent": _percent(running, rows)}
        made.append({"kind": kind, "kind_words": kind_words(kind), **_bar(some), **shares})
    return made


def _percent(part: Sequence[Row] | int, whole: Sequence[Row]) -> str | None:
    if len(whole) < FEWEST_FOR_PERCENT:
        return None
    count = part if isinstance(part, int) else len(part)
    return rounded_text(count * 100, len(whole), 1)


def _days_to_clear(rows: Iterable[Row]) -> dict[str, Any]:
    """Return the days from raised to cleared, shortest first, and their median."""
    taken = sorted(
        (cleared - raised, row["record"])
        for row in rows
        if row["state"] == "Cleared"
        and (raised := day_number(row["raised_on"])) is not None
        and (cleared := day_number(row["cleared_on"])) is not None
    )
    days = [day for day, _ in taken]
    return {
        "count": len(days),
        "records": [record for _, record in taken],
        "days": days,
        "median": _median(days),
    }


def _median(days: Sequence[int]) -> str | None:
    """Return the middle of days in order, of two the mean; no figure where there are none."""
    if not days:
        return None
    twice = days[(len(days) - 1) // 2] + days[len(days) // 2]
    return rounded_text(twice, 2, twice % 2)


def _deferred(rows: Iterable[Row]) -> dict[str, Any]:
    some = [row for row in rows if row["state"] == "Deferred"]
    dates = [row["raised_on"] for row in some if day_number(row["raised_on"]) is not None]
    return {**_bar(some), "oldest": min(dates, default=None)}
