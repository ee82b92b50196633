"""The history of a record as sentences: what was done, by whom, where, and why."""

import re
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from typing import Any, NamedTuple

from skinpin_sync.entry import Entry

from skinpin.domain.days import Moment, moment_stamped
from skinpin.domain.fields import FIELDS, field_of, is_move
from skinpin.domain.history_changes import (
    Written,
    change_words,
    parts_of,
    struck,
    unmeasured_method,
    without_marks,
)
from skinpin.domain.history_pictures import WORDS as PICTURE_WORDS
from skinpin.domain.history_pictures import picture_words
from skinpin.domain.kinds import is_grade, kind_words
from skinpin.domain.moves import state_words
from skinpin.domain.place_words import is_off, place_words
from skinpin.domain.quantities import figure_text, is_quantity
from skinpin.domain.same_view_words import fit_words
from skinpin.domain.verdicts import Pair, Verdict, act_of, state_of

Names = Mapping[str, str]
LETTER = re.compile(r"[A-Z]{1,2}")
MOVED: Mapping[str, str] = {
    "new": "Begun",
    "raise": "Raised",
    "assess": "Assessed",
    "start": "Work started",
    "offer": "Offered for inspection",
    "clear": "Cleared",
    "accept": "Accepted as is and cleared",
    "nil": "Looked at, nothing found",
    "reject": "Rejected, back in work",
    "re-assess": "Taken back to be assessed again",
    "defer": "Deferred",
    "found again": "Found again",
    "raised in error": "Marked raised in error",
}
SILENT = ("sha256", "size_bytes", "media_type", "width_px", "height_px", "taken", "source")
"""Fields of a photograph that say nothing to a reader."""
POINTING: Mapping[str, str] = {
    "airframe": "for airframe",
    "defect": "of defect",
    "photograph": "on photograph",
    "repeat_of": "same view as photograph",
    "same_as": "same as",
    "survey": "in survey",
}
"""How a sentence leads to the record a field names."""
BRACKETED = ("photograph", "repeat_of")
"""Fields whose record is called by a word that needs brackets: a photograph by its role."""


def history(
    entries: Iterable[Pair],
    names: Names,
    moment: Moment = moment_stamped,
    withdrawn: Collection[tuple[str, str]] = (),
) -> list[dict[str, Any]]:
    """Return a record's history, oldest first: date, time, sentence, entry, counts.

    Where a value was corrected or changed, `parts` has the sentence as [words, struck through].

    Parameters
    ----------
    entries
        The entries of the record, and of its photographs, marks and stamps, with verdicts.
    names
        By id what people and records are called: "Inspector 1 (11)", "A/0002".
    moment
        Day and time of day of an entry in the workshop.
    withdrawn
        The acts that were undone.
    """
    pairs = sorted(entries, key=lambda pair: pair[0].id)
    told = Told({entry.id: entry for entry, _ in pairs}, names, moment)
    return [
        {
            "date": moment(entry)[0],
            "time": moment(entry)[1],
            **_said_in_parts(_sentence(entry, told) + _after(entry, verdict, withdrawn)),
            "entry": entry.id,
            "counts": verdict.counts and act_of(entry) not in withdrawn,
        }
        for entry, verdict in pairs
    ]


def _said_in_parts(marked: str) -> dict[str, Any]:
    sentence, parts = without_marks(marked), parts_of(marked)
    if all(not is_struck for _, is_struck in parts):
        return {"sentence": sentence}
    return {"sentence": sentence, "parts": [list(part) for part in parts]}


class Told(NamedTuple):
    """What a sentence is told from: the entries of the history by id, names, moments."""

    by_id: Mapping[str, Entry]
    names: Names
    moment: Moment


def _after(entry: Entry, verdict: Verdict, withdrawn: Collection[tuple[str, str]]) -> str:
    if verdict.result == "does not count":
        return f" Does not count: {verdict.reason}"
    if verdict.result == "waits":
        return f" {verdict.reason}"
    return " Undone since." if act_of(entry) in withdrawn else ""


def _sentence(entry: Entry, told: Told) -> str:
    names, clauses = told.names, _clauses(entry, told)
    what = "; ".join(clause for clause in clauses if clause) or "Nothing written"
    device = entry.device
    where = f"tablet {device}" if LETTER.fullmatch(device) else "a desk"
    why = f": {without_marks(entry.why).rstrip('.')}" if entry.why else ""
    return f"{what[:1].upper()}{what[1:]} by {names.get(entry.by, entry.by)}, {where}{why}."


def _clauses(entry: Entry, told: Told) -> list[str]:
    names = told.names
    if entry.kind == "stamp":
        word = entry.set.get("act")
        return [f"stamped {word}" if isinstance(word, str) and word else "stamped"]
    if entry.kind in PICTURE_WORDS:
        picture = record_words("photograph", entry.set.get("photograph"), names)
        return [picture_words(entry, picture)]
    if entry.kind == "photograph" and isinstance(entry.set.get("sha256"), str):
        shows = entry.set.get("role")
        return [f"photograph added ({shows})" if isinstance(shows, str) else "photograph added"]
    fields = [field for field in entry.set if field != "state" or entry.kind != "defect"]
    shown = [field for field in fields if entry.kind != "photograph" or field not in SILENT]
    moved = [_move(entry, names)] if is_move(entry) else []
    if state_of(entry).get("move") == "same as":
        shown = [field for field in shown if field != "same_as"]
    return [*moved, *_fields(entry, sorted(shown, key=_place_in(entry.kind)), told)]


def _move(entry: Entry, names: Names) -> str:
    state = state_of(entry)
    move, to = str(state.get("move")), state.get("to")
    end = state_words(to) if isinstance(to, str) else "nothing"
    if move == "undo":
        return f"undone, back to {end}"
    if move == "back":
        return f"taken back to {end}"
    if move == "choose":
        return f"{end} chosen"
    other = record_words("same_as", entry.set.get("same_as"), names)
    if move == "same as":
        return f"found to be the same as {other or 'another record'}"
    return MOVED.get(move, f"moved to {end}")


def _place_in(kind: str) -> Callable[[str], tuple[int, str]]:
    """Return a key that puts fields in the order of the field table."""
    order = {field: at for at, field in enumerate(FIELDS.get(kind, {}))}
    return lambda field: (order.get(field, len(order)), field)


def _fields(entry: Entry, fields: Sequence[str], told: Told) -> list[str]:
    """Return what was written, together, and each change by itself."""
    written, changed = [], []
    for field in fields:
        label, value = _label(entry.kind, field), entry.set[field]
        words = _said(entry.kind, field, value, told.names)
        before = _before(entry, field, told)
        was = " and ".join(dict.fromkeys(old.words for old in before if old.words))
        if not words:
            continue
        if value is None:
            changed.append(f"{label} {struck(was)} taken back" if was else f"{label} taken back")
        elif answer := _answered(field, value, before):
            changed.append(answer)
        elif change := change_words(label, Written(entry, value, words), before, told.moment):
            changed.append(change)
        else:
            written.append(_named(label, words))
    return [", ".join(written), *changed]


def _answered(field: str, value: Any, before: Sequence[Written]) -> str:
    """Return the answer to a question that stood open, the question itself as it was told."""
    answer = _answer_in(value)
    if field != "look_again" or not answer or not before:
        return ""
    return "" if any(_answer_in(old.value) for old in before) else f"answered: {answer}"


def _answer_in(value: Any) -> str:
    answer = value.get("answer") if isinstance(value, Mapping) else None
    return without_marks(answer).rstrip(". ") if isinstance(answer, str) else ""


def _said(kind: str, field: str, value: Any, names: Names) -> str:
    """Return a value as part of a sentence, empty where it names a record not known here."""
    row = field_of(kind, field)
    if row and row["type"] == "record" and value is not None:
        return record_words(field, value, names)
    words = without_marks(value_words(kind, field, value, names)).rstrip(". ")
    method = unmeasured_method(value) if is_quantity(value) else ""
    return f"{words} ({method})" if method else words


def record_words(field: str, value: Any, names: Names) -> str:
    """Return what a record is called that a field names, empty where it is not known here."""
    name = names.get(value, "") if isinstance(value, str) else ""
    return f"({name})" if name and field in BRACKETED else name


def _before(entry: Entry, field: str, told: Told) -> list[Written]:
    """Return the values that an entry saw and took the place of."""
    seen = [told.by_id[id] for id in entry.seen.get(field, ()) if id in told.by_id]
    return [
        Written(one, one.set[field], _said(entry.kind, field, one.set[field], told.names))
        for one in seen
        if one.record == entry.record and one.set.get(field) is not None
    ]


def _named(label: str, words: str) -> str:
    """Return words behind their label: "to Stage 4" of the label "to stage"."""
    every = label.split(" ")
    is_twice = every[-1].lower() == words.split(" ")[0].lower()
    return " ".join([*(every[:-1] if is_twice else every), words])


def _label(kind: str, field: str) -> str:
    row = field_of(kind, field)
    if row and row["type"] == "record" and field in POINTING:
        return POINTING[field]
    label = str(row["label"]) if row else field.replace("_", " ")
    return label[:1].lower() + label[1:]


def value_words(kind: str, field: str, value: Any, names: Names) -> str:
    """Return a value as it is read.

    >>> value_words("defect", "depth", {"value": "0.011", "unit": "in"}, {})
    '0.011 in'
    """
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if is_quantity(value):
        return figure_text(value)
    if isinstance(value, str):
        return kind_words(value).lower() if field == "kind" else names.get(value, value)
    if isinstance(value, list):
        return ", ".join(value_words(kind, "", one, names) for one in value)
    if isinstance(value, Mapping):
        words = _mapping_words(kind, value, names)
        is_none = field == "overrule" and not is_grade(value.get("grade"))
        return f"{words} (no grade: ignored)" if is_none else words
    return str(value)


def _mapping_words(kind: str, value: Mapping[str, Any], names: Names) -> str:
    if is_off(value):
        return place_words({}, value)
    if "member" in value:
        return _place_words(value)
    if "turn_deg" in value:
        return fit_words(value)
    if "issue" in value:
        name = value_words(kind, "", value.get("name", ""), names)
        return f"{name} issue {value_words(kind, '', value['issue'], names)}".strip()
    parts = [
        _named(key.replace("_", " "), _part_words(kind, key, one, names)).rstrip(". ")
        for key, one in sorted(value.items())
        if key != "sha256"
    ]
    return ", ".join(parts)


def _part_words(kind: str, key: str, value: Any, names: Names) -> str:
    if key == "photograph":
        return record_words(key, value, names)
    return value_words(kind, "", value, names)


def _place_words(place: Mapping[str, Any]) -> str:
    """Return a place as it was written; what its definition would say is not known here."""
    said = [*_texts(place, "structure", "hand"), *_end_words(place)]
    to, strakes, layer = place.get("to"), place.get("strakes"), place.get("layer")
    if isinstance(to, Mapping) and (end := _end_words(to)):
        said += ["to", *end]
    if isinstance(strakes, list):
        named = [strake for strake in strakes if isinstance(strake, str) and strake]
        said.append("–".join(dict.fromkeys(named)))
    if isinstance(layer, int) and not isinstance(layer, bool):
        said.append(f"sheet {layer}")
    return " ".join(word for word in said if word)


def _end_words(end: Mapping[str, Any]) -> list[str]:
    offset = end.get("offset")
    if is_quantity(offset) and isinstance(offset, Mapping):
        return [*_texts(end, "member"), f"+ {offset['value']} {offset['unit']}"]
    return _texts(end, "member")


def _texts(value: Mapping[str, Any], *keys: str) -> list[str]:
    words = [value.get(key) for key in keys]
    return [word for word in words if isinstance(word, str) and word]
