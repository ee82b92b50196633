"""Record numbers and tags: A/0017, its file form A0017, and a check character."""

import re
from collections.abc import Iterable

from skinpin.domain.errors import Refused

LETTERS = "ABDEFGHJKLMNQRTUVWXYZ"  # without I O P S C: like 1 and 0, or port, starboard, centre
LAST = 9999
NUMBER = re.compile(rf"([{LETTERS}]{{1,2}}) ?/? ?([0-9]{{4}})")
CHECK = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*"


def write_number(letter: str, serial: int) -> str:
    """Return the number of a record.

    >>> write_number("A", 17)
    'A/0017'
    """
    if not re.fullmatch(rf"[{LETTERS}]{{1,2}}", letter):
        raise Refused("no_such_letter", f"“{letter}” is no tablet letter.", "Enrol the tablet.")
    if not 1 <= serial <= LAST:
        raise Refused(
            "numbers_used_up",
            f"Tablet {letter} can't give number {serial}; numbers run from 1 to {LAST}.",
            "Enrol the tablet again: it gets a new letter.",
        )
    return f"{letter}/{serial:04d}"


def read_number(text: str) -> tuple[str, int]:
    """Return letter and serial of a number as written, typed or in a file name."""
    found = NUMBER.fullmatch(text.strip().upper())
    if found is None or found[2] == "0000":
        raise Refused(
            "not_a_number",
            f"“{text}” is no record number.",
            "Numbers are a tablet letter and four digits, such as A/0017.",
        )
    return found[1], int(found[2])


def file_number(number: str) -> str:
    """Return a number as it stands in file names, tags and addresses: A0017."""
    letter, serial = read_number(number)
    return f"{letter}{serial:04d}"


def next_letter(used: Iterable[str]) -> str:
    """Return the letter after the last one ever given; a letter is never given twice."""
    order: list[str] = [*LETTERS, *(first + second for first in LETTERS for second in LETTERS)]
    after = max((order.index(letter) + 1 for letter in used if letter in order), default=0)
    if after == len(order):
        raise Refused("letters_used_up", f"All {after} tablet letters are given.", "")
    return order[after]


def check_character(text: str) -> str:
    """Return the ISO/IEC 7064 MOD 37-2 check character: a digit, a letter or `*`."""
    product = 0
    for character in text:
        product = (product + _check_value(character)) * 2 % 37
    return CHECK[(1 - product) % 37]


def _check_value(character: str) -> int:
    value = CHECK.find(character)
    if not 0 <= value < 36:
        raise Refused(
            "not_checkable", f"“{character}” can't stand in a tag.", "Use digits and letters."
        )
    return value


def tag(constructor: str, number: str) -> str:
    """Return the tag of a record: constructor's number, record number, check character.

    >>> tag("2603", "B/0017")
    '2603B0017O'
    """
    body = re.sub(r"[^0-9A-Z]", "", constructor.upper()) + file_number(number)
    return body + check_character(body)


def tag_holds(text: str) -> bool:
    """Say whether a tag as typed or scanned has its right check character."""
    body = re.sub(r"[^0-9A-Z*]", "", text.upper())
    return len(body) > 1 and "*" not in body[:-1] and check_character(body[:-1]) == body[-1]
