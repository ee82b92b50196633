"""Texts of a file that no sheet, file or database can hold: control characters, halves, novels."""

from typing import Any
from unicodedata import category

MOST_LETTERS = 2000


def odd_text(value: Any) -> str | None:
    """Return what is wrong with the first odd text in a JSON value; none where all are sound.

    >>> odd_text({"members": [{"name": "F6"}]})
    >>> odd_text({"members": [{"name": "F" + chr(0)}]})
    'a text at “members/0/name” has a control character (U+0000)'
    >>> odd_text(["ab", chr(0xD800)])
    'a text at “1” has half a character (U+D800)'
    >>> odd_text({"name": "a" * 2001})
    'a text at “name” has 2001 letters; 2000 are the most'
    """
    waiting: list[tuple[str, Any]] = [("", value)]
    while waiting:
        at, one = waiting.pop()
        if isinstance(one, str):
            said = _odd(one)
            if said:
                return f"a text at “{at[1:][:80]}” {said}"
        elif isinstance(one, list):
            waiting += [(f"{at}/{place}", inner) for place, inner in enumerate(one)][::-1]
        elif isinstance(one, dict):
            named = [name for name in one if _odd(name)]
            if named:
                return f"a name {_odd(named[0])}"
            waiting += [(f"{at}/{name}", inner) for name, inner in one.items()][::-1]
    return None


def _odd(text: str) -> str | None:
    if len(text) > MOST_LETTERS:
        return f"has {len(text)} letters; {MOST_LETTERS} are the most"
    for letter in text:
        kind = category(letter)
        if kind == "Cs" or (kind == "Cc" and letter not in "\t\n\r"):
            what = "half a character" if kind == "Cs" else "a control character"
            return f"has {what} (U+{ord(letter):04X})"
    return None
