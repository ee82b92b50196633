"""The fields of every kind of record, and which entries are judged."""

import json
from collections.abc import Iterable, Mapping
from importlib.resources import files
from typing import Any

from skinpin_sync.entry import Entry
from skinpin_sync.standing import Counted, counts_for

Field = Mapping[str, Any]


def read_table(name: str) -> Any:
    """Return a table that both languages read."""
    return json.loads(files(__package__).joinpath("tables", name).read_text("utf-8"))


FIELDS: Mapping[str, Mapping[str, Field]] = read_table("fields.json")
ROLES = ("inspector", "lead", "clerk", "fitter", "bench_fitter", "design_authority")
GRADING_FIELDS = tuple(name for name, field in FIELDS["defect"].items() if field.get("grading"))
_JUDGED = {
    kind: frozenset(name for name, row in fields.items() if not row["capture"])
    for kind, fields in FIELDS.items()
}
_STAMPED = {
    kind: frozenset(name for name, row in fields.items() if row["stamped"])
    for kind, fields in FIELDS.items()
}

ANYBODY = len(ROLES) + 1


def _writers(fields: Mapping[str, Field]) -> int:
    """Return how many roles may write the field of a kind that the most may write."""
    ways = (row["set_by"] for row in fields.values())
    return max(ANYBODY if way == "any" else len(way) for way in ways)


_RANK = {kind: _writers(fields) for kind, fields in FIELDS.items()}


def field_of(kind: str, field: str) -> Field | None:
    """Return the row of a field, or None where this version knows no such field."""
    return FIELDS.get(kind, {}).get(field)


def is_capture_field(kind: str, field: str) -> bool:
    """Say whether a field counts as it comes; a field unknown here does."""
    row = field_of(kind, field)
    return row is None or row["capture"] is True


def stamped_fields(kind: str) -> frozenset[str]:
    """Return the fields of a kind that stamps are made over."""
    return _STAMPED.get(kind, frozenset())


def is_move(entry: Entry) -> bool:
    """Say whether an entry changes the state of a defect."""
    return entry.kind == "defect" and "state" in entry.set


def is_judged(entry: Entry) -> bool:
    """Say whether an entry is a move, a stamp or a decision, and no mere capture."""
    judged = _JUDGED.get(entry.kind)
    return judged is not None and not judged.isdisjoint(entry.set)


def counted_fields(entry: Entry, counts: bool, withdrawn: bool) -> bool | frozenset[str]:
    """Return what of an entry goes into standing values: all, nothing, or its captured fields.

    What was seen stands even when the move written with it does not count; what was undone does
    not.
    """
    if withdrawn:
        return False
    if counts:
        return True
    return frozenset(field for field in entry.set if is_capture_field(entry.kind, field))


def record_kind(counted: Iterable[tuple[Entry, Counted]]) -> str:
    """Return the kind of a record; entries of it that bear another count for nothing.

    Of several kinds, which is a mistake or worse, the one that the fewest roles may write: or a
    capture of another kind could take a record away, or set what its author may not decide. Of
    those, one with a decision that counts goes before mere captures, then the first by id.
    """
    pairs = list(counted)
    said = [pair for pair in pairs if _says(*pair)]
    entry, _ = min(said or pairs, key=_claim)
    return entry.kind


def _claim(pair: tuple[Entry, Counted]) -> tuple[int, bool, str, str]:
    """Return how well an entry claims its record for its kind; the least wins."""
    entry, counts = pair
    judged = _JUDGED.get(entry.kind, frozenset())
    is_decided = any(field in judged and counts_for(counts, field) for field in entry.set)
    return _RANK.get(entry.kind, ANYBODY + 1), not is_decided, entry.id, entry.kind


def _says(entry: Entry, counts: Counted) -> bool:
    """Say whether an entry counts for a field that its kind has."""
    fields = FIELDS.get(entry.kind, {})
    return any(field in fields and counts_for(counts, field) for field in entry.set)
