"""What a history says of what lies on a photograph: marks, scales and measurements."""

from collections.abc import Callable

from skinpin_sync.entry import Entry

from skinpin.domain.quantities import figure_text, is_quantity


def picture_words(entry: Entry, shown: str) -> str:
    """Return the sentence of an entry on a photograph; `shown` is what that is called."""
    where = f" on photograph {shown}" if shown else ""
    return WORDS[entry.kind](entry, where)


def _mark(entry: Entry, where: str) -> str:
    if entry.set.get("struck") is True:
        return "mark struck out"
    return "mark moved" if entry.seen.get("shape") else f"mark made{where}"


def _scale(entry: Entry, where: str) -> str:
    if entry.set.get("struck") is True:
        return "scale struck out, what was measured with it withdrawn"
    if entry.seen.get("points"):
        return "scale moved"
    lengths = [entry.set.get(field) for field in ("length", "width", "height")]
    sizes = " × ".join(figure_text(one) for one in lengths if is_quantity(one))
    named = entry.set.get("object")
    said = [one for one in (named, sizes) if isinstance(one, str) and one]
    return f"scale set{where}" + (f": {' '.join(said)}" if said else "")


def _measurement(entry: Entry, where: str) -> str:
    if entry.set.get("struck") is True:
        return "measurement struck out"
    if entry.seen.get("points"):
        return "measurement moved"
    shape = entry.set.get("shape")
    return f"{shape} measured{where}" if isinstance(shape, str) and shape else f"measured{where}"


WORDS: dict[str, Callable[[Entry, str], str]] = {
    "mark": _mark,
    "scale": _scale,
    "measurement": _measurement,
}
