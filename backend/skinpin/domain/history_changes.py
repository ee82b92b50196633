"""How a history tells that a value took the place of others: corrected, measured again, chosen."""

import re
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from skinpin_sync.entry import Entry

from skinpin.domain.days import Moment
from skinpin.domain.fields import read_table
from skinpin.domain.quantities import is_quantity, is_withdrawn, unmeasured_words

DRAWN = "drawing figure"
TAKEN_BACK = "taken back"
"""The reason of an act that takes a capture back."""
REASONS: Mapping[str, bool] = {
    row["why"]: row["corrects"] for row in read_table("corrections.json")["reasons"]
} | {TAKEN_BACK: True}
"""Reasons that say by themselves whether what stood before was wrong."""
_MARKS = ("\ue000", "\ue001")
_MARKED = re.compile("\ue000([^\ue001]*)\ue001")


class Written(NamedTuple):
    """A value as an entry wrote it, and how it is read."""

    entry: Entry
    value: Any
    words: str


def change_words(label: str, new: Written, before: Sequence[Written], moment: Moment) -> str | None:
    """Return the clause that tells what a value replaced, None where it replaced nothing.

    *Corrected* is what the same person typed anew on the same day and tablet, by the same method
    and instrument, or for a reason that says so; the old value is marked `struck`. A figure that
    came otherwise is a measurement of its own: *measured again*. What is no figure is *changed*.
    One of several values that stood is *chosen*.
    """
    said = list(dict.fromkeys(old.words for old in before if old.words))
    was = " and ".join(said)
    if not was:
        return None
    if len(said) > 1 and new.words in said:
        return f"{label} {new.words} chosen from {was}"
    if is_measured(new.value) and not any(is_measured(old.value) for old in before):
        return f"{label}, before {was}, measured as {new.words}{_with(new.value)}"
    if is_withdrawn(new.value):
        return f"{label} {struck(was)} withdrawn with its scale"
    is_again = not any(_is_same_capture(new, old, moment) for old in before)
    if was == new.words:
        is_told = is_again and is_measured(new.value)
        return f"{label} measured again, {was} as before{_with(new.value)}" if is_told else None
    how = _how(new, is_again)
    shown = was if how == "measured again as" else struck(was)
    return f"{label} {shown} {how} {new.words}{_with(new.value) if is_again else ''}"


def struck(words: str) -> str:
    """Mark words as the old value, to be shown struck through."""
    return words.join(_MARKS)


def without_marks(words: str) -> str:
    """Return words in which nothing is marked, whatever was typed."""
    return words.replace(_MARKS[0], "").replace(_MARKS[1], "")


def parts_of(marked: str) -> list[tuple[str, bool]]:
    """Return the parts of a sentence, each with whether it is struck through.

    >>> parts_of("Depth " + struck("1 mm") + " corrected to 2 mm.")
    [('Depth ', False), ('1 mm', True), (' corrected to 2 mm.', False)]
    """
    every = [(words, at % 2 == 1) for at, words in enumerate(_MARKED.split(marked))]
    return [part for part in every if part[0]]


def _how(new: Written, is_again: bool) -> str:
    if not is_again:
        return "corrected to"
    return "measured again as" if is_measured(new.value) else "changed to"


def is_measured(value: Any) -> bool:
    """Say whether a value is a figure that was measured where it is written."""
    return is_quantity(value) and isinstance(value, Mapping) and not unmeasured_method(value)


def unmeasured_method(value: Any) -> str:
    """Return how a figure came that nobody measured there: from a drawing, copied; else nothing."""
    if isinstance(value, Mapping) and value.get("method") == DRAWN:
        return DRAWN
    return unmeasured_words(value)


def _is_same_capture(new: Written, old: Written, moment: Moment) -> bool:
    said = REASONS.get(new.entry.why or "")
    if said is not None:
        return said
    one, other = new.entry, old.entry
    is_same_visit = (one.by, one.device, moment(one)[0]) == (
        other.by,
        other.device,
        moment(other)[0],
    )
    return is_same_visit and _means(new.value) == _means(old.value)


def _means(value: Any) -> tuple[str, str]:
    """Return method and instrument of a figure, empty where it has none."""
    said = value if isinstance(value, Mapping) else {}
    method, instrument = said.get("method"), said.get("instrument")
    return (
        method if isinstance(method, str) else "",
        instrument if isinstance(instrument, str) else "",
    )


def _with(value: Any) -> str:
    """Return the instrument of a measurement, else its method, as the end of a clause."""
    if not is_measured(value):
        return ""
    method, instrument = _means(value)
    named = instrument or method
    return f" with {named}" if named else ""
