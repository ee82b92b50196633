"""Drawings as bytes, made by code: SVG, PDF with pages."""

import io

from PIL import Image, ImageDraw


def svg(inside: str = "", head: str = 'viewBox="0 0 400 100"', before: str = "") -> bytes:
    """Return an SVG with a red box at its left, and whatever else."""
    space = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    box = '<rect width="100" height="100" fill="red"/>'
    return f"{before}<svg {space} {head}>{box}{inside}</svg>".encode()


def sheet(size: tuple[int, int] = (420, 300), colour: str = "red") -> Image.Image:
    """Return a white sheet with a coloured left quarter."""
    image = Image.new("RGB", size, "white")
    ImageDraw.Draw(image).rectangle((0, 0, size[0] // 4, size[1]), fill=colour)
    return image


def pdf(colours: list[str]) -> bytes:
    """Return a PDF with a page a colour."""
    pages = [sheet(colour=colour) for colour in colours]
    out = io.BytesIO()
    pages[0].save(out, "PDF", save_all=True, append_images=pages[1:])
    return out.getvalue()


def empty_pages(count: int) -> bytes:
    """Return a PDF with so many pages, one object for all of them."""
    kids = b"3 0 R " * count
    objects = [
        b"<</Type/Catalog/Pages 2 0 R>>",
        b"<</Type/Pages/Count %d/Kids[%s]>>" % (count, kids),
        b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 200 100]>>",
    ]
    out, starts = bytearray(b"%PDF-1.4\n"), []
    for number, one in enumerate(objects, 1):
        starts.append(len(out))
        out += b"%d 0 obj%s endobj\n" % (number, one)
    at = len(out)
    rows = b"".join(b"%010d 00000 n \n" % start for start in starts)
    out += b"xref\n0 4\n0000000000 65535 f \n%strailer<</Size 4/Root 1 0 R>>\n" % rows
    return bytes(out) + b"startxref\n%d\n%%%%EOF\n" % at
