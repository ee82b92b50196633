"""Drawings made pictures, in the child process: PNG, JPEG, an SVG, or one page of a PDF."""

import io
from collections.abc import Sequence
from math import sqrt
from pathlib import Path
from typing import Any

from PIL import Image, ImageOps

from skinpin.imaging.svg_scan import SvgRefusedError, is_utf16, scan

MOST_PIXELS = 16_700_000
MOST_READ = 80_000_000
"""Pixels of a picture that is read and made smaller."""
LONGEST_PX = 4096
DPI = 300
MOST_PAGES = 500
MOST_PNG_BYTES = 4 * 1024 * 1024
MOST_COLOURS = 4096
"""A picture of more colours is no line drawing, and larger as PNG."""
JPEG_QUALITY = 90
FONTS = Path(__file__).parents[1] / "reports" / "fonts"
FAMILY = "DejaVu Sans"
Made = tuple[dict[str, Any], list[bytes]]


class DrawingRefusedError(ValueError):
    """The file is not taken; the first argument is a code, the second a sentence."""


def drawing(content: bytes, page: int) -> Made:
    """Return what is to be told of a drawing and the bytes of its picture.

    Upright, at most 16.7 Mpx; PNG, or JPEG where it came as one or PNG would be large.
    """
    if content.startswith(b"%PDF-"):
        image, pages = _page(content, page)
        return _told(image, pages, "PNG")
    _refuse_page(page, 1)
    if content.startswith((b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff")):
        image, kind = _opened(content)
        return _told(image, 1, kind)
    is_text = content.removeprefix(b"\xef\xbb\xbf").lstrip().startswith(b"<")
    if not (is_text or is_utf16(content)):
        raise DrawingRefusedError("unreadable_picture", "The file is no PNG, JPEG, SVG or PDF.")
    return _told(_drawn(content), 1, "PNG")


def answer_drawing(content: bytes, page: int) -> Made:
    """Make a drawing's picture, or say in one word and one sentence why not."""
    try:
        return drawing(content, page)
    except DrawingRefusedError as error:
        return {"code": error.args[0], "message": error.args[1]}, []
    except SvgRefusedError as error:
        return {"code": "unreadable_picture", "message": str(error)}, []
    except (MemoryError, Image.DecompressionBombError, Image.DecompressionBombWarning):
        return {
            "code": "too_many_pixels",
            "message": "The drawing needs more memory than is allowed.",
        }, []
    except Exception:  # any reader may fail in its own way, and word, on hostile bytes
        return {"code": "unreadable_picture", "message": "The drawing is damaged or cut short."}, []


def _refuse_page(page: int, pages: int) -> None:
    if pages > MOST_PAGES:
        raise DrawingRefusedError(
            "too_many_pages", f"The PDF has {pages} pages; at most {MOST_PAGES} are looked through."
        )
    if not 1 <= page <= pages:
        raise DrawingRefusedError("no_such_page", f"There is no page {page}: the file has {pages}.")


def _opened(content: bytes) -> tuple[Image.Image, str]:
    with Image.open(io.BytesIO(content), formats=["PNG", "JPEG"]) as image:
        if image.width * image.height > MOST_READ:
            raise DrawingRefusedError(
                "too_many_pixels",
                f"The picture has more than {MOST_READ // 10**6} megapixels.",
            )
        kind = str(image.format)
        share = sqrt(min(1.0, MOST_PIXELS / (image.width * image.height)))
        if share < 1:
            size = (int(image.width * share), int(image.height * share))
            if kind == "JPEG":
                image.draft("RGB", size)
            image = image.resize(size, Image.Resampling.BOX if image.mode == "1" else None)  # type: ignore[assignment]
        image.load()
        return ImageOps.exif_transpose(image), kind


def _page(content: bytes, page: int) -> tuple[Image.Image, int]:
    # Loaded when asked for: the child that only makes small copies does without.
    import pypdfium2  # type: ignore[import-untyped]

    document = pypdfium2.PdfDocument(content)
    try:
        pages = len(document)
        _refuse_page(page, pages)
        sheet = document[page - 1]
        wide, high = sheet.get_size()
        if not (wide > 0 and high > 0):
            raise DrawingRefusedError("unreadable_picture", f"Page {page} has no size.")
        # A side is rounded up.
        scale = 0.999 * min(DPI / 72, _scale((wide, high)))
        return sheet.render(scale=scale, may_draw_forms=False).to_pil(), pages
    finally:
        document.close()


def _drawn(content: bytes) -> Image.Image:
    import resvg_py

    found = scan(content)
    scale = _scale((found.width_px, found.height_px))
    size = [max(1, int(side * scale + 1e-6)) for side in (found.width_px, found.height_px)]
    made = resvg_py.svg_to_bytes(
        svg_string=found.text,
        width=size[0],
        height=size[1],
        background="white",
        skip_system_fonts=True,
        font_files=[str(one) for one in sorted(FONTS.glob("*.ttf"))],
        font_family=FAMILY,
        serif_family=FAMILY,
        sans_serif_family=FAMILY,
        monospace_family=FAMILY,
        resources_dir=str(FONTS),
    )
    return Image.open(io.BytesIO(made), formats=["PNG"])


def _scale(size: Sequence[float]) -> float:
    """Return how much larger something without pixels is drawn."""
    return min(LONGEST_PX / max(size), sqrt(MOST_PIXELS / (size[0] * size[1])))


def _told(image: Image.Image, pages: int, kind: str) -> Made:
    flat = _flat(image)
    is_drawn = kind != "JPEG" and flat.getcolors(MOST_COLOURS) is not None
    content = _written(flat, "PNG") if is_drawn else b""
    media_type = "image/png"
    if not is_drawn or len(content) > MOST_PNG_BYTES:
        content, media_type = _written(flat, "JPEG"), "image/jpeg"
    head = {"media_type": media_type, "width_px": flat.width, "height_px": flat.height}
    return {**head, "pages": pages}, [content]


def _flat(image: Image.Image) -> Image.Image:
    """Return a picture on white, in colours or greys of eight bits, with nothing but its pixels."""
    if image.mode in ("1", "L"):
        return image.convert("L")
    if image.mode in ("I;16", "I;16B", "I", "F"):
        return image.point(lambda value: value / 256).convert("L")
    if image.mode in ("RGBA", "LA", "P", "PA"):
        clear = image.convert("RGBA")
        return Image.alpha_composite(Image.new("RGBA", clear.size, "white"), clear).convert("RGB")
    return image.convert("RGB")


def _written(image: Image.Image, kind: str) -> bytes:
    out = io.BytesIO()
    image.info = {}
    options = {"quality": JPEG_QUALITY} if kind == "JPEG" else {"compress_level": 6}
    image.save(out, kind, **options)
    return out.getvalue()
