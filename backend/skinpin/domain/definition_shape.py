"""The shape of a definition, read from the published JSON Schema, with a sentence each.

Of JSON Schema (draft 2020-12) only the words are read that the schema uses; a test compares what
is found with the library `jsonschema`.
"""

import json
import re
from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from math import isfinite
from typing import Any

from skinpin.domain.definition_trouble import Trouble
from skinpin.domain.fields import read_table

SCHEMA: Mapping[str, Any] = read_table("airframe.schema.json")
HINT = "Look at the published schema of definitions."
MOST_SHOWN = 40
MOST_TROUBLES = 200

Schema = Mapping[str, Any]


def shape_troubles(definition: Any) -> list[Trouble]:
    """Return where a value is no definition by the schema; never more than 200 places."""
    found = []
    for one in _walk(SCHEMA, definition, ""):
        found.append(one)
        if len(found) == MOST_TROUBLES:
            break
    return found


def _walk(schema: Schema, value: Any, at: str) -> Iterator[Trouble]:
    schema = _resolved(schema)
    wrong = _is_wrong(schema, value)
    if wrong:
        yield _trouble(at, schema, value)
        return
    if isinstance(value, dict):
        yield from _lacking(schema, value, at)
        for name, below in schema.get("properties", {}).items():
            if name in value:
                yield from _walk(below, value[name], f"{at}/{name}".lstrip("/"))
    if isinstance(value, list) and "items" in schema:
        for place, one in enumerate(value):
            yield from _walk(schema["items"], one, f"{at}/{place}".lstrip("/"))


def _lacking(schema: Schema, value: Mapping[str, Any], at: str) -> Iterator[Trouble]:
    for name in schema.get("required", ()):
        if name not in value:
            expected = _words(_resolved(schema.get("properties", {}).get(name, {})))
            message = f"{_named(at)} has no “{name}”: {expected} is expected."
            yield Trouble(at, "wrong_shape", message, HINT)
    ways = schema.get("anyOf", ())
    if ways and not any(set(way["required"]) <= set(value) for way in ways):
        yield Trouble(at, "wrong_shape", f"{_named(at)} is not complete: {_words(schema)}.", HINT)


def _trouble(at: str, schema: Schema, value: Any) -> Trouble:
    message = f"{_named(at)} is {_shown(value)}; {_words(schema)} is expected."
    return Trouble(at, "wrong_shape", message, HINT)


def _resolved(schema: Schema) -> Schema:
    name = schema.get("$ref")
    return SCHEMA["$defs"][name.rpartition("/")[2]] if name else schema


def _is_wrong(schema: Schema, value: Any) -> bool:
    return any(schema[word] is not None and not holds(schema[word], value)
               for word, holds in _HOLDS.items() if word in schema)  # fmt: skip


def _is_of_type(wanted: str | list[str], value: Any) -> bool:
    names = [wanted] if isinstance(wanted, str) else wanted
    return any(_TYPES[name](value) for name in names)


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and isfinite(value)


_TYPES: dict[str, Callable[[Any], bool]] = {
    "object": lambda value: isinstance(value, dict),
    "array": lambda value: isinstance(value, list),
    "string": lambda value: isinstance(value, str),
    "boolean": lambda value: isinstance(value, bool),
    "null": lambda value: value is None,
    "number": lambda value: _is_number(value),
    "integer": lambda value: _is_number(value) and value == value // 1,
}


@lru_cache(maxsize=64)
def _pattern(text: str) -> re.Pattern[str]:
    # Python's $ also stands before a last line feed, which the schema does not mean.
    return re.compile(re.sub(r"\$$", r"\\Z", text))


_HOLDS: dict[str, Callable[[Any, Any], bool]] = {
    "type": _is_of_type,
    "enum": lambda words, value: any(_is_same(one, value) for one in words),
    "pattern": lambda text, value: not isinstance(value, str) or bool(_pattern(text).search(value)),
    "minLength": lambda least, value: not isinstance(value, str) or len(value) >= least,
    "maxLength": lambda most, value: not isinstance(value, str) or len(value) <= most,
    "minItems": lambda least, value: not isinstance(value, list) or len(value) >= least,
    "maxItems": lambda most, value: not isinstance(value, list) or len(value) <= most,
    "minimum": lambda least, value: not _TYPES["number"](value) or value >= least,
}


def _is_same(one: Any, value: Any) -> bool:
    return type(one) is type(value) and bool(one == value)


def _words(schema: Schema) -> str:
    return str(schema.get("description", "a value"))


def _named(at: str) -> str:
    return f"“{at}”" if at else "The definition"


def _shown(value: Any) -> str:
    if isinstance(value, dict):
        return "an object"
    if isinstance(value, list):
        return f"a list of {len(value)}"
    text = json.dumps(value, ensure_ascii=False)
    return text if len(text) <= MOST_SHOWN else f"{text[:MOST_SHOWN]}…"
