"""Cracks, dents, scratches and what works loose, painted by kind in inches about the centre."""

import numpy as np

from skinpin_demo.photographs import hardware
from skinpin_demo.photographs.canvas import Canvas, smooth
from skinpin_demo.photographs.damage import Damage, patch, to_segment
from skinpin_demo.photographs.noise import Field, noise


def _trail(canvas: Canvas, x: float, y: float, length: float) -> Field:
    along = (canvas.x - x) / length
    narrow = 0.10 * (1 - 0.5 * np.clip(along, 0, 1))
    across = np.abs(canvas.y - y - 0.04 * np.sin(9 * along)) / narrow
    return np.asarray(
        smooth(0.02, 0.2, along) * (1 - smooth(0.3, 1.0, along)) * np.exp(-(across**2))
    )


def loose(canvas: Canvas, damage: Damage) -> None:
    """Rivets that work: black rings and trails of fretted metal behind the heads."""
    hardware.seam(canvas, 0.45)
    pitch = damage.length / max(1, damage.run - 1) if damage.run > 1 else 0.75
    pitch = min(1.6, max(0.6, pitch))
    for i in range(-12, 13):
        x = (i - (damage.run - 1) / 2) * pitch
        hardware.rivet(canvas, x, 0, 0.16)
        if 0 <= i < damage.run:
            ring = np.exp(-(((canvas.distance(x, 0) - 0.19) / 0.045) ** 2))
            canvas.darken(ring, 0.85)
            canvas.darken(_trail(canvas, x + 0.1, 0, 0.55), 0.75)


def sheared(canvas: Canvas, damage: Damage) -> None:
    """Row with heads gone: bright shanks flush in their holes."""
    loose(canvas, damage)
    for i in range(damage.run):
        x = (i - (damage.run - 1) / 2) * min(1.6, max(0.6, damage.length / max(1, damage.run - 1)))
        away = canvas.distance(x, 0)
        flat = 1 - smooth(0.165, 0.18, away)
        canvas.relief *= 1 - flat
        canvas.tint(flat, (0.30, 0.32, 0.29), 0.1)
        canvas.tint(1 - smooth(0.07, 0.08, away), (0.74, 0.74, 0.73), 0.7)
        canvas.darken(np.exp(-(((away - 0.082) / 0.012) ** 2)), 0.9)


def crack_path(damage: Damage, seed: int) -> list[tuple[float, float]]:
    """Return the corners of a crack that runs right from its hole, in inches."""
    rng = np.random.default_rng(seed)
    steps = np.cumsum(rng.uniform(0.7, 1.3, 14))
    xs = -damage.length / 2 + damage.length * np.concatenate([[0.0], steps / steps[-1]])
    ys = np.concatenate([[0.0], np.cumsum(rng.normal(0, damage.length / 55, 14))])
    ys -= np.linspace(0, 0.12 * damage.length, 15)
    return [(float(x), float(y)) for x, y in zip(xs, ys, strict=True)]


def crack(canvas: Canvas, damage: Damage) -> None:
    """Thin broken line from the edge of a hole, dark with a bright lip."""
    hardware.lightening_hole(canvas, -damage.length / 2 - 0.82, 0.0, 0.82)
    path = crack_path(damage, int(canvas.rng.integers(1 << 30)))
    near = np.full(canvas.x.shape, np.inf, np.float32)
    for (ax, ay), (bx, by) in zip(path, path[1:], strict=False):
        near = np.minimum(near, to_segment(canvas, ax, ay, bx, by))
    share = np.clip((canvas.x + damage.length / 2) / damage.length, 0, 1)
    half = (0.0085 - 0.0055 * share) * (1 + 0.25 * noise(canvas.rng, 6, 6))
    line = 1 - smooth(0.4, 1.0, near / np.maximum(half, 0.002))
    stain = np.exp(-((near / 0.05) ** 2))
    canvas.darken(stain, 0.25)
    canvas.tint(line, (0.03, 0.03, 0.03), 0.0)
    canvas.relief += 0.004 * np.exp(-((near / 0.03) ** 2))


def dent(canvas: Canvas, damage: Damage) -> None:
    """Smooth hollow without a crease."""
    out = np.hypot(canvas.x / (damage.length / 2), canvas.y / (damage.width / 2))
    canvas.relief -= 0.16 * damage.width / 2 * np.exp(-((out / 0.62) ** 2))
    canvas.gloss += 0.12


def _scratch(canvas: Canvas, damage: Damage, wide: float, deep: float, y: float = 0.0) -> None:
    wander = 0.05 * damage.width * np.sin(canvas.x * 3.1) + y
    half = np.maximum(wide * (1 - (2 * canvas.x / damage.length) ** 2), 0.0)
    near = np.abs(canvas.y - wander)
    cut = np.where(half > 0.002, 1 - smooth(0.3, 1.0, near / np.maximum(half, 0.002)), 0)
    canvas.relief -= deep * cut
    canvas.tint(0.85 * cut, (0.76, 0.76, 0.74), 0.9)
    lip = np.where(half > 0.002, np.exp(-(((near - half * 1.1) / 0.02) ** 2)), 0)
    canvas.relief += 0.4 * deep * lip


def gouge(canvas: Canvas, damage: Damage) -> None:
    """One bright furrow with raised lips."""
    _scratch(canvas, damage, 0.06, 0.05)


def score(canvas: Canvas, damage: Damage) -> None:
    """A fine bright scratch and two fainter beside it."""
    _scratch(canvas, damage, 0.022, 0.015)
    _scratch(canvas, Damage("score", damage.length * 0.6, 0.1), 0.010, 0.006, 0.07)


def chafing(canvas: Canvas, damage: Damage) -> None:
    """Polished band of parallel rubbing marks under a cable."""
    area = patch(canvas, Damage("chafing", damage.length, max(0.25, damage.width * 2)), 0.08)
    lines = noise(canvas.rng, 120, 1.4)
    canvas.tint(0.9 * area, (0.72, 0.72, 0.71), 0.9)
    canvas.relief -= 0.03 * area - 0.004 * area * lines
    canvas.darken(area * smooth(0.8, 2.0, lines), 0.5)


def elongated(canvas: Canvas, damage: Damage) -> None:
    """Hole drawn out by a working rivet, its neighbours sound."""
    hardware.rivet_row(canvas, 0.0, 0.9, skip=0)
    worn = np.exp(-(((canvas.distance(0, 0) - 0.13) / 0.05) ** 2))
    canvas.darken(worn, 0.4)
    hardware.hole(canvas, 0, 0, 0.079, 0.168 / 0.158)
