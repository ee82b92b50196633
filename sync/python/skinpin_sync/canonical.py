"""One spelling for one value: RFC 8785 without floats, ASCII keys, text in NFC."""

import hashlib
import json
import unicodedata
from collections.abc import Callable, Iterable
from typing import Any, NamedTuple

MAX_INTEGER = 2**53 - 1
MAX_DEPTH = 32
PROTO = b"__proto__"


class RefusedLine(ValueError):
    """A line that may not enter the book."""

    def __init__(self, code: str, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.code, self.message, self.hint = code, message, hint


def not_canonical(message: str) -> RefusedLine:
    """Return the refusal of a value or line that has another spelling."""
    return RefusedLine("not_canonical", message, "Write the line with canonical().")


def plain_encode(value: Any) -> bytes:
    """Return the bytes of a value already known to be fit; orjson may take its place."""
    text = json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return text.encode()


def canonical(value: Any) -> bytes:
    """Return the canonical bytes of a value, or refuse it."""
    _check(value, 0)
    return plain_encode(value)


class Codec(NamedTuple):
    """Writes the bytes of a fit value and reads a line; orjson's two functions are faster.

    A reader may let numbers pass that are not whole: `parse` looks for them.
    """

    encode: Callable[[Any], bytes]
    decode: Callable[[bytes], Any]


def plain_decode(line: bytes) -> Any:
    """Return the value of a line, any figure that is not whole refused by name."""
    return _DECODER.decode(line.decode())


PLAIN = Codec(plain_encode, plain_decode)


def parse(line: bytes, codec: Codec = PLAIN) -> Any:
    """Return the value of a canonical line; any other line is refused."""
    try:
        value = codec.decode(line)
        same = codec.encode(value) == line
    except RefusedLine:
        raise
    except (ValueError, TypeError, RecursionError) as cause:
        raise not_canonical(f"The line is not JSON in UTF-8: {cause}.") from cause
    if not same:
        raise not_canonical(
            "The line is not in canonical form: keys sorted, none twice, no spaces, short escapes."
        )
    if not line.isascii() or PROTO in line or not _is_plain((value,), 0):
        _check(value, 0)
    return value


def _is_plain(parts: Iterable[Any], depth: int) -> bool:
    """Say whether decoded parts hold but text, yes, no, nothing and whole numbers in range."""
    for part in parts:
        kind = type(part)
        if kind is str or kind is bool or part is None:
            continue
        if kind is int:
            if not -MAX_INTEGER <= part <= MAX_INTEGER:
                return False
        else:
            inner = part.values() if kind is dict else part
            if kind is float or depth >= MAX_DEPTH or not _is_plain(inner, depth + 1):
                return False
    return True


def sha256_hex(line: bytes) -> str:
    """Return the SHA-256 of bytes as 64 lower-case hex digits."""
    return hashlib.sha256(line).hexdigest()


def _no_float(text: str) -> Any:
    raise not_canonical(f"{text} is not a whole number; write such figures as text.")


def _int(text: str) -> int:
    if len(text) <= 15 or (len(text) <= 17 and abs(int(text)) <= MAX_INTEGER):
        return int(text)
    raise not_canonical(f"{text[:20]} is beyond ±(2^53 − 1); write it as text.")


_DECODER = json.JSONDecoder(parse_float=_no_float, parse_int=_int, parse_constant=_no_float)


def _check(value: Any, depth: int) -> None:
    if depth >= MAX_DEPTH and isinstance(value, dict | list | tuple):
        raise not_canonical(f"The value is nested deeper than {MAX_DEPTH} levels.")
    if isinstance(value, str):
        _check_text(value)
    elif isinstance(value, dict):
        for key, part in value.items():
            if not isinstance(key, str) or not key.isascii() or key == "__proto__":
                raise not_canonical(f"The key {key!r} is not ASCII text, or means another thing.")
            _check(part, depth + 1)
    elif isinstance(value, list | tuple):
        for part in value:
            _check(part, depth + 1)
    elif isinstance(value, int):
        if abs(value) > MAX_INTEGER:
            raise not_canonical(f"{value} is beyond ±(2^53 − 1); write it as text.")
    elif isinstance(value, float):
        _no_float(str(value))
    elif value is not None:
        raise not_canonical(f"{value!r} is neither text, whole number, yes/no, list nor object.")


def _check_text(text: str) -> None:
    if text.isascii():
        return
    try:
        text.encode()
    except UnicodeEncodeError as cause:
        raise not_canonical("A text holds half a character (a lone surrogate).") from cause
    if not unicodedata.is_normalized("NFC", text):
        raise not_canonical(f"The text {text[:40]!r} is not in NFC.")
