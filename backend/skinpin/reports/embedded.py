"""A JPEG picture wrapped as a page, so that typesetting copies its bytes and decodes no pixel."""

from pathlib import Path

_COLOURS = {1: b"/DeviceGray", 3: b"/DeviceRGB"}
_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}


def embedded_name(name: str) -> str:
    """Return what a picture's file is called beside the template."""
    return f"{Path(name).stem}.pdf"


def embedded_picture(jpeg: bytes) -> bytes | None:
    """Return a page that shows a JPEG and nothing else; nothing of what is no such picture."""
    found = _frame_of(jpeg)
    if found is None:
        return None
    wide, high, colours = found
    picture = (
        b"<</Type/XObject/Subtype/Image/Width %d/Height %d/ColorSpace%s/BitsPerComponent 8"
        b"/Filter/DCTDecode/Length %d>>\nstream\n" % (wide, high, colours, len(jpeg))
    )
    drawn = b"q %d 0 0 %d 0 0 cm /P Do Q" % (wide, high)
    page = (
        b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 %d %d]/Contents 4 0 R"
        b"/Resources<</XObject<</P 5 0 R>>>>>>" % (wide, high)
    )
    return _written(
        [
            b"<</Type/Catalog/Pages 2 0 R>>",
            b"<</Type/Pages/Kids[3 0 R]/Count 1>>",
            page,
            b"<</Length %d>>\nstream\n%s\nendstream" % (len(drawn), drawn),
            picture + jpeg + b"\nendstream",
        ]
    )


def _frame_of(jpeg: bytes) -> tuple[int, int, bytes] | None:
    """Return width, height and colours as the frame header of a JPEG says."""
    at = 2
    while jpeg[:2] == b"\xff\xd8" and at + 9 < len(jpeg) and jpeg[at] == 0xFF:
        marker, length = jpeg[at + 1], int.from_bytes(jpeg[at + 2 : at + 4], "big")
        if marker in _FRAMES:
            high, wide = (int.from_bytes(jpeg[at + n : at + n + 2], "big") for n in (5, 7))
            colours = _COLOURS.get(jpeg[at + 9])
            is_whole = jpeg[at + 4] == 8 and wide > 0 and high > 0
            return (wide, high, colours) if colours and is_whole else None
        at += 2 + max(length, 2)
    return None


def _written(objects: list[bytes]) -> bytes:
    out, starts = bytearray(b"%PDF-1.7\n"), []
    for number, one in enumerate(objects, start=1):
        starts.append(len(out))
        out += b"%d 0 obj\n%s\nendobj\n" % (number, one)
    table = b"".join(b"%010d 00000 n \n" % start for start in starts)
    end = b"trailer\n<</Size %d/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n"
    out += b"xref\n0 %d\n0000000000 65535 f \n%s" % (len(objects) + 1, table)
    return bytes(out) + end % (len(objects) + 1, bytes(out).rindex(b"xref"))
