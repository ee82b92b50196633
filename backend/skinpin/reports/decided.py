"""What was decided about a defect: disposition, stage, deferral, authority."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from skinpin.domain.figures import day_number
from skinpin.domain.quantities import is_quantity
from skinpin.domain.stamp_words import overtaken_words
from skinpin.reports.words import only

Record = Mapping[str, Any]
_CLOSED = ("Cleared", "Same as", "Raised in error")


def state_words(state: object) -> str:
    """Return a state as it is said in full."""
    return "Offered for inspection" if state == "Offered" else str(state)


def graded_words(row: Mapping[str, Any]) -> str:
    """Return a grade as "Grade 3 (assessed 4)" where the lead overruled the rules."""
    overruled = row.get("overruled")
    if not isinstance(overruled, Mapping) or overruled.get("from") is None:
        return str(row["grade_words"])
    return f"{row['grade_words']} (assessed {overruled['from']})"


def overruled_words(record: Record) -> str:
    """Return who overruled the grade, when and why, and what the standard gives; else nothing."""
    row, told = record["row"], record.get("overruled") or {}
    overruled = row.get("overruled")
    if not isinstance(overruled, Mapping):
        return ""
    given = overruled.get("from_words") or "not graded"
    why = str(told.get("why") or "no reason given").rstrip(".")
    by = f"overruled by the lead {told.get('date') or ''}".strip()
    deciding = f" ({row['deciding']})" if row.get("deciding") else ""
    return f"{row['grade_words']}, {by}: {why} · the standard gives {given}{deciding}."


def found_words(record: Record) -> str:
    """Return who found and who raised a record, where those are two people."""
    told = record.get("found_by")
    if not told:
        return ""
    found = f"found by {told['found_by']} {told['found_on']}"
    return f"{found}, raised by {told['raised_by']} {told['raised_on']}"


def decided_lines(record: Record, today: str) -> list[str]:
    """Return what was decided, a line for each thing."""
    row = record["row"]
    words = [str(row.get("disposition") or "Not decided yet")]
    if row.get("stage") and row["state"] not in _CLOSED:
        words.append(f"blocks {row['stage']}")
    lines = [" · ".join(words)]
    if row["state"] == "Deferred" and isinstance(row.get("deferral"), Mapping):
        lines.append(deferral_words(record, today))
    authority = only(record["values"], "authority")
    if isinstance(authority, str) and authority:
        lines.append(f"Design authority: {authority}.")
    overtaken = overtaken_words(row)
    return [*lines, overtaken] if overtaken else lines


def deferral_words(record: Record, today: str) -> str:
    """Return a deferral as sentences: until when, by whose authority, within what limit."""
    given = record["row"]["deferral"]
    until = given.get("to_stage") or given.get("to_date") or "no stage or date"
    said = [f"Deferred to {until}", f"authority {given.get('authority') or 'not named'}"]
    again = given.get("look_again_by")
    said.append(
        f"look again by {again}{_days_words(again, today)}" if again else "no day to look again"
    )
    said.append(f"limit: {limit_words(given.get('limit'))}")
    why = str((record.get("deferred") or {}).get("why") or "").rstrip(".")
    if why:
        said.append(f"why: {why}")
    return "; ".join(said) + f". First raised {record['found_on'] or 'on a day not known'}."


def limit_words(limit: Any) -> str:
    """Return the limit of a deferral as it was written."""
    if is_quantity(limit):
        return f"{limit['value']} {limit['unit']}"
    return str(limit) if isinstance(limit, str) and limit else "not given"


def _days_words(again: Any, today: str) -> str:
    end, now = day_number(again), day_number(today)
    if end is None or now is None:
        return ""
    left = end - now
    if left < 0:
        return f", OVERDUE by {-left} day{'' if left == -1 else 's'}"
    return f", {left} day{'' if left == 1 else 's'} to go"


def is_overdue(record: Record, today: str) -> bool:
    """Say whether a deferred record should have been looked at again before today."""
    end = day_number((record["row"].get("deferral") or {}).get("look_again_by"))
    return end is not None and end < date.fromisoformat(today).toordinal()
