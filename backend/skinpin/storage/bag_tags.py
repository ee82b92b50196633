"""The text files of a bag (RFC 8493, sections 2.1.1, 2.1.3, 2.2.1 and 2.2.2)."""

import re

from skinpin.domain.errors import Refused

BAGIT, INFO = "bagit.txt", "bag-info.txt"
MANIFEST, TAG_MANIFEST = "manifest-sha256.txt", "tagmanifest-sha256.txt"
SIGNATURE = "signature.txt"
DECLARATION = ["BagIt-Version: 1.0", "Tag-File-Character-Encoding: UTF-8"]
_LISTED = re.compile(r"([0-9A-Fa-f]{64})[ \t]+(?:\./)?(\S[^\r\n]*)")


def read_bagit(content: bytes) -> None:
    """Check the declaration: exactly two lines (2.1.1)."""
    if _lines(BAGIT, content) != DECLARATION:
        raise not_a_bag(f"{BAGIT} does not declare a bag of version 1.0 in UTF-8.")


def read_info(content: bytes) -> dict[str, str]:
    """Return label and value of each line; a label that comes twice is refused (2.2.2)."""
    found: dict[str, str] = {}
    for line in _lines(INFO, content):
        label, colon, value = line.partition(":")
        if not colon or not label.strip() or label in found:
            raise not_a_bag(f"{INFO} has a line that can't be read: '{line[:80]}'.")
        found[label] = value.strip()
    return found


def read_manifest(name: str, content: bytes) -> dict[str, str]:
    """Return the SHA-256 of each file listed (2.1.3); a path listed twice is refused."""
    found: dict[str, str] = {}
    for line in _lines(name, content):
        listed = _LISTED.fullmatch(line)
        if listed is None or listed[2] in found:
            raise not_a_bag(f"{name} has a line that can't be read: '{line[:80]}'.")
        found[listed[2]] = listed[1].lower()
    return found


def not_a_bag(message: str) -> Refused:
    """Return the refusal of a file that is not one a tablet wrote."""
    return Refused(
        "not_a_bag",
        message,
        "Nothing was stored. Take the file as the tablet wrote it, or write it again there.",
    )


def _lines(name: str, content: bytes) -> list[str]:
    try:
        return content.decode().replace("\r\n", "\n").rstrip("\n").split("\n") if content else []
    except UnicodeDecodeError as error:
        raise not_a_bag(f"{name} is not written in UTF-8.") from error
