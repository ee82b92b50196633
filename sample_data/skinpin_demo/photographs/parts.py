"""Coats, fabric, leaks, parts and sound metal, painted in inches about the centre."""

import numpy as np

from skinpin_demo.photographs import hardware
from skinpin_demo.photographs.canvas import ALLOY, STEEL, Canvas, smooth
from skinpin_demo.photographs.damage import Damage, patch, to_segment
from skinpin_demo.photographs.noise import noise


def paint(canvas: Canvas, damage: Damage) -> None:
    """Coat gone in flakes, sound bright metal beneath."""
    area = patch(canvas, damage, 0.34)
    flakes = area + 0.35 * noise(canvas.rng, 20, 16) * (area > 0.02)
    gone = smooth(0.42, 0.48, np.asarray(flakes, np.float32))
    canvas.relief -= 0.012 * gone
    canvas.tint(gone, ALLOY, 0.55)
    canvas.darken(gone * smooth(0.6, 2.2, noise(canvas.rng, 40, 1)), 0.15)


def missing(canvas: Canvas, damage: Damage) -> None:
    """Clean outline where a clip sat, and its empty holes."""
    box = np.maximum(np.abs(canvas.x) / 0.95, np.abs(canvas.y) / 0.42)
    inside = 1 - smooth(0.98, 1.0, box.astype(np.float32))
    canvas.tint(0.7 * inside, (0.50, 0.55, 0.46), 0.35)
    canvas.darken(np.exp(-(((box - 1.0) / 0.04) ** 2)), 0.35)
    for x in (-0.6, 0.0, 0.6):
        hardware.hole(canvas, x, 0, 0.065)


def leak(canvas: Canvas, damage: Damage) -> None:
    """Wet runs below a union."""
    x, y = canvas.x, canvas.y
    pipe = np.clip(1 - ((y + 0.1) / 0.25) ** 2, 0, 1) ** 0.5
    canvas.relief += 0.22 * pipe
    canvas.tint((pipe > 0).astype(np.float32), ALLOY, 0.6)
    nut = ((np.abs(x) < 0.55) & (np.abs(y + 0.1) < 0.36)).astype(np.float32)
    canvas.relief += 0.14 * nut * (1 - 0.4 * np.abs(np.floor((y + 0.46) / 0.24) - 1))
    canvas.tint(nut, (0.50, 0.52, 0.54), 0.7)
    for start in (-0.42, -0.1, 0.16, 0.4):
        length = canvas.rng.uniform(0.7, 2.2)
        down = (y - 0.22) / length
        half = 0.05 * (1 + 0.8 * np.exp(-(((down - 0.95) / 0.08) ** 2)))
        run = np.exp(-(((x - start - 0.03 * np.sin(5 * y)) / half) ** 2))
        run = run * smooth(0, 0.05, down) * (1 - smooth(0.96, 1.02, down))
        canvas.darken(run, 0.45)
        canvas.relief += 0.03 * run
        canvas.gloss += 1.3 * run


def fabric(canvas: Canvas, damage: Damage) -> None:
    """Doped weave with a three-cornered tear."""
    x, y = canvas.x * 26, canvas.y * 26
    weave = np.sin(np.pi * x) * np.sin(np.pi * y) + 0.4 * np.cos(2 * np.pi * x)
    canvas.tint(np.ones_like(x), (0.55, 0.53, 0.45), 0.15)
    canvas.colour *= (1 + 0.05 * weave + 0.04 * noise(canvas.rng, 60, 40))[..., None]
    canvas.relief += 0.003 * weave
    near = np.minimum(
        to_segment(canvas, -1.0, -0.3, 0.7, 0.1), to_segment(canvas, 0.7, 0.1, 0.5, 1.1)
    )
    open_by = 0.07 * (1 + 0.4 * noise(canvas.rng, 6, 6))
    gap = 1 - smooth(0.6, 1.0, near / np.maximum(open_by, 0.01))
    canvas.tint(gap, (0.05, 0.05, 0.045), 0.0)
    canvas.relief += 0.05 * np.exp(-(((near - 0.14) / 0.07) ** 2))


def wrong(canvas: Canvas, damage: Damage) -> None:
    """A bolt head and its nut, seen square on."""
    washer = 1 - smooth(0.83, 0.86, canvas.distance(0, 0))
    canvas.relief += 0.10 * washer
    canvas.tint(washer, STEEL, 0.5)
    hardware.bolt(canvas, 0, 0, 0.9, 0.15)


def new_rivets(canvas: Canvas, damage: Damage) -> None:
    """A row of bright new heads among old ones, fresh coat about them."""
    hardware.seam(canvas, 0.45)
    band = 1 - smooth(0.30, 0.36, np.abs(canvas.y))
    row = band * (1 - smooth(damage.length / 2 + 0.3, damage.length / 2 + 0.4, np.abs(canvas.x)))
    canvas.tint(0.8 * row, (0.44, 0.50, 0.38), 0.7)
    pitch = damage.length / max(1, damage.run - 1)
    for i in range(-12, 13):
        hardware.rivet(canvas, (i - (damage.run - 1) / 2) * pitch, 0, 0.16)


def new_bolt(canvas: Canvas, damage: Damage) -> None:
    """A new bolt on clean metal, sealed round its washer."""
    canvas.tint(1 - smooth(0.95, 1.05, canvas.distance(0, 0)), (0.44, 0.50, 0.38), 0.7)
    hardware.bolt(canvas, 0, 0, 0.9, 0.55)


def after_work(canvas: Canvas, damage: Damage) -> None:
    """Metal dressed smooth, cleaned and given fresh coat."""
    wide = Damage("", damage.length * 1.35, max(damage.width, 0.6) * 1.6)
    area = patch(canvas, wide, 0.05)
    canvas.relief -= 0.010 * area
    canvas.tint(0.9 * area, (0.44, 0.50, 0.38), 0.75)
    canvas.colour *= (1 + 0.02 * area * noise(canvas.rng, 60, 8))[..., None]


def nothing(canvas: Canvas, damage: Damage) -> None:
    """Sound metal about a lightening hole."""
    hardware.lightening_hole(canvas, -1.0, 0.0, 0.82)
