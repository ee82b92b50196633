"""What is wrong with the metal, and the shapes it is painted with."""

from dataclasses import dataclass

import numpy as np

from skinpin_demo.photographs.canvas import Canvas, Colour, Piece, smooth
from skinpin_demo.photographs.noise import Field, noise

BLOOM: Colour = (0.80, 0.81, 0.78)
RUST: Colour = (0.42, 0.22, 0.11)
PIT: Colour = (0.05, 0.055, 0.05)


@dataclass(frozen=True)
class Damage:
    """What is to be shown: kind, size in inches, material and the length of a run."""

    kind: str
    length: float
    width: float
    material: str = "AL"
    run: int = 0
    perforated: bool = False
    blistered: bool = False
    fastener: bool = False


def patch(canvas: Canvas, damage: Damage, ragged: float = 0.16) -> Field:
    """Return a ragged ellipse of the size of the damage, 1 inside."""
    scale = canvas.ppi / 200
    edge = noise(canvas.rng, round(26 * scale), round(20 * scale))
    edge = edge + 0.6 * noise(canvas.rng, round(8 * scale), round(7 * scale))
    out = np.hypot(canvas.x / (damage.length / 2), canvas.y / (damage.width / 2))
    return 1 - smooth(0.62, 1.02, out + ragged * edge - 0.08)


def pits(canvas: Canvas, damage: Damage, count: int, big: float) -> None:
    """Scatter pits over a damage, few of them big."""
    for _ in range(count):
        turn, out = canvas.rng.uniform(0, 2 * np.pi), np.sqrt(canvas.rng.uniform(0, 0.86))
        x = out * np.cos(turn) * damage.length / 2
        y = out * np.sin(turn) * damage.width / 2
        size = big * (0.22 + 0.78 * canvas.rng.power(0.30))
        _pit(canvas, x, y, size, canvas.rng.uniform(0.7, 1.6))


def _pit(canvas: Canvas, x: float, y: float, size: float, stretch: float) -> None:
    """One pit, worked on only in its own window."""
    window = canvas.window(x, y, 3 * size * stretch)
    angle = np.arctan2(canvas.y[window] - y, canvas.x[window] - x)
    lobes = 1 + 0.09 * np.sin(2 * angle + x * 40) + 0.06 * np.sin(5 * angle + y * 60)
    away = np.hypot((canvas.x[window] - x) / stretch, canvas.y[window] - y) / (size * lobes)
    inside = 1 - smooth(0.55, 1.10, away)
    rim = np.exp(-(((away - 1.25) / 0.28) ** 2))[..., None]
    canvas.colour[window] += 0.22 * rim * (np.array(BLOOM, np.float32) - canvas.colour[window])
    canvas.colour[window] += inside[..., None] * (np.array(PIT) - canvas.colour[window]) * 0.9
    canvas.relief[window] -= 0.35 * size * inside
    canvas.gloss[window] *= 1 - inside


def to_segment(canvas: Canvas | Piece, ax: float, ay: float, bx: float, by: float) -> Field:
    """Return the distance of every point from a line."""
    dx, dy = bx - ax, by - ay
    share = ((canvas.x - ax) * dx + (canvas.y - ay) * dy) / (dx * dx + dy * dy)
    share = np.clip(share, 0, 1)
    away = np.hypot(canvas.x - ax - share * dx, canvas.y - ay - share * dy)
    return np.asarray(away, dtype=np.float32)


def approach(
    canvas: Canvas, near: Field, start: tuple[float, float], end: tuple[float, float]
) -> None:
    """Lower `near` to the distance from a short line, only round about it."""
    x, y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    window = canvas.window(x, y, 0.25)
    piece = canvas.piece(window)
    near[window] = np.minimum(near[window], to_segment(piece, *start, *end))
