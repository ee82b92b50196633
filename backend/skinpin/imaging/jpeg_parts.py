"""The parts of a JPEG (ITU-T T.81, annex B): what shows the picture, without what speaks of it."""

from collections.abc import Iterator

SOI, EOI, SOS, APP1, COM = 0xD8, 0xD9, 0xDA, 0xE1, 0xFE
PLAIN = {0x01, *range(0xD0, 0xD8)}
"""Markers without a length: TEM and the restarts."""
EXIF = b"Exif\0\0"


def exif_of(content: bytes) -> bytes | None:
    """Return the TIFF block of a JPEG's EXIF, none where it has none."""
    for marker, part in _parts(content):
        if marker == APP1 and part[4:].startswith(EXIF):
            return part[4 + len(EXIF) :]
    return None


def with_exif(content: bytes, tiff: bytes) -> bytes:
    """Return a JPEG with this EXIF alone beside what decodes it; its scans byte for byte.

    Left out: other EXIF, XMP, IPTC, comments, and whatever lies behind the picture's end, where
    some cameras put more pictures with an EXIF of their own. Kept: JFIF, colour profile, Adobe.

    Raises
    ------
    ValueError
        The bytes are no JPEG, or cut short, or the EXIF is over 64 kB.
    """
    if len(tiff) + len(EXIF) + 2 > 0xFFFF:
        raise ValueError("The EXIF is too long for its part.")
    head = (len(EXIF) + len(tiff) + 2).to_bytes(2, "big")
    kept = [b"\xff\xd8", b"\xff\xe1" + head + EXIF + tiff]
    kept += [part for marker, part in _parts(content) if _shows(marker, part)]
    return b"".join(kept)


def _shows(marker: int, part: bytes) -> bool:
    if marker in (SOI, COM):
        return False
    if not 0xE0 <= marker <= 0xEF:
        return True
    body = part[4:]
    return (
        marker == 0xE0
        or (marker == 0xE2 and body.startswith(b"ICC_PROFILE\0"))
        or (marker == 0xEE and body.startswith(b"Adobe"))
    )


def _parts(content: bytes) -> Iterator[tuple[int, bytes]]:
    """Return marker and bytes of each part; the scan goes with the SOS before it."""
    if content[:2] != b"\xff\xd8":
        raise ValueError("No JPEG.")
    yield SOI, content[:2]
    at = 2
    while True:
        marker, begin = _marker(content, at)
        if marker == EOI:
            yield EOI, b"\xff\xd9"
            return
        end = begin + 2
        if marker not in PLAIN:
            end += int.from_bytes(content[begin + 2 : begin + 4], "big")
            if end < begin + 4 or end > len(content):
                raise ValueError("A part of the JPEG is cut short.")
        if marker == SOS:
            end = _scan_end(content, end)
        yield marker, content[begin:end]
        at = end


def _marker(content: bytes, at: int) -> tuple[int, int]:
    """Return the next marker and where its last 0xFF lies: fill bytes may stand before it."""
    if content[at : at + 1] != b"\xff":
        raise ValueError("The JPEG is cut short or damaged.")
    while content[at + 1 : at + 2] == b"\xff":
        at += 1
    if at + 1 >= len(content):
        raise ValueError("The JPEG is cut short.")
    return content[at + 1], at


def _scan_end(content: bytes, at: int) -> int:
    """Return where the coded data ends: at a marker that is neither stuffing nor a restart."""
    while True:
        at = content.find(b"\xff", at)
        if at < 0 or at + 1 >= len(content):
            raise ValueError("The JPEG ends in the middle of its picture.")
        following = content[at + 1]
        if following == 0xFF:
            at += 1
        elif following == 0 or 0xD0 <= following <= 0xD7:
            at += 2
        else:
            return at
