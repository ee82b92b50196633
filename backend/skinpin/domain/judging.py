"""Whether an entry counts, as a function of what its author had seen and of nothing later.

An act is judged as one: when one of its moves, stamps or decisions does not count, none does.
Captures count as they come.
"""

from collections.abc import Iterable, Mapping, Sequence

from skinpin_sync.entry import Entry

from .fields import FIELDS, is_capture_field, is_judged, is_move
from .moves import FileMissing, is_text, move_fault
from .people import acting_role, clean, confirmed, left_before
from .permissions import MOVES, may_set
from .seen import Look
from .stamps import ACTS, is_list
from .verdicts import (
    COUNTS,
    Known,
    Missing,
    Needs,
    Result,
    Verdict,
    act_of,
    names,
    state_of,
    upto_of,
    writer_of,
)

Fault = tuple[str, str]


def judge(entry: Entry, act_entries: Iterable[Entry], known: Known) -> Verdict | Needs:
    """Return the verdict on an entry, or what must be loaded first.

    `act_entries` are all entries of its act that are here.
    """
    if not is_judged(entry):
        return COUNTS
    verdicts = judge_act(act_entries, known)
    return verdicts if isinstance(verdicts, Needs) else verdicts[entry.id]


def judge_act(act_entries: Iterable[Entry], known: Known) -> dict[str, Verdict] | Needs:
    """Return the verdicts on the entries of one act, or what must be loaded first."""
    act = sorted(act_entries, key=lambda entry: (entry.n, entry.id))
    judged = [entry for entry in act if is_judged(entry)]
    captured = {entry.id: COUNTS for entry in act if not is_judged(entry)}
    try:
        return captured | _verdicts(act, judged, known)
    except Missing as missing:
        return missing.needs


def _verdicts(act: Sequence[Entry], judged: Sequence[Entry], known: Known) -> dict[str, Verdict]:
    if not judged:
        return {}
    if _is_broken(act):
        reason = "The entries of its act do not belong together."
        return _all(judged, "does not count", "broken act", reason)
    _want(judged, known)
    if _is_in_cycle(judged, known):
        reason = "It names an entry that names it in turn."
        return _all(judged, "does not count", "cycle", reason)
    awaited = _awaited(judged, known)
    if awaited:
        return _all(judged, "waits", "entries", "Waiting for what it names.", awaited)
    if len(act) < act[0].act.of:
        if _is_refused(act, known):
            reason = "Another entry of the act was refused."
            return _all(judged, "does not count", "act", reason)
        return _all(judged, "waits", "act", "Waiting for the rest of its act.")
    return _judged(act, judged, known)


def _all(
    judged: Iterable[Entry],
    result: Result,
    code: str,
    reason: str,
    waits_for: tuple[str, ...] = (),
) -> dict[str, Verdict]:
    verdict = Verdict(result, code, reason, waits_for, plain=result)
    return {entry.id: verdict for entry in judged}


def _is_broken(act: Sequence[Entry]) -> bool:
    """Say whether entries bear one act's name without being one person's act."""
    first = act[0]
    alike = {(act_of(one), one.act.of, one.by, one.device) for one in act}
    records = {one.record for one in act}
    spread = act[-1].n - first.n
    distinct = len({one.n for one in act}) == len(act) == len(records)
    return len(alike) > 1 or not distinct or spread >= first.act.of


def _others(act: Iterable[Entry]) -> set[str]:
    act = list(act)
    return {id for one in act for id in names(one)} - {one.id for one in act}


def _want(judged: Sequence[Entry], known: Known) -> None:
    wanted = _others(judged) | {id for one in judged for id in upto_of(one)}
    missing = [id for id in wanted if id not in known.entries]
    if missing:
        raise Missing(missing)


def _is_in_cycle(judged: Sequence[Entry], known: Known) -> bool:
    """Say whether a way through entries that wait, or are in a cycle, leads back to the act.

    What was settled in any other way had all it names before it, so no way leads back from it.
    """
    if any(entry.id in names(entry) for entry in judged):
        return True
    own = act_of(judged[0])
    mates: dict[tuple[str, str], list[Entry]] = {}
    passed, waiting = set(), _others(judged)
    while waiting:
        id = waiting.pop()
        passed.add(id)
        if id not in known.entries:
            raise Missing([id])
        pair = known.entries[id]
        if pair is None or not (pair[1].plain == "waits" or pair[1].code == "cycle"):
            continue
        mates = mates or _acts(known.entries)
        act = mates[act_of(pair[0])]
        if act_of(pair[0]) == own:
            return True
        if not _is_broken(act):
            waiting |= _others(one for one in act if is_judged(one)) - passed
    return False


def _acts(
    entries: Mapping[str, tuple[Entry, Verdict] | None],
) -> dict[tuple[str, str], list[Entry]]:
    acts: dict[tuple[str, str], list[Entry]] = {}
    for pair in entries.values():
        if pair:
            acts.setdefault(act_of(pair[0]), []).append(pair[0])
    return {key: sorted(act, key=lambda one: (one.n, one.id)) for key, act in acts.items()}


def _awaited(judged: Sequence[Entry], known: Known) -> tuple[str, ...]:
    """Return the ids named that are not here or wait themselves; an `upto` need only be here."""
    awaited = set()
    for id in _others(judged):
        pair = known.entries[id]
        if pair is None or pair[1].plain == "waits":
            awaited.add(id)
    ends = {id for one in judged for id in upto_of(one)}
    return tuple(sorted(awaited | {id for id in ends if known.entries[id] is None}))


def _is_refused(act: Sequence[Entry], known: Known) -> bool:
    """Say whether no run of numbers is left in which the act could be complete."""
    here, size, writer = {one.n for one in act}, act[0].act.of, writer_of(act[0])
    starts = range(max(1, max(here) - size + 1), min(here) + 1)
    return all(
        any(n not in here and known.refused(writer, n) for n in range(start, start + size))
        for start in starts
    )


def _judged(act: Sequence[Entry], judged: Sequence[Entry], known: Known) -> dict[str, Verdict]:
    look = Look(act, known)
    try:
        faults = {one.id: fault for one in judged if (fault := _fault(look, one))}
    except FileMissing as missing:
        reason = "Waiting for the file of the standard of acceptance."
        return _all(judged, "waits", "standard", reason, missing.files)
    is_held = _is_held(look, judged)
    is_clean = all(clean(look, one) for one in judged)
    verdicts = {}
    for one in judged:
        code, reason = faults.get(one.id) or ("act", "Another entry of its act does not count.")
        plain: Result = "does not count" if faults else "counts"
        if not faults:
            code = reason = ""
        withdraws = _withdraws(look, one) if not faults and not is_held else None
        verdict = Verdict(plain, code, reason, (), plain, is_clean, withdraws)
        if is_held:
            reason = "Waiting for a lead to confirm it: its author's role had been withdrawn."
            verdict = verdict._replace(result="waits", code="leaver", reason=reason)
        verdicts[one.id] = verdict
    return verdicts


def _fault(look: Look, entry: Entry) -> Fault | None:
    role, reason = acting_role(look, entry)
    if role is None:
        return "no role", reason
    by_itself = _by_itself(entry)
    for field, value in sorted(entry.set.items()):
        if is_capture_field(entry.kind, field):
            continue
        if field in by_itself and by_itself[field] in ("any", value):
            continue
        if not may_set(role, entry.kind, field):
            label = FIELDS[entry.kind][field]["label"]
            return "field", f"'{label}' is not for the role {role.replace('_', ' ')}."
    if is_move(entry):
        return move_fault(look, entry, role)
    return _stamp_fault(look, entry) if entry.kind == "stamp" else None


def _by_itself(entry: Entry) -> Mapping[str, str]:
    move = state_of(entry).get("move")
    rows = (row for row in MOVES if row["move"] == move)
    return next((row.get("sets_by_itself", {}) for row in rows), {})


def _stamp_fault(look: Look, entry: Entry) -> Fault | None:
    if not {"defect", "act", "number", "person", "list"} <= entry.set.keys() or entry.seen:
        return "stamp", "A stamp is made whole and never changed."
    if not is_list(entry.set["list"]):
        return "stamp", "The list stamped has no count and sha256."
    if entry.set["person"] != entry.by:
        return "stamp", "Nobody can stamp as another."
    if entry.set["act"] not in ACTS:
        return "stamp", f"No stamp is made for '{entry.set['act']}'; expected {', '.join(ACTS)}."
    if entry.set["act"] == "DISPOSITION" and acting_role(look, entry)[0] == "inspector":
        return "stamp", "A disposition is stamped by the lead or the design authority."
    numbers = [
        one.set["stamp_number"] for one in look.relied("person") if "stamp_number" in one.set
    ]
    given = [one.get("number") for one in numbers if isinstance(one, dict)]
    if not is_text(entry.set["number"]) or (given and entry.set["number"] not in given):
        return "stamp", f"Stamp {entry.set['number']} is not the author's."
    return None


def _is_held(look: Look, judged: Sequence[Entry]) -> bool:
    """Say whether an act waits for a lead: its author left, or it rests on such an act."""
    for id in _others(judged):
        pair = look.pair(id)
        if pair and pair[1].result == "waits":
            return True
    return any(left_before(look, one) and not confirmed(look.known, one) for one in judged)


def _withdraws(look: Look, entry: Entry) -> str | None:
    if state_of(entry).get("move") != "undo":
        return None
    pair = look.pair(state_of(entry)["undoes"])
    return pair[0].act.id if pair else None
