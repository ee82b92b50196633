"""The sheet with the scale card to cut out, and bars that tell whether the printer kept to it."""

import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import orjson

from skinpin.domain.kinds import WORDING
from skinpin.domain.scale_card import CARD, marker_bits, marker_corners
from skinpin.reports.border import border_svg
from skinpin.reports.svg import INK, path, rect, svg
from skinpin.reports.zone_report import typeset

SHEET = Path(__file__).parent / "template" / "scale_card.typ"
CARD_AT_MM = (30.0, 28.0)
RULER_MM = (20.0, 60.0)
_FINE, _THIN = 0.1, 0.18
_BLACK = "#000000"
_OVERLAP_MM = 0.004
"""White squares side by side would show the black under them in between."""


def scale_card_pdf(card: str, printed: str) -> bytes:
    """Return the sheet as PDF: the name of the card, as `SC-1`, and the day it was printed."""
    with tempfile.TemporaryDirectory(prefix="skinpin-card-") as folder:
        root = Path(folder)
        shutil.copy(SHEET, root / "zone.typ")  # the typesetter sets the sheet of that name
        told = {
            "card": card,
            "issue": CARD["issue"],
            "printed": printed,
            "safety": WORDING["full"],
            "short": WORDING["short"],
            "border": border_svg(),
            "drawing": card_svg(),
            "at": CARD_AT_MM,
            "size": [CARD["width_mm"], CARD["height_mm"]],
            "bar": bar_svg(),
            "bar_mm": CARD["bar_mm"],
        }
        (root / "data.json").write_bytes(orjson.dumps(told))
        return typeset(root)


def card_svg() -> str:
    """Return the card without words: outline, markers, and a ruler between the lower two."""
    wide, high = CARD["width_mm"], CARD["height_mm"]
    shapes = [rect((0, 0, wide, high), INK, _FINE, "white")]
    for marker in CARD["markers"]:
        shapes += _marker(marker)
    return svg(wide, high, [*shapes, *_ruler()])


def bar_svg() -> str:
    """Return a bar of the length that is to be measured, its ends the outer edges of two lines."""
    length, high = CARD["bar_mm"], 6.0
    ends = [path([(x, 0), (x, high)], _BLACK, 0.2) for x in (0.1, length - 0.1)]
    bar = rect((0.1, 2, length - 0.2, 2), _BLACK, 0.0, _BLACK)
    tens = [path([(x, 1), (x, high - 1)], _BLACK, _FINE) for x in range(10, length, 10)]
    return svg(length, high, [*ends, bar, *tens])


def _marker(marker: dict[str, Any]) -> Iterator[str]:
    (left, top), *_ = marker_corners(marker)
    side = CARD["side_mm"]
    module = side / 8
    yield rect((left, top, side, side), "none", 0, _BLACK)
    for row, bits in enumerate(marker_bits(marker)):
        for column, bit in enumerate(bits):
            if bit == "1":
                x, y = left + (column + 1) * module, top + (row + 1) * module
                size = module + 2 * _OVERLAP_MM
                yield rect((x - _OVERLAP_MM, y - _OVERLAP_MM, size, size), "none", 0, "#FFFFFF")


def _ruler() -> Iterator[str]:
    """Draw millimetres at the lower edge, for the eye alone."""
    low = CARD["height_mm"]
    first, last = RULER_MM
    for mm in range(int(last - first) + 1):
        long = 3.4 if mm % 10 == 0 else 2.4 if mm % 5 == 0 else 1.5
        yield path([(first + mm, low), (first + mm, low - long)], INK, _THIN)
