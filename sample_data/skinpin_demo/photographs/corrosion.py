"""Corrosion, painted by kind in inches about the centre."""

import numpy as np

from skinpin_demo.photographs import hardware
from skinpin_demo.photographs.canvas import Canvas, smooth
from skinpin_demo.photographs.damage import BLOOM, RUST, Damage, approach, patch, pits
from skinpin_demo.photographs.noise import noise


def pitting(canvas: Canvas, damage: Damage) -> None:
    """Dark pits in a dull blotch with white bloom."""
    area = patch(canvas, damage)
    canvas.tint(0.75 * area, (0.47, 0.48, 0.45), 0.12)
    cloud = smooth(0.35, 1.9, noise(canvas.rng, 34, 26) + 0.5 * noise(canvas.rng, 9, 8))
    canvas.tint(0.85 * area * cloud, BLOOM, 0.05)
    canvas.relief += 0.012 * area * cloud
    big = 0.062 * min(1.4, max(0.35, damage.width))
    pits(canvas, damage, int(np.clip(34 * damage.length * damage.width**0.5, 30, 200)), big)
    if damage.perforated:
        hardware.hole(canvas, 0.02, 0.0, 0.09, 1.25)
    if damage.blistered:
        for _ in range(46):
            x = canvas.rng.normal(0, damage.length / 5)
            away = canvas.distance(x, canvas.rng.normal(0, damage.width / 5))
            size = canvas.rng.uniform(0.06, 0.22)
            canvas.relief += 0.5 * size * np.exp(-((away / size) ** 4))


def exfoliation(canvas: Canvas, damage: Damage) -> None:
    """Leaves of metal lifting along the grain, layer over layer."""
    area = patch(canvas, damage, 0.12)
    stretch = canvas.ppi / 200
    leaf = noise(canvas.rng, round(90 * stretch), round(9 * stretch))
    leaf = leaf + 0.35 * noise(canvas.rng, round(24 * stretch), round(3 * stretch))
    lifted = np.clip(leaf + 1.2, 0, 3) * area
    layers = np.floor(lifted * 3.2) / 3.2
    canvas.tint(0.8 * area, (0.62, 0.62, 0.58), 0.18)
    canvas.relief += 0.035 * layers + 0.012 * lifted
    edges = np.abs(np.gradient(layers, axis=0)) > 0
    canvas.darken(edges.astype(np.float32) * area, 0.75)
    canvas.tint(0.55 * area * (lifted * 3.2 % 1 < 0.22), BLOOM, 0.05)


def crevice(canvas: Canvas, damage: Damage) -> None:
    """White product squeezed out of a faying edge, etched lines beside it."""
    hardware.seam(canvas, -0.05, 0.05)
    area = patch(canvas, damage, 0.22) * smooth(-0.10, 0.02, canvas.y)
    cloud = noise(canvas.rng, 14, 9)
    canvas.tint(0.7 * area, (0.44, 0.44, 0.41), 0.08)
    canvas.tint(area * smooth(-0.2, 1.2, cloud), BLOOM, 0.04)
    canvas.relief += 0.035 * area * np.clip(cloud + 0.6, 0, 3)
    pits(canvas, Damage("pitting", damage.length, damage.width * 0.7), 60, 0.04)


def surface(canvas: Canvas, damage: Damage) -> None:
    """Thin even attack: rust on steel, grey-white powder on light alloy."""
    area = patch(canvas, damage, 0.3)
    speck, cloud = noise(canvas.rng, 3, 3), noise(canvas.rng, 22, 16)
    cover = area * smooth(-0.8, 1.1, 0.6 * speck + cloud)
    tone = RUST if damage.material == "ST" else BLOOM
    canvas.tint(0.8 * cover, tone, 0.03)
    if damage.material == "ST":
        canvas.tint(0.5 * cover * smooth(0.6, 1.6, speck), (0.20, 0.09, 0.05), 0.02)
    canvas.relief += 0.004 * cover * speck
    if damage.fastener:
        _rusted_bolts(canvas, damage)


def _rusted_bolts(canvas: Canvas, damage: Damage) -> None:
    """Bolt heads in a row, rust run down from under each."""
    for i in range(3):
        x = (i - 1) * damage.length / 2.6
        hardware.bolt(canvas, x, 0, 0.5, 0.2 + 0.4 * i)
        away = canvas.distance(x, 0)
        canvas.tint(0.75 * np.exp(-(((away - 0.34) / 0.06) ** 2)), RUST, 0.04)
        run = np.exp(-(((canvas.x - x) / 0.09) ** 2)) * smooth(0.2, 0.3, canvas.y)
        canvas.tint(0.6 * run * (1 - smooth(0.5, 0.9, canvas.y)), RUST, 0.04)


def galvanic(canvas: Canvas, damage: Damage) -> None:
    """Grey-white bloom where a steel bolt passes through light alloy."""
    area = patch(canvas, damage, 0.2)
    canvas.tint(0.9 * area * smooth(-1, 1, noise(canvas.rng, 12, 11)), BLOOM, 0.04)
    canvas.relief += 0.006 * area * noise(canvas.rng, 9, 9)
    pits(canvas, damage, 40, 0.05)
    hardware.bolt(canvas, 0, 0, 0.44)
    ring = np.exp(-(((canvas.distance(0, 0) - 0.33) / 0.07) ** 2))
    canvas.tint(0.6 * ring, RUST, 0.05)


def filiform(canvas: Canvas, damage: Damage) -> None:
    """Thread-like worms lifting the paint."""
    near = np.full(canvas.x.shape, np.float32(9))
    for _ in range(16):
        x, y = canvas.rng.normal(0, damage.length / 6), canvas.rng.normal(0, damage.width / 6)
        heading = canvas.rng.uniform(0, 2 * np.pi)
        for _ in range(12):
            heading += canvas.rng.normal(0, 0.55)
            end = (x + 0.11 * np.cos(heading), y + 0.11 * np.sin(heading))
            approach(canvas, near, (x, y), end)
            x, y = end
    thread = np.exp(-((near / 0.035) ** 2))
    canvas.relief += 0.03 * thread
    canvas.tint(0.45 * thread, (0.70, 0.72, 0.66), 0.3)


def intergranular(canvas: Canvas, damage: Damage) -> None:
    """Fine lines along the grain where the boundaries have opened."""
    area = patch(canvas, damage, 0.1)
    lines = noise(canvas.rng, 46, 1.6) + 0.4 * noise(canvas.rng, 12, 1.6)
    opened = area * (1 - smooth(0.0, 0.09, np.abs(lines)))
    canvas.tint(0.5 * area, (0.66, 0.66, 0.63), 0.3)
    canvas.darken(opened, 0.85)
    canvas.relief -= 0.006 * opened
