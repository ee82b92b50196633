"""Rivet heads by state as line work; the letter under a head says its state again."""

from skinpin.reports.svg import INK, circle, path, rect

BOX = 32
_LINE, _BAR = 2.5, 3.5
_DOTS = ((16, 9), (10.5, 12.5), (21.5, 12.5), (16, 16), (10, 19), (22, 19.5), (16, 23))


def head_svg(state: str, x: float, y: float, size: float) -> str:
    """Return a head about a point of a drawing."""
    scale = size / BOX
    moved = f"translate({x - size / 2:.6g} {y - size / 2:.6g}) scale({scale:.6g})"
    return f'<g transform="{moved}">{"".join(_HEADS.get(state, _NOT_ASKED))}</g>'


def _ring(radius: float = 12, at: float = 16) -> str:
    return circle(at, at, radius, INK, _LINE, "white")


def _stroke(drawn: str, width: float = _LINE) -> str:
    return f'<path d="{drawn}" fill="none" stroke="{INK}" stroke-width="{width}"/>'


_DOTTED = (
    f'<circle cx="16" cy="16" r="12" fill="white" stroke="{INK}" stroke-width="3" '
    'stroke-linecap="round" stroke-dasharray="0.1 4.9"/>'
)
_HEADS = {
    "S": [_ring()],
    "L": [_stroke("M20.1 4.7A12 12 0 1 0 27.3 11.9")],
    "W": [_ring(11, 14), _stroke("M22.5 21L30 30M24.8 17.5L31 23M18.8 24L24.5 31")],
    "C": [_ring(), *(circle(x, y, 1.7, "none", 0, INK) for x, y in _DOTS)],
    "T": [_ring(11), _stroke("M1.5 21.5L30.5 10.5", _BAR)],
    "M": [_ring(), f'<path d="M4 16A12 12 0 0 0 28 16Z" fill="{INK}"/>'],
    "D": [rect((6, 6, 20, 20), INK, _LINE, "white")],
    "R": [circle(16, 16, 12.5, "none", 0, INK)],
    "V": [circle(16, 16, 13.5, INK, _LINE, "white"), circle(16, 16, 9, "none", 0, INK)],
    "N": [_DOTTED],
}
_NOT_ASKED = [path([(8, 16), (24, 16)], INK, 1.2), path([(16, 8), (16, 24)], INK, 1.2)]
