"""How a history tells that a value took the place of others: corrected, measured again, chosen."""

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from skinpin_sync.entry import Entry

from skinpin.domain.days import Moment
from skinpin.domain.quantities import is_quantity

TAKEN_BACK = "taken back"
"""The reason of an act that takes a capture back."""


class Written(NamedTuple):
    """A value as an entry wrote it, and how it is read."""

    entry: Entry
    value: Any
    words: str


def change_words(label: str, new: Written, before: Sequence[Written], moment: Moment) -> str | None:
    """Return the clause that tells what a value replaced, None where it replaced nothing.

    *Corrected* is what the same person typed anew on the same day and tablet, by the same method
    and instrument. A figure that came otherwise is a measurement of its own: *measured again*.
    What is no figure is *changed*. One of several values that stood is *chosen*.
    """
    said = list(dict.fromkeys(old.words for old in before if old.words))
    was = " and ".join(said)
    if not was:
        return None
    if len(said) > 1 and new.words in said:
        return f"{label} {new.words} chosen from {was}"
    if is_measured(new.value) and not any(is_measured(old.value) for old in before):
        return f"{label}, before {was}, measured as {new.words}{_with(new.value)}"
    is_again = not any(_is_same_capture(new, old, moment) for old in before)
    if was == new.words:
        is_told = is_again and is_measured(new.value)
        return f"{label} measured again, {was} as before{_with(new.value)}" if is_told else None
    return f"{label} {was} {_how(new, is_again)} {new.words}{_with(new.value) if is_again else ''}"


def _how(new: Written, is_again: bool) -> str:
    if not is_again:
        return "corrected to"
    return "measured again as" if is_measured(new.value) else "changed to"


def is_measured(value: Any) -> bool:
    """Say whether a value is a figure that was measured where it is written."""
    return is_quantity(value) and isinstance(value, Mapping) and not unmeasured_method(value)


def unmeasured_method(value: Any) -> str:
    """Return how a figure came that nobody measured there: from a drawing, copied; else nothing."""
    method = value.get("method") if isinstance(value, Mapping) else None
    if not isinstance(method, str):
        return ""
    return method if method == "drawing figure" or method.endswith("not measured here") else ""


def _is_same_capture(new: Written, old: Written, moment: Moment) -> bool:
    if new.entry.why == TAKEN_BACK:
        return True
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
