"""Looks an SVG through before it is drawn: its size, and nothing in it that leads out of it."""

import re
from typing import NamedTuple
from xml.parsers import expat

MOST_BYTES = 8 * 1024 * 1024
MOST_ELEMENTS = 200_000
MOST_DRAWN = 400_000
"""Elements once every `use` is written out."""
MOST_DEPTH = 200
FORBIDDEN = frozenset({"script", "foreignObject", "iframe", "audio", "video", "handler"})
_DATA = re.compile(r"data:image/(png|jpeg|jpg)[;,]", re.IGNORECASE)
_URL = re.compile(r"url\(\s*['\"]?\s*([^#'\"\s])", re.IGNORECASE)
_LENGTH = re.compile(r"\s*\+?([0-9]*\.?[0-9]+(?:[eE][+-]?[0-9]+)?)\s*(px|mm|cm|in|pt|pc|)\s*")
_NUMBERS = re.compile(r"-?[0-9]*\.?[0-9]+(?:[eE][+-]?[0-9]+)?")
_PX = {"": 1.0, "px": 1.0, "mm": 96 / 25.4, "cm": 96 / 2.54, "in": 96.0, "pt": 4 / 3, "pc": 16.0}
_LARGEST_PX = 1e6


class SvgRefusedError(ValueError):
    """The SVG is not drawn; the sentence says why."""


class Scanned(NamedTuple):
    """An SVG fit to be drawn, with its own size in px of 1/96 in."""

    text: str
    width_px: float
    height_px: float


def scan(content: bytes) -> Scanned:
    """Return an SVG's text and size.

    Raises
    ------
    SvgRefusedError
        It is none, is too large, or holds scripts, entities or references to anything else.
    """
    if len(content) > MOST_BYTES:
        raise SvgRefusedError(f"The SVG has more than {MOST_BYTES // 1024**2} MB.")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise SvgRefusedError("The SVG is not written in UTF-8.") from error
    look = _Look()
    try:
        look.parser.Parse(text, True)
    except expat.ExpatError as error:
        raise SvgRefusedError("The SVG is damaged or cut short.") from error
    if look.drawn() > MOST_DRAWN:
        raise SvgRefusedError(f"The SVG draws more than {MOST_DRAWN} elements.")
    width, height = look.size()
    return Scanned(text, width, height)


class _Node:
    """An element: how many there are in it, and what it uses."""

    def __init__(self, uses: str | None) -> None:
        self.own, self.uses, self.children = 1, uses, list[_Node]()


class _Look:
    def __init__(self) -> None:
        self.parser = expat.ParserCreate()
        self.parser.StartElementHandler = self._begin
        self.parser.EndElementHandler = self._end
        self.parser.CharacterDataHandler = self._characters
        self.parser.EntityDeclHandler = self._entity
        self.parser.ProcessingInstructionHandler = self._instruction
        self.root: _Node | None = None
        self.attributes: dict[str, str] = {}
        self.count = 0
        self.stack: list[tuple[str, _Node]] = []
        self.by_id: dict[str, _Node] = {}

    def _begin(self, name: str, attributes: dict[str, str]) -> None:
        word = name.rpartition(":")[2]
        self.count += 1
        if self.count > MOST_ELEMENTS or len(self.stack) >= MOST_DEPTH:
            raise SvgRefusedError(
                f"The SVG has more than {MOST_ELEMENTS} elements, or {MOST_DEPTH} in each other."
            )
        if word in FORBIDDEN:
            raise SvgRefusedError(f"The SVG holds a “{word}” element, which is not drawn here.")
        uses = None
        for attribute, value in attributes.items():
            self._attribute(attribute.rpartition(":")[2], value)
            if word == "use" and attribute.rpartition(":")[2] == "href":
                uses = value.strip()[1:]
        self._put(word, _Node(uses), attributes)

    def _put(self, word: str, node: _Node, attributes: dict[str, str]) -> None:
        if self.root is None:
            if word != "svg":
                raise SvgRefusedError("The file is no SVG.")
            self.root, self.attributes = node, attributes
        else:
            self.stack[-1][1].children.append(node)
        self.stack.append((word, node))
        if "id" in attributes:
            self.by_id.setdefault(attributes["id"], node)

    def _attribute(self, word: str, value: str) -> None:
        if word.lower().startswith("on"):
            raise SvgRefusedError("The SVG holds a script.")
        if word in ("href", "src") and not value.strip().startswith("#"):
            if not _DATA.match(value.strip()):
                raise _leads_out(value)
        else:
            self._style(value)

    def _style(self, text: str) -> None:
        if found := _URL.search(text):
            raise _leads_out(text[found.start() :])
        if "@import" in text.lower() or "\\" in text:
            raise SvgRefusedError(
                "The SVG holds a style that leads out of it, or is written in escapes."
            )

    def _characters(self, text: str) -> None:
        # Style comes in pieces; a piece that ends in the middle of a word is caught by `(`.
        if self.stack and self.stack[-1][0] == "style":
            self._style(text)

    def _end(self, name: str) -> None:
        self.stack.pop()

    def _entity(self, *told: object) -> None:
        raise SvgRefusedError("The SVG declares entities, which are not expanded here.")

    def _instruction(self, target: str, data: str) -> None:
        if target == "xml-stylesheet":
            raise SvgRefusedError("The SVG asks for a style sheet outside it.")

    def drawn(self) -> int:
        """Return how many elements are drawn once every `use` is written out."""
        known: dict[int, int] = {}
        under_way: set[int] = set()

        def total(node: _Node) -> int:
            if id(node) in under_way:
                raise SvgRefusedError("The SVG uses an element within itself.")
            if id(node) not in known:
                under_way.add(id(node))
                used = self.by_id.get(node.uses or "")
                parts = [*node.children, *([used] if used else [])]
                known[id(node)] = 1 + sum(map(total, parts))
                under_way.discard(id(node))
            return known[id(node)]

        try:
            return total(self.root) if self.root else 0
        except RecursionError as error:
            raise SvgRefusedError("The SVG uses elements in too long a chain.") from error

    def size(self) -> tuple[float, float]:
        """Return width and height: as said, else those of the view box."""
        found = _NUMBERS.findall(self.attributes.get("viewBox", ""))
        box = [float(one) for one in found]
        said = [_length(self.attributes.get(name)) for name in ("width", "height")]
        width, height = box[2:4] if len(box) == 4 else (0.0, 0.0)
        wide = said[0] or (said[1] * width / height if said[1] and height else width)
        high = said[1] or (said[0] * height / width if said[0] and width else height)
        if not (0 < wide <= _LARGEST_PX and 0 < high <= _LARGEST_PX):
            raise SvgRefusedError("The SVG does not say how large it is.")
        return wide, high


def _length(text: str | None) -> float:
    found = _LENGTH.fullmatch(text or "")
    return float(found[1]) * _PX[found[2]] if found else 0.0


def _leads_out(value: str) -> SvgRefusedError:
    shown = value.strip()[:40]
    return SvgRefusedError(f"The SVG refers to something outside it: “{shown}”.")
