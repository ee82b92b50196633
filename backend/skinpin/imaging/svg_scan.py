"""Looks an SVG through before it is drawn: its size, and nothing in it that leads out of it."""

import re
from collections.abc import Iterator, Mapping
from typing import NamedTuple
from xml.parsers import expat

MOST_BYTES = 8 * 1024 * 1024
MOST_ELEMENTS = 200_000
MOST_DRAWN = 400_000
"""Elements once every `use`, mask, pattern, marker, filter and clip path is written out."""
MOST_DEPTH = 200
FORBIDDEN = frozenset({"script", "foreignObject", "iframe", "audio", "video", "handler"})
_DATA = re.compile(r"data:image/(png|jpeg|jpg)[;,]", re.IGNORECASE)
_URL = re.compile(r"url\(\s*['\"]?\s*([^#'\"\s])", re.IGNORECASE)
_INNER = re.compile(r"url\(\s*['\"]?\s*#([^'\")\s]+)", re.IGNORECASE)
_RULE = re.compile(r"([^{}]*)\{([^{}]*)\}")
_SELECTED = re.compile(r"[.#]?[\w-]+|\*")
_HANDED_DOWN = frozenset({"fill", "stroke", "marker", "marker-start", "marker-mid", "marker-end"})
_AT_EVERY_POINT = frozenset({"marker", "marker-mid"})
_REFERRING = _HANDED_DOWN | {"mask", "clip-path", "filter", "cursor"}
_DRAWN_WHERE_NAMED = frozenset({"mask", "pattern", "marker", "filter", "clipPath"})
_LENGTH = re.compile(r"\s*\+?([0-9]*\.?[0-9]+(?:[eE][+-]?[0-9]+)?)\s*(px|mm|cm|in|pt|pc|)\s*")
_NUMBERS = re.compile(r"-?[0-9]*\.?[0-9]+(?:[eE][+-]?[0-9]+)?")
_PX = {"": 1.0, "px": 1.0, "mm": 96 / 25.4, "cm": 96 / 2.54, "in": 96.0, "pt": 4 / 3, "pc": 16.0}
_LARGEST_PX = 1e6
_UTF16 = ("utf-16-le", "utf-16-be")


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
    if is_utf16(content):
        raise SvgRefusedError("The SVG is written in UTF-16: save it as UTF-8.")
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


def is_utf16(content: bytes) -> bool:
    """Say whether a file begins with an element in UTF-16, with a mark of its byte order or not."""
    start = content[:64].removeprefix(b"\xff\xfe").removeprefix(b"\xfe\xff")
    return any(start[:62].decode(one, "ignore").lstrip()[:1] == "<" for one in _UTF16)


class _Node:
    """An element: what is in it, what it uses, and what it is painted with, by property."""

    __slots__ = ("children", "handed", "once", "points", "selected", "uses", "word")

    def __init__(self, word: str, attributes: Mapping[str, str], above: "_Node | None") -> None:
        self.word, self.uses, self.points = word, "", 1
        self.children: list[_Node] = []
        self.once: list[str] = []
        self.handed: Mapping[str, str] = above.handed if above else {}
        self.selected: tuple[str, ...] = ()
        if attributes:
            self._read({name.rpartition(":")[2]: value for name, value in attributes.items()})

    def _read(self, plain: Mapping[str, str]) -> None:
        names = (f".{one}" for one in plain.get("class", "").split())
        self.selected = (f"#{plain.get('id', '')}", *names)
        if "href" in plain and self.word == "use":
            self.uses = plain["href"].strip()[1:]
        elif "href" in plain:
            self.once.append(plain["href"].strip()[1:])
        for name, value in _declared(plain):
            if name in _HANDED_DOWN:
                found = _INNER.search(value)
                self.handed = {**self.handed, name: found[1] if found else ""}
            elif name in _REFERRING:
                self.once += _INNER.findall(value)
        if _AT_EVERY_POINT & self.handed.keys():
            line = plain.get("d", "") + plain.get("points", "")
            self.points = max(1, len(_NUMBERS.findall(line)) // 2)

    def painted_with(self) -> Iterator[tuple[str, int]]:
        """Yield the ids of what is drawn with it, and how often."""
        yield from ((one, 1) for one in self.once)
        if not self.children:
            for name, one in self.handed.items():
                yield one, self.points if name in _AT_EVERY_POINT else 1


def _declared(attributes: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Yield properties and values, those of the style last."""
    yield from attributes.items()
    for one in attributes.get("style", "").split(";"):
        name, _, value = one.partition(":")
        yield name.strip().lower(), value


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
        self.sheet: list[str] = []

    def _begin(self, name: str, attributes: dict[str, str]) -> None:
        word = name.rpartition(":")[2]
        self.count += 1
        if self.count > MOST_ELEMENTS or len(self.stack) >= MOST_DEPTH:
            raise SvgRefusedError(
                f"The SVG has more than {MOST_ELEMENTS} elements, or {MOST_DEPTH} in each other."
            )
        if word in FORBIDDEN:
            raise SvgRefusedError(f"The SVG holds a “{word}” element, which is not drawn here.")
        for attribute, value in attributes.items():
            self._attribute(attribute.rpartition(":")[2], value)
        above = self.stack[-1][1] if self.stack else None
        self._put(word, _Node(word, attributes, above), attributes)

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
        elif word == "style" or word in _REFERRING:
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
            self.sheet.append(text)

    def _end(self, name: str) -> None:
        self.stack.pop()

    def _entity(self, *told: object) -> None:
        raise SvgRefusedError("The SVG declares entities, which are not expanded here.")

    def _instruction(self, target: str, data: str) -> None:
        if target == "xml-stylesheet":
            raise SvgRefusedError("The SVG asks for a style sheet outside it.")

    def drawn(self) -> int:
        """Return how many elements are drawn once everything is written out where it is named."""
        known: dict[int, int] = {}
        ruled = self._ruled()

        def names(node: _Node) -> tuple[str, ...]:
            return ("*", node.word, *node.selected) if ruled else ()

        under_way: set[int] = set()

        def total(node: _Node) -> int:
            if id(node) in under_way:
                raise SvgRefusedError("The SVG uses an element within itself.")
            if id(node) not in known:
                under_way.add(id(node))
                used = self.by_id.get(node.uses or "")
                parts = [*node.children, *([used] if used else [])]
                named = [(one, 1) for name in names(node) for one in ruled.get(name, ())]
                count = 1 + sum(map(total, parts))
                for one, times in (*node.painted_with(), *named):
                    target = self.by_id.get(one)
                    # What is painted with itself is left out by whoever draws it.
                    if target and target.word in _DRAWN_WHERE_NAMED and id(target) not in under_way:
                        count += times * total(target)
                known[id(node)] = count
                under_way.discard(id(node))
            return known[id(node)]

        try:
            return total(self.root) if self.root else 0
        except RecursionError as error:
            raise SvgRefusedError("The SVG uses elements in too long a chain.") from error

    def _ruled(self) -> dict[str, list[str]]:
        """Return what the style sheets paint with, by element, .class and #id they may select."""
        ruled: dict[str, list[str]] = {}
        for selector, body in _RULE.findall("".join(self.sheet)):
            for one in set(_SELECTED.findall(selector)) if (ids := _INNER.findall(body)) else ():
                ruled.setdefault(one, []).extend(ids)
        return ruled

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
