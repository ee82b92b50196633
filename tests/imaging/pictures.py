"""Pictures as bytes, wide ones, with distinct corners."""

import io
import struct
import zlib

from PIL import Image

WIDE = (600, 200)


def picture(
    size: tuple[int, int] = WIDE, kind: str = "JPEG", orientation: int = 1, mode: str = "RGB"
) -> bytes:
    """Return a picture, red at its left half and blue at its right."""
    image = Image.new("RGB", size, "blue")
    image.paste((255, 0, 0), (0, 0, size[0] // 2, size[1]))
    image = image.convert(mode)
    out = io.BytesIO()
    exif = Image.Exif()
    exif[0x0112] = orientation
    image.save(out, kind, exif=exif, **({"quality": 95} if kind == "JPEG" else {}))
    return out.getvalue()


def bomb(width: int, height: int) -> bytes:
    """Return a PNG of a few kB that claims so many pixels."""

    def chunk(name: bytes, content: bytes) -> bytes:
        total = zlib.crc32(name + content)
        return struct.pack(">I", len(content)) + name + content + struct.pack(">I", total)

    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    row = zlib.compress(b"\0" * (width + 1), 9)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", row) + chunk(b"IEND", b"")
