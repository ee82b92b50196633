"""How wide and high words come out on paper, in millimetres, in the report's own type."""

import re
from functools import lru_cache
from pathlib import Path
from typing import Any

from PIL import ImageFont

FONTS = Path(__file__).parent / "fonts"
PT_MM = 25.4 / 72
TITLE_MM = 77.0
"""Room for the title of a sheet in its title block."""
CAP_HEIGHT_EM, LEADING_EM = 0.76, 0.52
_UNIT = 100
_PARTS = re.compile(r"[^\s\u200b]+[\s\u200b]*|\s+")


@lru_cache
def _face(bold: bool) -> Any:
    name = f"DejaVuSansCondensed{'-Bold' if bold else ''}.ttf"
    return ImageFont.truetype(str(FONTS / name), _UNIT, layout_engine=ImageFont.Layout.BASIC)


@lru_cache(maxsize=20_000)
def _units(words: str, bold: bool) -> float:
    return float(_face(bold).getlength(words))


def width_mm(words: str, size_pt: float, bold: bool = False) -> float:
    """Return how wide words are in one line.

    >>> round(width_mm("A/0002", 25, bold=True), 1)
    31.3
    """
    return _units(words, bold) / _UNIT * size_pt * PT_MM


def lines_of(words: str, size_pt: float, wide_mm: float, bold: bool = False) -> int:
    """Return in how many lines words are broken."""
    count = 0
    for paragraph in words.split("\n"):
        count += 1
        left = wide_mm
        for part in _PARTS.findall(paragraph):
            part_mm = width_mm(part.rstrip("\u200b"), size_pt, bold)
            if width_mm(part.rstrip(), size_pt, bold) > left and left < wide_mm:
                count += 1
                left = wide_mm
            left -= part_mm
    return count


def block_mm(lines: int, size_pt: float, leading_em: float = LEADING_EM) -> float:
    """Return how high so many lines are, from the top of a capital to the last base line."""
    em = size_pt * PT_MM
    return (lines * CAP_HEIGHT_EM + max(lines - 1, 0) * leading_em) * em


def fitting_size(words: str, wide_mm: float, sizes: tuple[float, ...]) -> float:
    """Return the first of sizes in which bold words fit one line, the last where none does."""
    return next((size for size in sizes if width_mm(words, size, bold=True) <= wide_mm), sizes[-1])
