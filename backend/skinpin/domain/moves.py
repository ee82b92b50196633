"""What a move needs: each need of the table as a question to what its author had seen."""

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from skinpin_sync.entry import Entry

from .fields import GRADING_FIELDS, stamped_fields
from .grading_line import line_inputs
from .kinds import DISPOSITIONS
from .permissions import Row, rows_from
from .quantities import tenth_nm_or_none
from .seen import Look, states_of
from .stamps import FIRST, Stamp, clears, is_second, stamp_list, stamp_of
from .verdicts import Missing, state_of, writer_of

ACCEPT = "Accept as is"
AFTER_WORK = "after work"


class FileMissing(Missing):
    """A standard's file must come before a move can be judged."""

    def __init__(self, sha256s: Iterable[str]) -> None:
        super().__init__()
        self.files = tuple(sorted(sha256s))


def state_words(state: str) -> str:
    """Return a state in full."""
    return "Offered for inspection" if state == "Offered" else state


def fields_to_see(move: str) -> tuple[str, ...]:
    """Return the fields whose standing ids a move should name in `seen` so that it can count."""
    asked = {
        "new": (),
        "raise": ("number", "place", "kind", "no_photograph"),
        "assess": ("disposition", "reason"),
        "offer": ("disposition", "evidence"),
        "clear": ("independent",),
        "accept": (*GRADING_FIELDS, "disposition", "standard", "authority"),
        "nil": ("number", "place", "kind"),
        "defer": ("deferral",),
        "same as": ("same_as",),
        "choose": tuple(sorted(stamped_fields("defect"))),
    }
    return ("state", *asked.get(move, ()))


def move_fault(look: Look, entry: Entry, role: str) -> tuple[str, str] | None:
    """Return code and sentence of why a move does not count, None where it does."""
    state = state_of(entry)
    move, to = state.get("move"), state.get("to")
    if not isinstance(move, str) or not (to is None or isinstance(to, str)):
        return "shape", "The state is no move with its result."
    before = look.named(entry, "state")
    states = states_of(before)
    rows = rows_from(move, states)
    seen = " and ".join(state_words(state) for state in sorted(states)) or "nothing"
    if not rows:
        return "not open", f"'{move}' does not lead from {seen}, which its author had seen."
    row = next((row for row in rows if role in row["who"]), None)
    if row is None:
        whom = role.replace("_", " ")
        return "role", f"'{move}' from {seen} is not for the role {whom}."
    return _wrong_end(look, entry, before, row) or _unmet(look, entry, row)


def _wrong_end(look: Look, entry: Entry, before: list[Entry], row: Row) -> tuple[str, str] | None:
    move, to = row["move"], state_of(entry).get("to")
    if move == "undo":
        return _undo_fault(look, entry, before)
    if move == "choose":
        ends = states_of(before)
    elif move == "back":
        ends = look.left(before, row["from"][0])
    else:
        ends = {row["to"]}
    if to in ends:
        return None
    wanted = " or ".join(state_words(end) for end in sorted(ends)) or "nothing"
    return "wrong end", f"'{move}' leads to {wanted}, not to {to or 'nothing'}."


def _undo_fault(look: Look, entry: Entry, before: list[Entry]) -> tuple[str, str] | None:
    latest = look.not_undone(before)
    undoes, to = state_of(entry).get("undoes"), state_of(entry).get("to")
    if [move.id for move in latest] != [undoes]:
        return "not latest", "Only the latest move not yet undone can be undone."
    [move] = latest
    if (move.by, writer_of(move)) != (entry.by, writer_of(entry)):
        return "not own", "Only who made a move can undo it, before the app was started again."
    left = states_of(look.named(move, "state"))
    if len(left) > 1:
        return "a choice", "A choice can't be undone: it left more than one state."
    if to != next(iter(left), None):
        return (
            "wrong end",
            f"Undo leads to {next(iter(left), 'nothing')}, not to {to or 'nothing'}.",
        )
    return None


def _unmet(look: Look, entry: Entry, row: Row) -> tuple[str, str] | None:
    for need in row["needs"]:
        if not NEEDS[need](look, entry):
            if need == "evidence":
                return "needs", _evidence_sentence(look, entry)
            words = NEED_WORDS.get(need, f"a {need}")
            return "needs", f"'{row['move']}' needs {words}; it names none."
    return None


def _given(field: str) -> Callable[[Look, Entry], bool]:
    return lambda look, entry: any(value not in ("", {}) for value in look.values(entry, field))


def is_text(value: object) -> bool:
    """Say whether a value is a text that says something."""
    return isinstance(value, str) and value != ""


def _why(look: Look, entry: Entry) -> bool:
    return is_text(entry.why) or is_text(entry.set.get("reason"))


def _is_asked(look: Look, entry: Entry) -> bool:
    return any(value is True for value in look.values(entry, "independent"))


def photographs(look: Look, entry: Entry) -> list[Entry]:
    """Return the photographs of the record that the act brings or relies on."""
    mine = look.relied("photograph")
    return [one for one in mine if one.set.get("defect") == entry.record]


def stamps(look: Look, entry: Entry) -> list[Stamp]:
    """Return the stamps on the record that the act brings or relies on."""
    mine = [one for one in look.relied("stamp") if one.set.get("defect") == entry.record]
    return [stamp_of(one, look.act) for one in mine]


def _works(look: Look, entry: Entry) -> list[Mapping[str, Any]]:
    """Return the rows of the dispositions seen; what none of them names is plain work."""
    words = look.values(entry, "disposition")
    return [row for row in DISPOSITIONS if row["disposition"] in words] or [PLAIN_WORK]


PLAIN_WORK: Mapping[str, Any] = {"work": "work", "evidence": ["photograph"]}


def _lacks_evidence(look: Look, entry: Entry) -> list[str]:
    """Return the kinds of evidence that the dispositions seen ask for and that are not there."""
    asked = {kind for row in _works(look, entry) for kind in row["evidence"]}
    return [kind for kind in EVIDENCE if kind in asked and not EVIDENCE[kind](look, entry)]


def _evidence_sentence(look: Look, entry: Entry) -> str:
    work = " and ".join(dict.fromkeys(row["work"] for row in _works(look, entry)))
    lacking = " and ".join(EVIDENCE_WORDS[kind] for kind in _lacks_evidence(look, entry))
    return f"Offering {work} needs {lacking}."


def _evidence(look: Look, entry: Entry) -> list[Mapping[str, Any]]:
    return [value for value in look.values(entry, "evidence") if isinstance(value, dict)]


def _shows_work(look: Look, entry: Entry) -> bool:
    """Say whether a photograph is brought, is named as evidence, or was taken after the work."""
    named = [value.get("photograph") for value in _evidence(look, entry)]
    return any(
        one in look.act or one.record in named or one.set.get("role") == AFTER_WORK
        for one in photographs(look, entry)
    )


def _has_depth_left(look: Look, entry: Entry) -> bool:
    left = [tenth_nm_or_none(value.get("depth_left")) for value in _evidence(look, entry)]
    return any(length is not None and length > 0 for length in left)


EVIDENCE: Mapping[str, Callable[[Look, Entry], bool]] = {
    "photograph": _shows_work,
    "depth_left": _has_depth_left,
}
"""The kinds of evidence that are asked for; a line of rivets is once one can be linked."""
EVIDENCE_WORDS: Mapping[str, str] = {
    "photograph": "a photograph taken after the work",
    "depth_left": "the thickness left, measured after the work",
}


def _not_the_doer(look: Look, entry: Entry) -> bool:
    doers = look.doers(entry)
    return entry.by not in doers and all(s.person not in doers for s in stamps(look, entry))


def _has_stamps(look: Look, entry: Entry) -> bool:
    mine = stamps(look, entry)
    first = [stamp for stamp in mine if stamp.act in FIRST]
    if _is_asked(look, entry):
        return any(is_second(one, two) for one in first for two in mine)
    return bool(first)


def _all(field: str, wanted: str) -> Callable[[Look, Entry], bool]:
    def ask(look: Look, entry: Entry) -> bool:
        values = look.values(entry, field)
        return bool(values) and all(value == wanted for value in values)

    return ask


def _has_authority(look: Look, entry: Entry) -> bool:
    if _given("authority")(look, entry):
        return True
    pins = look.values(entry, "standard")
    files = [pin.get("sha256") for pin in pins if isinstance(pin, dict)]
    if not pins or len(files) < len(pins) or not all(is_text(sha256) for sha256 in files):
        return False
    values = {field: look.values(entry, field) for field in GRADING_FIELDS}
    for field, some in line_inputs(_lines(look, entry)).items():
        values[field] = [*values.get(field, ()), *some]
    grade = look.known.grade_of({f: some for f, some in values.items() if some}, pins)
    if grade is None:
        raise FileMissing(str(sha256) for sha256 in files)
    return grade < 4


def _lines(look: Look, entry: Entry) -> dict[str, dict[str, Mapping[str, Any]]]:
    """Return by record what the act relies on of rivet lines that name the defect."""
    found: dict[str, dict[str, Mapping[str, Any]]] = {}
    for one in look.relied("rivet_line"):
        found.setdefault(one.record, {})[one.id] = one.set
    return {
        record: values
        for record, values in found.items()
        if any(fields.get("defect") == entry.record for fields in values.values())
    }


def _is_deferral(look: Look, entry: Entry) -> bool:
    return any(
        isinstance(value, dict)
        and (is_text(value.get("to_stage")) or is_text(value.get("to_date")))
        and is_text(value.get("limit"))
        and is_text(value.get("authority"))
        for value in look.values(entry, "deferral")
    )


def _another_record(look: Look, entry: Entry) -> bool:
    values = look.values(entry, "same_as")
    return bool(values) and all(isinstance(v, str) and v != entry.record for v in values)


def _cleared_holds(look: Look, entry: Entry) -> bool:
    if state_of(entry).get("to") != "Cleared":
        return True
    cleared = [
        move
        for move in look.led_here(look.named(entry, "state"))
        if state_of(move).get("to") == "Cleared"
    ]
    mine, now = stamps(look, entry), stamp_list(_ids_seen(look, entry))
    kinds = look.values(entry, "kind")
    asked = _is_asked(look, entry)
    return any(
        clears(state_of(move)["move"], mine, now, kinds, asked, look.doers(move))
        for move in cleared
    )


def _ids_seen(look: Look, entry: Entry) -> set[str]:
    """Return the ids of stamped fields the author had seen: of the defect and what it relies on."""
    ids = {one.id for field in stamped_fields("defect") for one in look.named(entry, field)}
    for kind in ("photograph", "mark", "scale", "measurement", "rivet_line"):
        stamped = stamped_fields(kind)
        ids |= {one.id for one in look.relied(kind) if stamped & one.set.keys()}
    return ids


NEEDS: Mapping[str, Callable[[Look, Entry], Any]] = {
    "number": _given("number"),
    "place": _given("place"),
    "kind": _given("kind"),
    "disposition": _given("disposition"),
    "why": _why,
    "reason": lambda look, entry: _why(look, entry) or _given("reason")(look, entry),
    "photograph": lambda look, entry: photographs(look, entry),
    "photograph or reason for none": lambda look, entry: (
        photographs(look, entry) or _given("no_photograph")(look, entry)
    ),
    "evidence": lambda look, entry: not _lacks_evidence(look, entry),
    "not the doer": _not_the_doer,
    "stamps": _has_stamps,
    "accept as is": _all("disposition", ACCEPT),
    "disposition stamp": lambda look, entry: any(
        stamp.act == "DISPOSITION" for stamp in stamps(look, entry)
    ),
    "authority for grade 4": _has_authority,
    "kind nil": _all("kind", "nil"),
    "deferral": _is_deferral,
    "another record": _another_record,
    "stamps hold for cleared": _cleared_holds,
    "latest move of the same person and writer": lambda look, entry: True,
}
NEED_WORDS: Mapping[str, str] = {
    "why": "a reason",
    "place": "a place, or the bay only",
    "photograph or reason for none": "a photograph, or the reason for none",
    "not the doer": "a person, and stamps of persons, who neither started nor offered the work",
    "stamps": "an inspection stamp, and a second person's where independent inspection is asked",
    "accept as is": "the disposition 'Accept as is'",
    "disposition stamp": "a stamp on the disposition",
    "authority for grade 4": "the design authority's reference, for grade 4 may not be ruled out",
    "kind nil": "the kind nil",
    "deferral": "a stage or date, a limit or 'no limit', and an authority",
    "another record": "another record",
    "stamps hold for cleared": "stamps that hold before Cleared can be chosen",
}
