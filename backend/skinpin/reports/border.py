"""The sheet's border as line work: frame, fields, centring marks, rules of the title block."""

from skinpin.reports.svg import INK, path, rect, svg

WIDE, HIGH = 210.0, 297.0
LEFT, TOP, RIGHT, BOTTOM = 20.0, 10.0, 200.0, 287.0
BLOCK_TOP = 250.0
_THIN, _MIDDLE, _THICK = 0.18, 0.5, 0.7
_FIELDS_ACROSS, _FIELDS_DOWN = 4, 6


def border_svg() -> str:
    """Return the border of an A4 sheet with its title block, without words."""
    frame = rect((LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP), INK, _THICK)
    parts = [frame, *_ticks(), *_fields(), *_centring(), *_block(), *_angle_sign(54.5, 270.5)]
    return svg(WIDE, HIGH, parts)


def _line(x0: float, y0: float, x1: float, y1: float, width: float = _THIN) -> str:
    return path([(x0, y0), (x1, y1)], INK, width)


def _ticks() -> list[str]:
    across = [LEFT + (RIGHT - LEFT) / _FIELDS_ACROSS * i for i in range(1, _FIELDS_ACROSS)]
    down = [TOP + (BOTTOM - TOP) / _FIELDS_DOWN * i for i in range(1, _FIELDS_DOWN)]
    return [
        *(_line(x, a, x, b) for x in across for a, b in ((5, TOP), (BOTTOM, 292))),
        *(_line(a, y, b, y) for y in down for a, b in ((14, LEFT), (RIGHT, 206))),
    ]


def _fields() -> list[str]:
    """Name the fields across by numbers and down by letters."""
    wide, high = (RIGHT - LEFT) / _FIELDS_ACROSS, (BOTTOM - TOP) / _FIELDS_DOWN
    across = [
        _name(LEFT + wide * (i + 0.5), y, str(i + 1))
        for i in range(_FIELDS_ACROSS)
        for y in (7.5, 292.5)
    ]
    down = [
        _name(x, TOP + high * (i + 0.5) + 1.2, "ABCDEF"[i])
        for i in range(_FIELDS_DOWN)
        for x in (16.5, 203.8)
    ]
    return across + down


def _name(x: float, y: float, words: str) -> str:
    return (
        f'<text x="{x:g}" y="{y:g}" font-family="DejaVu Sans" font-stretch="75%" '
        f'font-size="3.2" text-anchor="middle" fill="{INK}">{words}</text>'
    )


def _centring() -> list[str]:
    x, y = (LEFT + RIGHT) / 2, HIGH / 2
    upright = [_line(x, a, x, b, _MIDDLE) for a, b in ((2, 12), (285, 295))]
    return upright + [_line(a, y, b, y, _MIDDLE) for a, b in ((2, 22), (198, 208))]


def _block() -> list[str]:
    top, middle, low = BLOCK_TOP, BLOCK_TOP + 10.5, BLOCK_TOP + 28.5
    box = rect((LEFT, top, RIGHT - LEFT, BOTTOM - top), INK, _THICK, "white")
    upright = [_line(LEFT + x, top, LEFT + x, low) for x in (47, 128, 145)]
    stamps = [_line(LEFT + x, middle, LEFT + x, low) for x in (74, 101)]
    return [box, *(_line(LEFT, y, RIGHT, y) for y in (middle, low)), *upright, *stamps]


def _angle_sign(left: float, top: float) -> list[str]:
    """Return the sign of first-angle projection: a cone from the side and from its end."""
    cone = [(1, 1.9), (7, 0.6), (7, 5.8), (1, 4.5)]
    parts = [
        path([(left + x - 6, top + y) for x, y in cone], INK, 0.2, closed=True),
        *(
            f'<circle cx="{left + 7:g}" cy="{top + 3.2:g}" r="{r:g}" fill="none" stroke="{INK}" '
            f'stroke-width="0.2"/>'
            for r in (2.6, 1.3)
        ),
    ]
    dash = (1.6, 0.5, 0.4, 0.5)
    axis = [(left - 6, top + 3.2), (left + 11, top + 3.2)]
    cross = [(left + 7, top - 0.1), (left + 7, top + 6.5)]
    return [*parts, path(axis, INK, 0.13, dash=dash), path(cross, INK, 0.13, dash=dash)]
