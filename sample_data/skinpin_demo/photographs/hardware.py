"""Rivets, bolts, holes, seams and unions: the sound parts of the picture."""

import numpy as np

from skinpin_demo.photographs.canvas import STEEL, Canvas, smooth
from skinpin_demo.photographs.noise import Field


def seam(canvas: Canvas, y: float, step: float = 0.03) -> None:
    """Lap of two plates: the upper one lies on the lower, its edge at `y`."""
    canvas.relief += step * (1 - smooth(y - 0.012, y + 0.012, canvas.y))
    canvas.darken(np.exp(-(((canvas.y - y - 0.025) / 0.03) ** 2)), 0.55)


def rivet(canvas: Canvas, x: float, y: float, head: float = 0.15) -> None:
    """Protruding round head with a rim of old dirt."""
    window = canvas.window(x, y, 2.2 * head)
    piece = canvas.piece(window)
    away = np.hypot(piece.x - x, piece.y - y)
    dome = np.sqrt(np.clip(1 - (away / head) ** 2, 0, 1))
    canvas.relief[window] += 0.45 * head * dome
    rim = np.exp(-(((away - head * 1.08) / (head * 0.16)) ** 2))
    canvas.colour[window] *= (1 - 0.45 * rim)[..., None]
    canvas.gloss[window] += 0.35 * (away < head)


def rivet_row(canvas: Canvas, y: float, pitch: float = 0.9, skip: int | None = None) -> None:
    """Row of rivets across the picture, one of them left out if asked."""
    count = int(900 / canvas.ppi / pitch) + 1
    for i in range(-count, count + 1):
        if i != skip:
            rivet(canvas, i * pitch, y)


def hexagon(canvas: Canvas, x: float, y: float, across_flats: float, turn: float) -> Field:
    """Return the mask of a hexagon head."""
    inside = np.full(canvas.x.shape, -np.inf, np.float32)
    for i in range(3):
        angle = turn + i * np.pi / 3
        along = (canvas.x - x) * np.cos(angle) + (canvas.y - y) * np.sin(angle)
        inside = np.maximum(inside, np.abs(along))
    edge = across_flats / 2
    return 1 - smooth(edge - 0.02, edge + 0.01, inside)


def bolt(canvas: Canvas, x: float, y: float, across_flats: float = 0.5, turn: float = 0.3) -> None:
    """Steel bolt head on its washer."""
    washer = canvas.distance(x, y)
    canvas.relief += 0.04 * (1 - smooth(across_flats * 0.62, across_flats * 0.66, washer))
    canvas.darken(np.exp(-(((washer - across_flats * 0.68) / 0.05) ** 2)), 0.5)
    head = hexagon(canvas, x, y, across_flats, turn)
    canvas.relief *= 1 - head
    canvas.relief += 0.20 * head
    canvas.tint(head, STEEL, 0.6)


def hole(canvas: Canvas, x: float, y: float, radius: float, stretch: float = 1.0) -> None:
    """Drilled hole, round or drawn out sideways."""
    away = np.hypot((canvas.x - x) / stretch, canvas.y - y)
    inside = 1 - smooth(radius - 0.012, radius + 0.006, away)
    canvas.darken(inside, 0.93)
    canvas.gloss *= 1 - inside
    canvas.relief -= 0.05 * inside
    canvas.relief += 0.012 * np.exp(-(((away - radius * 1.1) / (0.12 * radius)) ** 2))


def lightening_hole(canvas: Canvas, x: float, y: float, radius: float) -> None:
    """Flanged lightening hole of a frame web, dark behind."""
    away = canvas.distance(x, y)
    canvas.relief -= 0.16 * (1 - smooth(radius, radius * 1.22, away))
    inside = 1 - smooth(radius - 0.02, radius, away)
    canvas.tint(inside, (0.035, 0.04, 0.04), 0.0)
    canvas.relief *= 1 - inside
