"""Records from paper: the columns of a form or register, and what a typed line says."""

import re
from collections.abc import Callable, Mapping
from datetime import date
from typing import Any, NamedTuple

from skinpin.domain.errors import Refused
from skinpin.domain.kinds import KINDS, MATERIALS, fields_for
from skinpin.domain.place import Definition, read_position, zones_of
from skinpin.domain.quantities import parse_typed

MOST_LETTERS = 2000
NOT_MEASURED = "not measured"


class Column(NamedTuple):
    """A column of the form: its name in a file, its label on paper and screen, whether needed."""

    name: str
    label: str
    needed: bool = False


COLUMNS = (
    Column("paper_number", "Number on the paper", needed=True),
    Column("found_by", "Found by", needed=True),
    Column("found_on", "Found on", needed=True),
    Column("structure", "Structure", needed=True),
    Column("hand", "Hand", needed=True),
    Column("position", "Member + offset", needed=True),
    Column("strakes", "Strakes"),
    Column("face", "Face"),
    Column("kind", "Kind", needed=True),
    Column("material", "Material"),
    Column("part", "Part"),
    Column("thickness", "Plate thickness"),
    Column("length", "Length"),
    Column("width", "Width"),
    Column("depth", "Depth, deepest pit"),
    Column("cleaned", "Cleaned"),
    Column("note", "Note"),
)
"""In the order of the screen at the airframe: place, kind, figures, note."""
QUANTITIES = ("thickness", "length", "width", "depth")
CLEANED = ("yes", "partly", "not yet")
_HANDS = {"P": ("p", "port", "left"), "S": ("s", "stbd", "starboard", "right"),
          "C": ("c", "centre", "centreline", "center")}  # fmt: skip
_FIGURE = re.compile(r"(?P<figure>[0-9.,]+)\s*(?P<unit>in|mm|\")?", re.IGNORECASE)


class Trouble(NamedTuple):
    """What is wrong with one column of a line."""

    column: str
    message: str


class PaperLine(NamedTuple):
    """A line as it was read: the fields of a defect, and who found it, when, under which number."""

    fields: dict[str, Any]
    paper: dict[str, str]


def read_line(
    typed: Mapping[str, str], definition: Definition, today: str
) -> tuple[PaperLine, list[Trouble]]:
    """Return what a line says and every trouble with it; with a trouble it says nothing sure."""
    reading = _Reading({name: typed.get(name, "").strip() for name, _, _ in COLUMNS}, definition)
    for name, label, needed in COLUMNS:
        if needed and not reading.typed[name]:
            reading.refuse(name, f"“{label}” is left out.")
        elif len(reading.typed[name]) > MOST_LETTERS:
            reading.refuse(name, f"“{label}” has over {MOST_LETTERS} letters.")
    reading.take("found_on", lambda text: _day(text, today))
    reading.place()
    reading.kind()
    for name in QUANTITIES:
        reading.take(name, lambda text: _quantity(text, reading.unit()))
    reading.take("cleaned", lambda text: _one_of(text, CLEANED, "cleaned"))
    reading.take("material", lambda text: _one_of(text.upper(), tuple(MATERIALS), "material"))
    fields = {"place": reading.where, **reading.found}
    for name in ("part", "note"):
        if reading.typed[name]:
            fields[name] = reading.typed[name]
    paper = {"by": reading.typed["found_by"], "date": fields.pop("found_on", ""),
             "number": reading.typed["paper_number"]}  # fmt: skip
    return PaperLine(fields, paper), reading.troubles


class _Reading:
    """One line being read."""

    def __init__(self, typed: dict[str, str], definition: Definition) -> None:
        self.typed, self.definition = typed, definition
        self.found: dict[str, Any] = {}
        self.where: dict[str, Any] = {}
        self.troubles: list[Trouble] = []

    def refuse(self, column: str, message: str) -> None:
        self.troubles.append(Trouble(column, message))

    def take(self, name: str, read: Callable[[str], Any]) -> None:
        """Read a column that is filled in; a refusal becomes its trouble."""
        if not self.typed[name] or any(one.column == name for one in self.troubles):
            return
        try:
            self.found[name] = read(self.typed[name])
        except Refused as refused:
            self.refuse(name, f"{refused.args[0]} {refused.hint}".strip())

    def unit(self) -> str:
        structure = self._structure()
        return str(structure["unit"]) if structure else str(self.definition["unit"])

    def place(self) -> None:
        """Read the place; it must lie in a zone."""
        structure = self._structure()
        if structure is None:
            if self.typed["structure"]:
                named = ", ".join(one["name"] for one in self.definition["structures"])
                self.refuse(
                    "structure", f"There is no structure “{self.typed['structure'][:40]}”: {named}."
                )
            return
        hand = self._hand(structure)
        position = self._position(structure)
        strakes = self._strakes(structure)
        face = self._face(structure)
        if hand is None or position is None:
            return
        place = {"structure": structure["name"], "hand": hand, **position, "precision": "exact"}
        self.where = (
            place | ({"strakes": strakes} if strakes else {}) | ({"face": face} if face else {})
        )
        try:
            if not zones_of(self.definition, self.where):
                self.refuse("position", "The place lies in no zone of this airframe.")
        except Refused as refused:
            column = "strakes" if refused.code in ("no_strake", "strakes_needed") else "position"
            self.refuse(column, f"{refused.args[0]} {refused.hint}".strip())

    def kind(self) -> None:
        """Read the kind by its word or label; nothing found is no record on paper."""
        asked = self.typed["kind"].casefold()
        if not asked:
            return
        words = {name: name for name in KINDS} | {
            row["label"].casefold(): name for name, row in KINDS.items()
        }
        kind = words.get(asked)
        if kind is None or kind == "nil":
            named = ", ".join(one for one in KINDS if one != "nil")
            said = f"“{self.typed['kind'][:40]}” is no kind of defect: {named}."
            self.refuse("kind", said)
            return
        self.found["kind"] = kind
        known = {row["field"] for row in fields_for(kind, self.typed["material"].upper() or None)}
        for name in (*QUANTITIES, "cleaned"):
            if self.typed[name] and name not in known:
                self.refuse(name, f"A record of {kind} has no {name}.")

    def _structure(self) -> Mapping[str, Any] | None:
        wanted = self.typed["structure"].casefold()
        return next(
            (one for one in self.definition["structures"] if one["name"].casefold() == wanted), None
        )

    def _hand(self, structure: Mapping[str, Any]) -> str | None:
        text = self.typed["hand"].casefold().rstrip(".")
        hand = next((hand for hand, words in _HANDS.items() if text in words), None)
        if hand not in structure["hands"] and text:
            named = ", ".join(structure["hands"])
            said = f"“{self.typed['hand'][:20]}” is no hand of {structure['name']}: {named}."
            self.refuse("hand", said)
            return None
        return hand

    def _position(self, structure: Mapping[str, Any]) -> dict[str, Any] | None:
        if not self.typed["position"]:
            return None
        try:
            return read_position(structure, self.typed["position"])
        except Refused as refused:
            self.refuse("position", f"{refused.args[0]} {refused.hint}")
            return None

    def _strakes(self, structure: Mapping[str, Any]) -> list[str]:
        known = {str(one).casefold(): one for one in structure.get("strakes", ())}
        parts = [part for part in re.split(r"[-–\s]+", self.typed["strakes"]) if part]
        odd = [part for part in parts if part.casefold() not in known]
        if odd or len(parts) > 2:
            named = ", ".join(map(str, structure.get("strakes", ()))) or "none"
            self.refuse(
                "strakes",
                f"“{self.typed['strakes'][:20]}” are no strakes of {structure['name']}: {named}.",
            )
            return []
        named_parts = [known[part.casefold()] for part in parts]
        return named_parts * 2 if len(named_parts) == 1 else named_parts

    def _face(self, structure: Mapping[str, Any]) -> str:
        text = self.typed["face"].casefold()
        if text and text not in structure.get("faces", ()):
            named = ", ".join(structure.get("faces", ())) or "none"
            self.refuse("face", f"“{text[:20]}” is no face of {structure['name']}: {named}.")
        return text


def _quantity(text: str, unit: str) -> Any:
    if text.casefold() in (NOT_MEASURED, "n/m"):
        return NOT_MEASURED
    read = _FIGURE.fullmatch(text)
    if read is None:
        raise Refused("not_a_figure", f"“{text[:20]}” is no figure.", "Write it as 0.011 in.")
    given = (read["unit"] or unit).casefold().replace('"', "in")
    return parse_typed(read["figure"], given)


def _one_of(text: str, words: tuple[str, ...], what: str) -> str:
    found = next((word for word in words if word.casefold() == text.casefold()), None)
    if found is None:
        raise Refused("wrong_shape", f"“{text[:20]}” is none of {what}: {', '.join(words)}.")
    return found


def _day(text: str, today: str) -> str:
    try:
        day = date.fromisoformat(text).isoformat()
    except ValueError as error:
        raise Refused(
            "not_a_date", f"“{text[:20]}” is no date.", "Write it as 2025-10-01."
        ) from error
    if day != text or day > today:
        raise Refused("not_a_date", f"“{text[:20]}” is still to come.", f"Today is {today}.")
    return day
