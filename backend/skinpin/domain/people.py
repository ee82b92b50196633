"""The role an author acts by, and what holds of people who left."""

from collections.abc import Sequence

from skinpin_sync.entry import Entry

from .seen import Look
from .verdicts import Known, Missing, Pair, act_of, confirms_of, role_of, upto_of


def creates_book(act: Sequence[Entry], root: str | None) -> bool:
    """Say whether an act is the set-up of the book."""
    made = (one.id for one in act if one.kind == "book" and one.record == "book" and not one.seen)
    return any(root is None or id == root for id in made)


def role_entries(look: Look, entry: Entry) -> list[Pair]:
    """Return the role entries of the author that the act relies on.

    The set-up of the book brings the first lead's own.
    """
    ids = {id for one in look.act for id in one.relies} - {one.id for one in look.act}
    pairs = [pair for id in sorted(ids) if (pair := look.pair(id))]
    return [pair for pair in pairs if pair[0].record == entry.by and role_of(pair[0])]


def acting_role(look: Look, entry: Entry) -> tuple[str | None, str]:
    """Return the role an author acts by, or None and a sentence."""
    pairs = role_entries(look, entry)
    if not pairs and creates_book(look.act, look.known.root):
        own = [one for one in look.act if one.record == entry.by and role_of(one)]
        if own:
            return str(role_of(own[0]).get("role")), ""
    if len(pairs) != 1:
        many = "more than one role entry" if pairs else "no role entry"
        return None, f"It relies on {many} of its author; one is expected."
    other, verdict = pairs[0]
    role = role_of(other).get("role")
    if verdict.plain != "counts" or not isinstance(role, str):
        return None, "The role entry it relies on gives its author no role."
    return role, ""


def successors(known: Known, role_entry: Entry) -> list[Pair]:
    """Return the counting role entries of a person that follow one, through what they saw."""
    person = role_entry.record
    if person not in known.people:
        raise Missing(people=[person])
    found: dict[str, Pair] = {}
    grown = True
    while grown:
        grown = False
        for other, verdict in known.people[person]:
            saw = other.seen.get("role", ())
            follows = role_entry.id in saw or any(id in found for id in saw)
            if follows and role_of(other) and other.id not in found and verdict.plain == "counts":
                found[other.id] = other, verdict
                grown = True
    return [found[id] for id in sorted(found)]


def left_before(look: Look, entry: Entry) -> bool:
    """Say whether the role an entry relies on was withdrawn before the entry was made.

    A withdrawal works if its author was lead by what it relied on; whether that lead left in
    turn does not matter, or two who withdraw each other would undo each other's undoing.
    """
    return any(
        upto_is_given(later) and not look.known.reached(entry, upto_of(later))
        for role_entry, _ in role_entries(look, entry)
        for later, _ in successors(look.known, role_entry)
        if act_of(later) != act_of(entry)
    )


def upto_is_given(entry: Entry) -> bool:
    """Say whether a role entry says how far the role before it reached."""
    return isinstance(role_of(entry).get("upto"), list)


def confirmed(known: Known, entry: Entry) -> bool:
    """Say whether a lead who never left has confirmed an entry on its author's record."""
    if entry.by not in known.people:
        raise Missing(people=[entry.by])
    return any(
        entry.id in confirms_of(other) and verdict.plain == "counts" and verdict.clean
        for other, verdict in known.people[entry.by]
    )


def clean(look: Look, entry: Entry) -> bool:
    """Say whether no role between an author and the first lead was withdrawn before an entry."""
    granted = all(verdict.clean for _, verdict in role_entries(look, entry))
    return granted and not left_before(look, entry)
