"""What is said of stamps that were overtaken: which, why, and what to do."""

from collections.abc import Mapping, Sequence
from typing import Any

from skinpin.domain.moves import state_words
from skinpin.domain.stamps import FIRST

Shown = Mapping[str, Any]
SHORT: Mapping[str, str] = {
    "changed": "record changed since",
    "measured": "scale, length or lamp changed since",
    "lengths": "made without scales and lengths",
    "less": "made over less than stood",
}
"""Beside a stamp, by why it does not hold."""
_WHY: Mapping[str, str] = {
    "changed": "the record was changed after it",
    "measured": "a scale, a length or the lamp of a photograph was written or struck after it",
    "lengths": (
        "it was made without the scales, lengths or lamps of the photographs, "
        "which that page or tablet did not have"
    ),
    "less": "it covers less than stood, for that page or tablet did not have the rest",
}
_SECOND = (
    "An independent inspection is asked for, and no second person has stamped over what stands. "
    "A second person inspects and stamps."
)
_OTHER = (
    "Who stamped over what stands can't clear it: not who did the work, nor one person twice. "
    "Somebody else inspects and stamps."
)
_NONE = "No stamp by which it was cleared counts any more. Decide or inspect, and stamp."
_DECIDED = "Where it was accepted by a decision: decide and stamp again."


def short_words(stamp: Shown) -> str:
    """Return what is said beside a stamp that does not hold, nothing of one that does."""
    return SHORT.get(str(stamp.get("overtaken")), "")


def overtaken_words(row: Mapping[str, Any]) -> str:
    """Return why a record that was cleared is not, nothing where its stamps hold.

    A sentence with the stamp that was overtaken last and what to do, from the row of a defect:
    `stamps`, `stamps_hold`, `state`, `independent`.
    """
    stamps: Sequence[Shown] = row.get("stamps") or []
    if row.get("stamps_hold") is not False:
        return ""
    until = f"Until then the record counts as {state_words(row['state'] or '')}."
    passed = [one for one in stamps if not one["holds"]]
    if any(one["holds"] and one["act"] in FIRST for one in stamps):
        return f"{_held_words(row, stamps, passed)} {until}"
    if not passed:
        return f"{_NONE} {until}"
    last = max(passed, key=lambda one: str(one["entry"]))
    named = f"{last['act']} stamp {last['number']} of {last['date']}"
    why = _WHY.get(str(last.get("overtaken")), _WHY["changed"])
    todo = "Decide and stamp" if last["act"] == "DISPOSITION" else "Inspect and stamp"
    return f"{named} does not hold: {why}. {todo} again. {until}"


def _held_words(row: Mapping[str, Any], stamps: Sequence[Shown], passed: Sequence[Shown]) -> str:
    """Return why an inspection that holds does not clear a record."""
    has_second = any(one["holds"] and one["act"] == "INDEPENDENT" for one in stamps)
    words = _SECOND if row["independent"] and not has_second else _OTHER
    is_decided = any(one["act"] == "DISPOSITION" for one in passed)
    return f"{words} {_DECIDED}" if is_decided else words
