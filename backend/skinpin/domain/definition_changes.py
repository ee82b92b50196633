"""What a new issue of a definition changes: names that records hold, and places in new words."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from skinpin.domain.definition_metal import members_shifted, metal_troubles
from skinpin.domain.definition_trouble import Trouble, said
from skinpin.domain.errors import Refused
from skinpin.domain.place import place_words, station_words, structure_of, zone_of

Definition = Mapping[str, Any]
MOST_NUMBERS = 12


class Use(NamedTuple):
    """What in the book names parts of an airframe: who it is, and a place, cell or area of it."""

    label: str
    at: Mapping[str, Any]


class Moved(NamedTuple):
    """A record that is described anew; the metal it lies on is the same."""

    number: str
    entered: str
    now: str


def change_troubles(
    before: Definition, after: Definition, uses: Iterable[Use]
) -> Iterator[Trouble]:
    """Return why a definition may not follow another, and what it moves.

    A structure, member, hand, strake or place off the aircraft that something in the book names
    may not disappear: the place would mean nothing any more.
    """
    if before.get("issue") == after["issue"]:
        message = f"Issue {after['issue']} is the one that stands."
        yield Trouble("issue", "same_issue", message, "Give the new issue another name.")
    used = list(uses)
    yield from _lost(before, after, used)
    yield from _never_had(before, after, used)
    named = {one[0] for use in used for one in _named(use.at)}
    yield from metal_troubles(before, after, named)


def _lost(before: Definition, after: Definition, uses: Iterable[Use]) -> Iterator[Trouble]:
    kept, had = _names(after), _names(before)
    by_name: dict[tuple[str, str, str], list[str]] = defaultdict(list)
    for use in uses:
        for named in _named(use.at):
            if named in had and named not in kept:
                by_name[named].append(use.label)
    paths: dict[str, str] = {
        one["name"]: f"structures/{at}" for at, one in enumerate(after["structures"])
    }
    for (structure, what, name), labels in by_name.items():
        if what != "structure" and (structure, "structure", structure) in by_name:
            continue
        where = f" of {structure}" if what not in ("structure", OFF) else ""
        message = (
            f"The {what} {name}{where} may not disappear: {_listed(labels)} {_verb(labels)} it."
        )
        hint = "Put it back; what is wrong with it can be corrected where it stands."
        at = f"{paths[structure]}/{what}s" if structure in paths else "structures"
        yield Trouble("off_aircraft" if what == OFF else at, "still_named", message, hint)


def _never_had(before: Definition, after: Definition, uses: Iterable[Use]) -> Iterator[Trouble]:
    """Say which records name what neither issue has: a tablet that was away used it."""
    known = _names(after) | _names(before)
    by_name: dict[tuple[str, str, str], list[str]] = defaultdict(list)
    for use in uses:
        if is_place(use.at):
            for named in _named(use.at) - known:
                by_name[named].append(use.label)
    for (structure, what, name), labels in sorted(by_name.items()):
        if what != "structure" and (structure, "structure", structure) in by_name:
            continue
        where = f"{what} {name}" + (f" of {structure}" if what not in ("structure", OFF) else "")
        stands = "stand" if len(set(labels)) > 1 else "stands"
        at = name if what == "member" else f"the {where}"
        message = f"{_listed(labels)} {stands} at {at}, which this issue does not have."
        hint = "Add it, or give each record another place."
        yield said("off_aircraft" if what == OFF else "structures", "not_in_issue", message, hint)


def is_place(at: Mapping[str, Any]) -> bool:
    """Say whether what is named is the place of a record, not a cell or an area."""
    return "member" in at or "off" in at


OFF = "place off the aircraft"


def _names(definition: Definition) -> set[tuple[str, str, str]]:
    names = {("", OFF, one["name"]) for one in definition.get("off_aircraft", ())}
    for one in definition.get("structures", ()):
        own = str(one["name"])
        names.add((own, "structure", own))
        names |= {(own, "member", member["name"]) for member in one["members"]}
        names |= {(own, "strake", strake) for strake in one["strakes"]}
        names |= {(own, "hand", hand) for hand in one["hands"]}
        names |= {(own, "face", face) for face in one["faces"]}
    return names


def _named(at: Mapping[str, Any]) -> set[tuple[str, str, str]]:
    """Return what a place, a cell or an area names."""
    if isinstance(at.get("off"), str):
        return {("", OFF, at["off"])}
    structure = str(at.get("structure"))
    to = at.get("to")
    texts = {
        "structure": [structure],
        "member": [at.get("member"), to.get("member") if isinstance(to, Mapping) else None,
                   *_list(at.get("bay")), *_list(at.get("members"))],
        "strake": _list(at.get("strakes")),
        "hand": [at.get("hand")],
        "face": [at.get("face")],
    }  # fmt: skip
    return {
        (structure, what, name)
        for what, names in texts.items()
        for name in names
        if isinstance(name, str)
    }


def _members_of(at: Mapping[str, Any]) -> set[tuple[str, str]]:
    return {(structure, name) for structure, what, name in _named(at) if what == "member"}


def _list(value: Any) -> list[Any]:
    return value if isinstance(value, list) else []


def _listed(labels: Sequence[str]) -> str:
    names = sorted(set(labels))
    rest = len(names) - MOST_NUMBERS
    return ", ".join(names[:MOST_NUMBERS]) + (f" and {rest} more" if rest > 0 else "")


def _verb(labels: Sequence[str]) -> str:
    return "name" if len(set(labels)) > 1 else "names"


def moved(before: Definition, after: Definition, uses: Iterable[Use]) -> list[Moved]:
    """Return the records whose words, zone or member's station are others by the new definition.

    By number. A datum that moves changes every station and no record.
    """
    found, shifted = [], members_shifted(before, after)
    for use in uses:
        old, new = (_told(one, use.at) for one in (before, after))
        is_shifted = bool(shifted & _members_of(use.at))
        if old is not None and (is_shifted or old[:2] != (new and new[:2])):
            now = " · ".join(one for one in new if one) if new else "no place any more"
            found.append(Moved(use.label, " · ".join(one for one in old if one), now))
    return sorted(found)


def _told(definition: Definition, place: Mapping[str, Any]) -> tuple[str, str, str] | None:
    """Return words, zone and station of a place; None where the definition has it not."""
    try:
        words = place_words(definition, place)
        if "off" in place:
            return words, "", ""
        structure_of(definition, place)
        station = station_words(definition, place)
    except (Refused, LookupError, TypeError, ValueError, AttributeError):
        return None
    try:
        return words, f"zone {zone_of(definition, place)}", station
    except (Refused, LookupError, TypeError):
        return words, "no zone", station
