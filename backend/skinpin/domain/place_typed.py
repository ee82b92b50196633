"""A whole place as people type it: Hull · port · F6 + 2.0 · K–B1 · inner face · sheet 2."""

import re
from collections.abc import Mapping, Sequence
from typing import Any

from skinpin.domain.errors import Refused
from skinpin.domain.place_stations import (
    Definition,
    Place,
    Structure,
    end_tenth_nm,
    member_station,
    members_in_order,
    nearest_end,
    plain_spaces,
    read_position,
)
from skinpin.domain.place_typed_faults import refused_part
from skinpin.domain.place_zones import HANDS
from skinpin.domain.quantities import TENTH_NM, rounded_text, to_tenth_nm

HAND_WORDS = {
    "P": ("port", "left", "p", "l"),
    "S": ("stbd", "starboard", "right", "s", "r"),
    "C": ("centreline", "centre", "centerline", "center", "c"),
}
OTHER_WAY = {
    "aft": ("fwd", "forward"),
    "forward": ("aft",),
    "outboard": ("inbd", "inboard"),
    "inboard": ("outbd", "outboard"),
    "up": ("down",),
    "down": ("up",),
}
SHORT = {"outboard": ("outbd",), "inboard": ("inbd",), "forward": ("fwd",)}
OFF = "off aircraft"
BREAKS = (re.compile(r"\s*[·•]\s*"), re.compile(r"\s*[;\n]\s*"), re.compile(r",\s+"))
JOIN = re.compile(r"\s+to\s+|\s*[–-]\s*")
MOST_LETTERS = 200
FARTHEST_TENTH_NM = 100_000 * TENTH_NM["mm"]
# Only ASCII letters have two cases here, as in TypeScript: “ſ” is no s.
ANY_CASE = re.IGNORECASE | re.ASCII
LAYER = re.compile(r"(?:sheet|layer) *([1-9][0-9]?)", ANY_CASE)
WAYS = {way for ways in (*OTHER_WAY.values(), *SHORT.values()) for way in ways} | set(OTHER_WAY)
TAIL = re.compile(
    rf"(.*?)\s*([+-]?)\s*([0-9]*\.?[0-9]+)\s*(?:(in|mm|\")(?![a-z]))?\s*({'|'.join(sorted(WAYS))})?\.?",
    ANY_CASE,
)
STRINGER = re.compile(r"(?:s-?)?([0-9]+)([lrps]?)", ANY_CASE)
SIDES = {"l": "P", "p": "P", "r": "S", "s": "S"}


def read_place(
    definition: Definition, text: str, at: Mapping[str, Any] | None = None
) -> dict[str, Any]:
    """Return the place that a text in trade notation means.

    Parts are set apart by ·, else by ; or by a comma and a space, in the order of the words of a
    place, of which only the position must be there; structure and hand are those of `at` where they
    are left out. An offset forward of its member is normalised to the member before it.

    Raises
    ------
    Refused
        What can't be read or is not there, a stringer without its side, and an offset beyond
        100 m.
    """
    text = plain_spaces(text)
    if text.strip().lower().startswith(OFF):
        return _read_off(definition, text.strip())
    by = next((one for one in BREAKS if one.search(text)), BREAKS[0])
    parts = [part for part in by.split(text[:MOST_LETTERS].strip()) if part]
    return _Reading(definition, at or {}).read(parts, text[:MOST_LETTERS])


def _read_off(definition: Definition, text: str) -> dict[str, Any]:
    name, _, rest = text[len(OFF) :].lstrip(" ,:").partition("·")
    known = [str(one["name"]) for one in definition.get("off_aircraft", ())]
    found = next((one for one in known if one.lower() == name.strip().lower()), None)
    if found is None:
        message = f"There is no place off the aircraft called “{name.strip()}”."
        raise Refused("no_structure", message, f"There are {', '.join(known) or 'none'}.")
    part, _, marked = (one.strip() for one in rest.partition("·"))
    if not part:
        raise Refused("no_position", f"Which part lies on {found}?", "Name it after a ·.")
    place = {"off": found, "part": part, "precision": "bay only"}
    return place | ({"marking": marked.removeprefix("marked ")} if marked else {})


class _Reading:
    """One text being read, part by part."""

    def __init__(self, definition: Definition, at: Mapping[str, Any]) -> None:
        self.definition, self.at = definition, at
        self.structure: Structure = {}
        self.hand, self.side, self.is_bay_only = "", "", False
        self.along: dict[str, Any] = {}
        self.more: dict[str, Any] = {}

    def read(self, parts: Sequence[str], text: str) -> dict[str, Any]:
        rest = self._take_structure(parts)
        for part in rest:
            if not self._take(part):
                raise self._refusal(part)
        if not self.along:
            raise self._refusal(text)
        hand = self._hand()
        if self.is_bay_only:
            self.along = _whole_bay(self.structure, self.along)
        place = {"structure": self.structure["name"], "hand": hand, **self.along, **self.more}
        return place | {"precision": "bay only" if self.is_bay_only else "exact"}

    def _take_structure(self, parts: Sequence[str]) -> Sequence[str]:
        structures = self.definition["structures"]
        named = next((one for one in structures if _is(one["name"], parts[:1])), None)
        wanted = [one for one in structures if one["name"] == self.at.get("structure")]
        found = [named] if named else wanted or (structures if len(structures) == 1 else [])
        if not found:
            first = parts[0] if parts else ""
            has = ", ".join(one["name"] for one in structures)
            message = f"“{first}” is no structure of {self.definition['name']}."
            raise Refused("no_structure", message, f"It has {has}.")
        self.structure = found[0]
        return parts[1:] if named else parts

    def _take(self, part: str) -> bool:
        """Take one part; before the position it may be a hand, after it a strake comes first."""
        if part.lower() == "bay only":
            self.is_bay_only = True
            return True
        if layer := LAYER.fullmatch(part):
            self.more["layer"] = int(layer[1])
            return True
        if not self.along and (self._is_hand(part) or self._is_along(part)):
            return True
        return self._is_face(part) or self._is_strakes(part) or self._is_hand(part)

    def _is_hand(self, part: str) -> bool:
        word = part.lower().rstrip(".")
        hand = next((hand for hand, words in HAND_WORDS.items() if word in words), None)
        if hand is None or self.hand:
            return False
        if hand not in self.structure["hands"]:
            message = f"{self.structure['name']} has no hand {HANDS[hand]}."
            raise Refused("no_hand", message, f"It has {self._hands()}.")
        self.hand = hand
        return True

    def _hands(self) -> str:
        return ", ".join(HANDS[one] for one in self.structure["hands"])

    def _is_face(self, part: str) -> bool:
        words = (re.sub(r"\s+face$", "", part.lower()), part.lower())
        face = next((one for one in self.structure["faces"] if one.lower() in words), None)
        self.more |= {"face": face} if face else {}
        return face is not None

    def _is_along(self, part: str) -> bool:
        """Take one position, or two with "to" or a dash between them."""
        one = self._end(part)
        self.along = one or {}
        for join in () if one else JOIN.finditer(part):
            first, last = part[: join.start()], part[join.end() :]
            ends = self._end(first), self._end(last)
            if ends[0] and ends[1] and not re.fullmatch(r"[0-9.]+", last):
                self.along = {**ends[0], "to": ends[1]}
                break
        return bool(self.along)

    def _end(self, text: str) -> dict[str, Any] | None:
        plain = text.strip().replace("\N{MINUS SIGN}", "-").replace(",", ".")
        unit = ""
        tail = TAIL.fullmatch(plain)
        if tail and (tail[4] or tail[5]):
            sign = self._sign(tail[2], (tail[5] or "").lower())
            if sign is None:
                return None
            unit = tail[4].lower().replace('"', "in") if tail[4] else ""
            plain = f"{tail[1]} {sign} {tail[3]}"
        try:
            end = read_position(self.structure, plain)
        except Refused:
            return None
        if unit and unit != self.structure["unit"]:
            if not tail or self._end(tail[1]) is None:
                return None  # a station is in the unit of its structure
            return _near({**end, "offset": {**end["offset"], "unit": unit}})
        _near(end)
        return _normalised(self.structure, end)

    def _sign(self, sign: str, way: str) -> str | None:
        """Return + or - for a distance that way; None where sign and word say two things."""
        positive = str(self.structure["positive"])
        if way in ("", positive, *SHORT.get(positive, ())):
            return None if way and sign == "-" else sign or ("+" if way else "")
        if way in OTHER_WAY.get(positive, ()):
            return None if sign == "-" else "-"
        return None

    def _is_strakes(self, part: str) -> bool:
        one = self._strake(part)
        pairs = ((part[: join.start()], part[join.end() :]) for join in JOIN.finditer(part))
        read = ([self._strake(end) for end in pair] for pair in pairs)
        both = [one, one] if one else next((pair for pair in read if None not in pair), None)
        self.more |= {"strakes": both} if both else {}
        return both is not None

    def _strake(self, text: str) -> str | None:
        """Return a strake by its name; a stringer also by its number and side, S-4L."""
        strakes = self.structure["strakes"]
        found = next((one for one in strakes if _is(one, [text.strip()])), None)
        typed = STRINGER.fullmatch(text.strip()) if self.structure.get("stringers") else None
        if found is not None or typed is None:
            return found
        side = SIDES.get(typed[2].lower(), "")
        if side and self.side not in ("", side):
            raise Refused("no_hand", f"{text.strip()} is on the other side.", "Write one side.")
        self.side = side or self.side
        numbers = (typed[1], f"s-{typed[1]}", f"s{typed[1]}")
        return next((one for one in strakes if one.lower() in numbers), None)

    def _hand(self) -> str:
        """Return the hand that was written, or the only one, or where the writer is."""
        hands = self.structure["hands"]
        if self.hand and self.side and self.hand != self.side:
            message = f"The stringer is {HANDS[self.side]}, and {HANDS[self.hand]} is written."
            raise Refused("no_hand", message, "Write one of them.")
        hand = self.hand or self.side or (hands[0] if len(hands) == 1 else "")
        if hand:
            return str(hand)
        if self.structure.get("stringers") and self.more.get("strakes"):
            named = self.more["strakes"][0]
            hint = f"Write {named}L or {named}R, or port or starboard."
            raise Refused("side_missing", f"{named} of {self.structure['name']}: which side?", hint)
        here = self.at.get("hand") if self.at.get("structure") == self.structure["name"] else None
        if here not in hands:
            message = f"On which hand of {self.structure['name']}?"
            raise Refused("no_hand", message, f"It has {self._hands()}.")
        return str(here)

    def _refusal(self, part: str) -> Refused:
        def is_end(text: str) -> bool:
            return self._end(text) is not None

        def is_strake(text: str) -> bool:
            return self._strake(text) is not None

        return refused_part(self.structure, part, is_end, is_strake, bool(self.along))


def _is(name: Any, parts: Sequence[str]) -> bool:
    return bool(parts) and str(name).lower() == parts[0].lower()


def _near(end: dict[str, Any]) -> dict[str, Any]:
    """Refuse an offset that no aircraft has; common practice, no source."""
    value, unit = end["offset"]["value"], end["offset"]["unit"]
    if abs(to_tenth_nm(end["offset"])) > FARTHEST_TENTH_NM:
        message = f"{value} {unit} from {end['member']} is more than 100 m."
        raise Refused("no_position", message, "Type the distance from the member next to it.")
    return end


def _normalised(structure: Structure, end: dict[str, Any]) -> dict[str, Any]:
    """Return an offset forward of its member from the member before it; the metal is the same."""
    return dict(nearest_end(structure, end)) if end["offset"]["value"].startswith("-") else end


def _whole_bay(structure: Structure, along: Place) -> dict[str, Any]:
    """Return a bay, or several, as the middle of it from its first member."""
    begin = member_station(structure, along["member"])[1]
    stations, _ = members_in_order(structure)
    after = [one for one in stations if one > begin]
    end = end_tenth_nm(structure, along["to"]) if along.get("to") else next(iter(after), begin)
    if end <= begin:
        message = f"No bay begins at {along['member']}."
        raise Refused("no_position", message, "Name the member before the bay.")
    half = rounded_text(end - begin, 2 * TENTH_NM[structure["unit"]], 3).rstrip("0").rstrip(".")
    return {"member": along["member"], "offset": {"value": half, "unit": structure["unit"]}}
