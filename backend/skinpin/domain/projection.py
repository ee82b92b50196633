"""The row of a defect: what lists, screens and reports show of it, derived from what stands."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from skinpin_sync.entry import Entry
from skinpin_sync.standing import Standing

from skinpin.domain.fields import is_move
from skinpin.domain.grading import Compiled, Standard
from skinpin.domain.kinds import kind_words
from skinpin.domain.moves import ACCEPT
from skinpin.domain.place import Definition, is_gone, is_off, place_words, station_of, zones_of
from skinpin.domain.projection_first import FIRST_FIELDS, axis_and, first_row, said
from skinpin.domain.projection_graded import grade_keys, no_grades
from skinpin.domain.projection_related import Related
from skinpin.domain.projection_stamped import (
    ids_on_pictures,
    ids_to_stamp,
    stamp_keys,
    stamps_on,
)
from skinpin.domain.quantities import is_unmeasured, tenth_nm_or_none, to_tenth_nm
from skinpin.domain.same_as import Other, head_of, number_key
from skinpin.domain.scale_struck import standing_figures
from skinpin.domain.stamps import Stamp, stamp_list
from skinpin.domain.states import StandingState, standing_state
from skinpin.domain.values import (
    Values,
    copied_in,
    differing,
    natural,
    settled_value,
    standing_of,
    two_values,
)
from skinpin.domain.verdicts import Pair, Verdict, act_of, state_of

Row = dict[str, Any]
NOT_MOVED = StandingState(None, (), None, None)


def defect_row(
    record: str,
    standing: Standing,
    related: Related,
    definition: Definition | None,
    standard: Standard | Compiled | None,
) -> Row:
    """Return the row of a defect, the same on tablet and server.

    Until somebody chooses between two values the worse counts: the highest grade of all
    combinations, the least finished state, every place, the earliest stage and date. A document
    that is not here leaves what it would say empty.
    """
    values = standing.values
    fields = _captured(values, related)
    if fields is not None:
        graded = grade_keys(values, {}, standard) if standard is not None else {}
        return first_row(_BLANK, record, fields, graded, definition, related.number_shared)
    on_pictures = (related.measurements, related.scales, related.photographs)
    measured, told = standing_figures(values, *on_pictures)
    row: Row = {"record": record}
    row |= _numbers(values, related)
    row |= grade_keys(measured, related.lines, standard)
    row |= _place_keys(values, definition)
    row |= _noted(measured)
    row |= _moved_keys(record, values, related)
    row["two_values"] = two_values("defect", values)
    shown = [one for one in related.photographs.values() if not _is_true(one, "withheld")]
    row["photographs"] = len(shown)
    open_ones = [pair for pair in related.entries if pair[1].result != "counts"]
    row["waits"] = [_shown(pair) for pair in open_ones if pair[1].result == "waits"]
    row["not_counting"] = [_shown(pair) for pair in open_ones if pair[1].result != "waits"]
    row["not_counting"] += no_grades(values) + told
    return row


def _captured(values: Values, related: Related) -> Mapping[str, Any] | None:
    """Return the fields of a record that a single capture made, None of any other record."""
    if len(related.entries) != 1 or len(values) != 1:
        return None
    if related.stamps or related.photographs or related.withdrawn or related.others:
        return None
    if related.lines:
        return None
    entry, verdict = related.entries[0]
    fields = values.get(entry.id)
    is_whole = fields is not None and len(fields) == len(entry.set)
    return fields if is_whole and verdict.counts and FIRST_FIELDS.issuperset(entry.set) else None


def _moved_keys(record: str, values: Values, related: Related) -> Row:
    """Return what moves and stamps make of a record; most new ones have neither."""
    if not related.stamps and not any(is_move(entry) for entry, _ in related.entries):
        state, raised = NOT_MOVED, {"raised_on": None, "raised_by": None, "cleared_on": None}
        stamped: Row = {"stamps": [], "stamps_hold": None}
        return _state_keys(state, None, None, values, related) | (
            _decided(values, state, related) | raised | stamped
        )
    mine = stamps_on(record, related)
    ids = ids_to_stamp(values, related)
    now = stamp_list(ids)
    state, head, left = _state(record, values, related, mine, now)
    return (
        _state_keys(state, head, left, values, related)
        | _decided(values, state, related)
        | _raised(related)
        | {"cleared_on": _cleared_on(state, related)}
        | stamp_keys(mine, (ids, ids_on_pictures(related)), _is_true(values, "independent"))
        | {"stamps_hold": state.holds}
    )


def _is_true(values: Values, field: str) -> bool:
    return any(value is True for value in standing_of(values, field))


def _texts(values: Iterable[Any]) -> list[str]:
    return [value for value in values if isinstance(value, str)]


def _text(values: Values, field: str) -> str | None:
    """Return the text of a field where just one stands."""
    value = settled_value("defect", values, field)
    return value if isinstance(value, str) else None


def _shown(pair: Pair) -> dict[str, str]:
    entry, verdict = pair
    return {"entry": entry.id, "code": verdict.code, "reason": verdict.reason}


def _state(
    record: str,
    values: Values,
    related: Related,
    stamps: Sequence[Stamp],
    now: Mapping[str, int | str],
) -> tuple[StandingState, str | None, str | None]:
    """Return the state, the record that leads, and the state it counts in where none does."""
    moves = [pair for pair in related.entries if is_move(pair[0])]
    alone = standing_state(values, moves, stamps, now, is_hidden=False)
    if alone.own != "Same as":
        return alone, None, None
    targets = tuple(_texts(differing("defect", values, "same_as")))
    number = _text(values, "number") or ""
    own = {record: Other(number, alone.own, targets, alone.state)}
    head = head_of(record, {**related.others, **own})
    if head in (None, record):
        return alone, head, alone.state
    return standing_state(values, moves, stamps, now, is_hidden=True), head, alone.state


def _numbers(values: Values, related: Related) -> Row:
    standing = _texts(differing("defect", values, "number"))
    if len(standing) == len(related.entries) == 1:
        return {"number": standing[0], "also_numbers": [], "number_shared": related.number_shared}
    standing.sort(key=number_key)
    before = _texts(
        entry.set.get("number")
        for entry, _ in related.entries
        if act_of(entry) not in related.withdrawn
    )
    also = sorted({*before, *standing} - set(standing[:1]), key=number_key)
    number = standing[0] if standing else None
    return {"number": number, "also_numbers": also, "number_shared": related.number_shared}


def _state_keys(
    state: StandingState,
    head: str | None,
    left: str | None,
    values: Values,
    related: Related,
) -> Row:
    is_aside = state.own == "Same as"
    targets = _texts(differing("defect", values, "same_as")) if is_aside else []
    lead = head or (targets[0] if len(targets) == 1 else None)
    other = related.others.get(lead) if lead else None
    return {
        "state": state.state,
        "states": list(state.states),
        "own_state": state.own,
        "left_from": left,
        "same_as": lead if is_aside else None,
        "same_as_all": targets,
        "same_as_number": other.number if is_aside and other else None,
        "choose_lead": is_aside and head is None,
    }


def _place_keys(values: Values, definition: Definition | None) -> Row:
    places = [one for one in differing("defect", values, "place") if isinstance(one, dict)]
    place = places[0] if places else None
    zones = [said(zones_of, definition, one) or [] for one in places]
    stations = [said(station_of, definition, one) for one in places]
    told = [
        one
        for one, at in zip(places, stations, strict=True)
        if at or is_off(one) or said(is_gone, definition, one)
    ]
    words = [said(place_words, definition, one) for one in told]
    station = stations[0] if stations else None
    get = place.get if place else {}.get
    return {
        "place": place,
        "zone": zones[0][0] if zones and zones[0] else None,
        "zones": sorted({zone for some in zones for zone in some}),
        "structure": get("structure"),
        "hand": get("hand"),
        "member": get("member"),
        "strakes": get("strakes"),
        "station": station["value"] if station else None,
        "station_text": axis_and(station, definition, place),
        "place_words": " or ".join(one for one in words if one),
    }


def _decided(values: Values, state: StandingState, related: Related) -> Row:
    kinds = differing("defect", values, "kind")
    stages = _texts(standing_of(values, "stage"))
    deferrals = [one for one in standing_of(values, "deferral") if isinstance(one, dict)]
    dates = sorted(_texts(one.get("look_again_by") for one in deferrals))
    disposition = _text(values, "disposition")
    deferral = settled_value("defect", values, "deferral")
    if disposition is None and _is_nil(state, values, related):
        disposition = ACCEPT
    words = [kind_words(one) for one in _texts(kinds)]
    return {
        "airframe": _text(values, "airframe"),
        "kind": _text(values, "kind"),
        "kind_words": " or ".join(words) or kind_words(None),
        "material": _text(values, "material"),
        "part": _text(values, "part"),
        "independent": _is_true(values, "independent"),
        "stage": min(stages, key=natural) if stages else None,
        "disposition": disposition,
        "deferral": deferral if isinstance(deferral, dict) else None,
        "look_again_by": dates[0] if dates and "Deferred" in state.states else None,
        "look_again": _look_again(values),
        "graded_by": _graded_by(values),
    }


def _graded_by(values: Values) -> str | None:
    """Return the issue of the standard that is pinned: "QS-7 issue 1"; nothing where two stand."""
    pin = settled_value("defect", values, "standard")
    words = [pin.get("name"), pin.get("issue")] if isinstance(pin, dict) else []
    if len(words) < 2 or not all(isinstance(word, str) for word in words):
        return None
    return f"{words[0]} issue {words[1]}"


def _look_again(values: Values) -> Row | None:
    """Return what an inspector was asked to look at again; nothing once it is answered."""
    asked = [one for one in standing_of(values, "look_again") if isinstance(one, dict)]
    open_ones = (
        one for one in asked if not isinstance(one.get("answer"), str) or not one["answer"]
    )
    return next(open_ones, None)


def _is_nil(state: StandingState, values: Values, related: Related) -> bool:
    """Say whether a record was cleared as nil, which sets its disposition by itself."""
    if state.state != "Cleared":
        return False
    nil = {entry.id for entry, _ in related.entries if state_of(entry).get("move") == "nil"}
    return any("state" in values.get(id, {}) for id in nil)


def _raised(related: Related) -> Row:
    made = [
        entry
        for entry, verdict in related.entries
        if _counts(entry, verdict, related) and state_of(entry).get("move") in ("raise", "nil")
    ]
    first = min(made, key=lambda entry: entry.id, default=None)
    return {
        "raised_on": related.day(first) if first else None,
        "raised_by": first.by if first else None,
    }


def _cleared_on(state: StandingState, related: Related) -> str | None:
    """Return the day a record that is cleared was cleared last."""
    made = [
        entry
        for entry, verdict in related.entries
        if _counts(entry, verdict, related) and state_of(entry).get("to") == "Cleared"
    ]
    last = max(made, key=lambda entry: entry.id, default=None)
    return related.day(last) if last and state.state == "Cleared" else None


def _noted(values: Values) -> Row:
    """Return the longest length measured, what was only copied, every note, and the tag."""
    standing = [one for one in standing_of(values, "length") if not is_unmeasured(one)]
    lengths = [one for one in standing if tenth_nm_or_none(one) is not None]
    return {
        "copied": copied_in("defect", values),
        "length": max(lengths, key=to_tenth_nm, default=None),
        "note": "; ".join(_texts(differing("defect", values, "note"))) or None,
        "tag": _text(values, "tag"),
    }


def _counts(entry: Entry, verdict: Verdict, related: Related) -> bool:
    return is_move(entry) and verdict.counts and act_of(entry) not in related.withdrawn


_BLANK = defect_row("", Standing({}), Related(), None, None)
