"""An entry: one person's act on one record, its line and its shape."""

import re
from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import Any, NamedTuple

from .canonical import MAX_INTEGER, PLAIN, Codec, RefusedLine, canonical, parse
from .clock import ID_PATTERN

MAX_LINE_BYTES = 65_536
MAX_ACT = 100
NAME = re.compile(r"[!-~]{1,64}")
SHA256 = re.compile(r"[0-9a-f]{64}")
SIGNATURE = re.compile(r"[A-Za-z0-9_-]{86}")
WALL = re.compile(
    r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]{1,6})?[+-][0-9]{2}:[0-9]{2}"
)
NEEDED = ("id", "n", "act", "record", "kind", "set", "by", "device", "wall", "schema")
KNOWN = frozenset((*NEEDED, "prev", "seen", "relies", "why", "sig"))


class Act(NamedTuple):
    """The act an entry belongs to, and how many entries it has."""

    id: str
    of: int


class Entry(NamedTuple):
    """One line of the book; what the line leaves out is None, {} or ()."""

    id: str
    n: int
    prev: str | None
    act: Act
    record: str
    kind: str
    set: dict[str, Any]
    seen: dict[str, list[str]]
    relies: Sequence[str]
    by: str
    device: str
    wall: str
    why: str | None
    schema: int
    sig: dict[str, str] | None
    more: dict[str, Any]


def _is(pattern: re.Pattern[str], value: Any) -> bool:
    return isinstance(value, str) and pattern.fullmatch(value) is not None


@lru_cache(maxsize=4096)
def _is_name(value: str) -> bool:
    """Say whether a text is a name; the few names of fields come again and again."""
    return NAME.fullmatch(value) is not None


def _is_whole(value: Any, most: int) -> bool:
    return type(value) is int and 1 <= value <= most


def _is_ids(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(_is(ID_PATTERN, one) for one in value)


def _is_act(value: Any) -> bool:
    is_pair = isinstance(value, dict) and value.keys() == {"id", "of"}
    return is_pair and _is(NAME, value["id"]) and _is_whole(value["of"], MAX_ACT)


def _is_fields(value: Any) -> bool:
    return isinstance(value, dict) and all(map(_is_name, value))


def _is_seen(value: Any) -> bool:
    return _is_fields(value) and bool(value) and all(_is_ids(ids) for ids in value.values())


def _is_sig(value: Any) -> bool:
    is_pair = isinstance(value, dict) and value.keys() == {"key", "value"}
    return is_pair and _is(ID_PATTERN, value["key"]) and _is(SIGNATURE, value["value"])


Shape = tuple[Callable[[Any], bool], str]
_NAME: Shape = (lambda v: _is(NAME, v), "a name of 1 to 64 ASCII characters")
_WHOLE: Shape = (lambda v: _is_whole(v, MAX_INTEGER), "a whole number from 1")
SHAPES: dict[str, Shape] = {
    "id": (lambda v: _is(ID_PATTERN, v), "13 digits, 4 hex digits and a writer of 8 letters"),
    "n": _WHOLE,
    "prev": (lambda v: _is(SHA256, v), "64 hex digits, left out if none"),
    "act": (_is_act, "an id and a number of entries up to 100"),
    "record": _NAME,
    "kind": _NAME,
    "set": (_is_fields, "fields with their values"),
    "seen": (_is_seen, "fields with the ids seen, left out if none"),
    "relies": (_is_ids, "a list of ids, left out if none"),
    "by": _NAME,
    "device": _NAME,
    "wall": (lambda v: _is(WALL, v), "a local time with its offset, as 2025-11-03T08:15:30+00:00"),
    "why": (lambda v: isinstance(v, str) and v != "", "a text, left out if none"),
    "schema": _WHOLE,
    "sig": (_is_sig, "the id of a key and a signature of 86 letters, left out if none"),
}


_TEXTS = re.compile(
    "\n".join([ID_PATTERN.pattern, f"(?:{SHA256.pattern})?", *[NAME.pattern] * 5, WALL.pattern])
)
_COMMON = frozenset((*NEEDED, "prev"))
_MET: set[str] = set()
"""Names of fields met before and found good; the few there are come again and again."""


def _meet(fields: dict[str, Any]) -> bool:
    if not _is_fields(fields):
        return False
    if len(_MET) > 4096:
        _MET.clear()
    _MET.update(fields)
    return True


def _is_common(value: Any) -> bool:
    """Say whether a value surely has the shape of an entry that names no other: most do."""
    try:
        act, n, schema = value["act"], value["n"], value["schema"]
        of, prev, fields = act["of"], value.get("prev", ""), value["set"]
        texts = (value["id"], prev, act["id"], value["record"], value["kind"], value["by"],
                 value["device"], value["wall"])  # fmt: skip
        return (
            _COMMON.issuperset(value)
            and _TEXTS.fullmatch("\n".join(texts)) is not None
            and (type(n) is int and type(of) is int and type(schema) is int)
            and (1 <= n <= MAX_INTEGER and 1 <= schema <= MAX_INTEGER)
            and (len(act) == 2 and 1 <= of <= MAX_ACT)
            and (prev != "" or (n == 1 and "prev" not in value))
            and (type(fields) is dict and (_MET.issuperset(fields) or _meet(fields)))
        )
    except (AttributeError, LookupError, TypeError):
        return False


def wrong_shape(message: str) -> RefusedLine:
    """Return the refusal of an entry of another form."""
    return RefusedLine("wrong_shape", message, "See the table of PROTOCOL.md.")


def _check_shape(value: Any) -> None:
    if not isinstance(value, dict):
        raise wrong_shape("The line is no object; an entry is expected.")
    for name in NEEDED:
        if name not in value:
            raise wrong_shape(f"The entry has no '{name}'; expected {SHAPES[name][1]}.")
    for name, part in value.items():
        if name in KNOWN and not SHAPES[name][0](part):
            raise wrong_shape(f"'{name}' is {str(value[name])[:60]!r}; expected {SHAPES[name][1]}.")
    if value["n"] > 1 and "prev" not in value:
        raise wrong_shape(
            f"Entry {value['n']} of a writer has no 'prev'; expected the sha256 before."
        )


def _check_size(line: bytes) -> None:
    if len(line) > MAX_LINE_BYTES:
        message = f"The line has {len(line)} bytes; the limit is {MAX_LINE_BYTES}."
        raise RefusedLine("too_large", message, "Split the text over several entries.")


def known_entry(value: dict[str, Any]) -> Entry:
    """Return the entry of a line that was checked before, given as the value it holds."""
    get = value.get
    act = Act(value["act"]["id"], value["act"]["of"])
    is_plain = KNOWN.issuperset(value)
    more = {} if is_plain else {k: v for k, v in value.items() if k not in KNOWN}
    return Entry(
        *(value["id"], value["n"], get("prev"), act, value["record"], value["kind"]),
        *(value["set"], get("seen") or {}, get("relies") or (), value["by"], value["device"]),
        *(value["wall"], get("why"), value["schema"], get("sig"), more),
    )


def _value(entry: Entry) -> dict[str, Any]:
    value = {**entry.more, **entry._asdict(), "act": entry.act._asdict()}
    del value["more"]
    value["seen"] = {field: list(ids) for field, ids in entry.seen.items()}
    value["relies"] = list(entry.relies)
    for name in KNOWN - set(NEEDED):
        if not value[name]:
            del value[name]
    return value


def make_entry(**fields: Any) -> Entry:
    """Return an entry of the fields given, checked; what is left out needs no naming."""
    blank: dict[str, Any] = {"prev": None, "seen": {}, "relies": (), "why": None, "sig": None}
    entry = Entry(**{**blank, "more": {}, **fields, "act": Act(*fields["act"])})
    return from_line(to_line(entry))


def to_line(entry: Entry) -> bytes:
    """Return the canonical line of an entry, without line end."""
    return canonical(_value(entry))


def from_line(line: bytes, codec: Codec = PLAIN) -> Entry:
    """Return the entry of a line as it came, or raise RefusedLine with the reason."""
    _check_size(line)
    value = parse(line, codec)
    if not _is_common(value):
        _check_shape(value)
    return known_entry(value)


def signed_bytes(entry: Entry) -> bytes:
    """Return the bytes a signature is made over: the line without sig."""
    return to_line(entry._replace(sig=None))
