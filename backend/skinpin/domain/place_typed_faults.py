"""What is wrong with a part of a typed place that can't be read: which end of it, and why."""

import re
from collections.abc import Callable, Sequence

from skinpin.domain.errors import Refused
from skinpin.domain.place_stations import Structure

# Of two ways to part a text the plainer word comes first: "F6 - 2.0 to F9" is parted at "to".
JOINS = (re.compile(r"(?:^|\s+)to(?:\s+|\Z)"), re.compile(r"\s*–\s*"), re.compile(r"\s*-\s*"))
DISTANCE = re.compile(r"(.*?)\s*(?:\+|\s[-−]\s)\s*(.*)", re.DOTALL)
LAST_WORD = re.compile(r"(.*[^a-zA-Z\s]|.*\S(?=\s))\s*(\"|[a-zA-Z]+)\.?", re.DOTALL)
BARE = re.compile(r"[0-9.]+(?:\s*(?:in|mm|\"))?(?:\s+[a-z]+)?\.?", re.IGNORECASE | re.ASCII)
SERIES = re.compile(r"([a-z]+)[ -]?[0-9]", re.IGNORECASE | re.ASCII)
MINUS = re.compile(r"(.*?)\s*[-−]\s*([0-9.,]+)", re.DOTALL)
UNITS = ("in", "mm", '"')

Reads = Callable[[str], bool]


def refused_part(
    structure: Structure, part: str, is_end: Reads, is_strake: Reads, has_position: bool
) -> Refused:
    """Return the refusal of a part that nothing reads, by the end or the offset that is wrong.

    `is_end` says whether a text reads as a member and a distance, `is_strake` whether as a strake.
    """
    if has_position and _is_position(part, is_end):
        message = f"“{part}” is a second position, and a place has one."
        return Refused("no_position", message, "Write a length as one part, from – to.")
    found = None if has_position else _faulty_position(structure, part, is_end)
    found = found or _faulty_strakes(structure, part, is_strake)
    return found or _nothing(structure, part, has_position)


def _is_position(part: str, is_end: Reads) -> bool:
    return is_end(part) or any(is_end(one) and is_end(other) for one, other in _halves(part))


def _faulty_position(structure: Structure, part: str, is_end: Reads) -> Refused | None:
    """Return the fault of each end of a from–to, or that of a member with a distance."""
    is_said = bool(JOINS[0].search(part))
    for ends in sorted(_halves(part), key=lambda pair: not any(map(is_end, pair))):
        is_meant = is_said or all(_is_like_member(structure, one) for one in ends)
        if is_meant or any(map(is_end, ends)):
            faults = [_end_fault(structure, one, part, is_end) for one in ends if not is_end(one)]
            faults = faults or [_bare_fault(structure, ends[1])]
            message = " ".join(dict.fromkeys(fault.message for fault in faults))
            return Refused("no_position", message, faults[0].hint)
    is_offset = DISTANCE.fullmatch(part) or _without_word(part, is_end)
    is_one = is_offset or _is_like_member(structure, part)
    return _end_fault(structure, part, part, is_end) if is_one else None


def _is_like_member(structure: Structure, text: str) -> bool:
    """Say whether a text is named as members are and strakes are not, such as F99 beside F6."""

    def series(name: str) -> str:
        found = SERIES.match(name.strip())
        return found[1].lower() if found else ""

    members = {series(member["name"]) for member in structure["members"]}
    return series(text) in members - {series(strake) for strake in structure["strakes"]} - {""}


def _halves(part: str) -> Sequence[tuple[str, str]]:
    """Return what stands on either side of each join of the plainest kind that there is.

    Figures alone after a dash are a distance with its sign.
    """
    for kind in JOINS:
        pairs = [(part[: one.start()], part[one.end() :]) for one in kind.finditer(part)]
        pairs = [pair for pair in pairs if kind is JOINS[0] or not BARE.fullmatch(pair[1])]
        if pairs:
            return pairs
    return []


def _bare_fault(structure: Structure, figures: str) -> Refused:
    message = f"“{figures.strip()}” may be a station or a distance."
    hint = f"Write {structure['axis']} {figures.strip()}, or the member and its distance."
    return Refused("no_position", message, hint)


def _end_fault(structure: Structure, text: str, part: str, is_end: Reads) -> Refused:
    text = text.strip()
    if not text:
        message = f"“{part.strip()}” names one end only."
        return Refused("no_position", message, "Write both ends, or one without – or to.")
    if word := _without_word(text, is_end):
        return _word_fault(structure, *word, is_end)
    parted = DISTANCE.fullmatch(text)
    if parted is None or not is_end(parted[1]):
        return _no_member(structure, parted[1] if parted and parted[1] else text)
    member, distance = parted[1], parted[2]
    if not is_end(f"{member} + 0"):
        message = f"“{member}” is a station, and a distance is counted from a member."
        return Refused("no_position", message, "Write the station alone, or member and distance.")
    said = f"“{distance}” is no distance from {member}." if distance else f"How far from {member}?"
    return Refused("no_position", said, f"Write figures after it: {member} + 2.0.")


def _without_word(text: str, is_end: Reads) -> tuple[str, str] | None:
    """Return a position and its last word, where the word alone keeps it from being read."""
    found = LAST_WORD.fullmatch(text.strip())
    return (found[1], found[2]) if found and is_end(found[1]) and not is_end(text) else None


def _word_fault(structure: Structure, rest: str, word: str, is_end: Reads) -> Refused:
    """Return what is wrong with the unit or the way that ends a position."""
    name, positive = structure["name"], structure["positive"]
    if word.lower() in UNITS:
        message = f"“{rest} {word}” is a station, and those of {name} are in {structure['unit']}."
        return Refused("no_position", message, f"Write it in {structure['unit']}.")
    if _reads_turned(rest, word, is_end):
        message = f"“{rest} {word}” says the way twice."
        return Refused("no_position", message, f"Write + and {word}, or − alone.")
    message = f"“{word}” after “{rest}” is no unit and no way along {name}."
    hint = f"Units are in and mm, of a distance; {name} is counted {positive} from a member."
    return Refused("no_position", message, hint)


def _reads_turned(rest: str, word: str, is_end: Reads) -> bool:
    found = MINUS.fullmatch(rest)
    return found is not None and is_end(f"{found[1]} + {found[2]} {word}")


def _no_member(structure: Structure, text: str) -> Refused:
    message = f"{structure['name']} has no member called “{text}”."
    first, last = (structure["members"][at]["name"] for at in (0, -1))
    return Refused("no_position", message, f"It has {first} to {last}.")


def _faulty_strakes(structure: Structure, part: str, is_strake: Reads) -> Refused | None:
    for ends in _halves(part):
        wrong = [one.strip() for one in ends if not is_strake(one)]
        if len(wrong) == 1:
            message = f"{structure['name']} has no strake called “{wrong[0]}”."
            strakes = structure["strakes"]
            return Refused("no_position", message, f"It has {strakes[0]} to {strakes[-1]}.")
    return None


def _nothing(structure: Structure, part: str, has_position: bool) -> Refused:
    if has_position:
        message = f"“{part}” is no strake or face of {structure['name']}."
        strakes = structure["strakes"]
        has = f"strakes {strakes[0]} to {strakes[-1]}" if strakes else "no strakes"
        faces = ", ".join(structure["faces"]) or "none"
        return Refused("no_position", message, f"It has {has}; its faces are {faces}.")
    members = structure["members"]
    name = members[min(1, len(members) - 1)]["name"]
    message = f"“{part}” is no position, strake or face on {structure['name']}."
    return Refused("no_position", message, f"Write a place as {structure['name']} · {name} + 2.0.")
