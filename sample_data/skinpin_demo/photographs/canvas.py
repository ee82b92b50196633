"""The sheet of metal being photographed: relief, colour and gloss, and the lamp over it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from skinpin_demo.photographs.noise import HEIGHT, WIDTH, Field, noise

Colour = tuple[float, float, float]
PRIMER: Colour = (0.36, 0.42, 0.35)
ALLOY: Colour = (0.60, 0.61, 0.61)
STEEL: Colour = (0.34, 0.34, 0.35)
CENTRE = (800, 520)


def smooth(edge_low: float, edge_high: float, value: Field) -> Field:
    """Return the smooth step from 0 at `edge_low` to 1 at `edge_high`."""
    share = np.clip((value - edge_low) / (edge_high - edge_low), 0, 1)
    return np.asarray(share * share * (3 - 2 * share), dtype=np.float32)


@dataclass(frozen=True)
class Piece:
    """The places of a small part of the sheet."""

    x: Field
    y: Field


class Canvas:
    """One picture in the making; lengths are inches from the centre of the damage."""

    def __init__(self, seed: int, ppi: int, ground: Colour) -> None:
        self.rng = np.random.default_rng(seed)
        self.ppi = ppi
        x = (np.arange(WIDTH, dtype=np.float32) - CENTRE[0]) / ppi
        y = (np.arange(HEIGHT, dtype=np.float32) - CENTRE[1]) / ppi
        self.x, self.y = np.meshgrid(x, y)
        self.relief = np.zeros((HEIGHT, WIDTH), np.float32)
        self.colour = np.empty((HEIGHT, WIDTH, 3), np.float32)
        self.colour[:] = ground
        self.gloss = np.full((HEIGHT, WIDTH), 0.25, np.float32)
        self._grain(ground)

    def _grain(self, ground: Colour) -> None:
        fine, long = noise(self.rng, 40, 0.7), noise(self.rng, 160, 1.2)
        blotch, dirt = noise(self.rng, 130, 90), noise(self.rng, 18, 14)
        bare = ground is not PRIMER
        self.relief += (0.0011 if bare else 0.0003) * fine + (0.0006 if bare else 0.0002) * long
        tone = 1 + 0.030 * fine + 0.035 * blotch + 0.022 * dirt
        self.colour *= tone[..., None]
        self.gloss += 0.10 * bare + 0.03 * blotch

    def tint(self, mask: Field, colour: Colour, gloss: float | None = None) -> None:
        """Lay a colour over the ground where the mask says."""
        cover = np.clip(mask, 0, 1)[..., None]
        self.colour += cover * (np.array(colour, np.float32) - self.colour)
        if gloss is not None:
            self.gloss += cover[..., 0] * (gloss - self.gloss)

    def darken(self, mask: Field, share: float) -> None:
        """Take a share of the light away where the mask says."""
        self.colour *= (1 - share * np.clip(mask, 0, 1))[..., None]

    def distance(self, x: float, y: float) -> Field:
        """Return the distance of every point from a place."""
        return np.asarray(np.hypot(self.x - x, self.y - y), dtype=np.float32)

    def window(self, x: float, y: float, reach: float) -> tuple[slice, slice]:
        """Return the rows and columns within reach of a place, perhaps none."""
        rows = np.flatnonzero(np.abs(self.y[:, 0] - y) < reach)
        columns = np.flatnonzero(np.abs(self.x[0] - x) < reach)
        if rows.size == 0 or columns.size == 0:
            return slice(0, 0), slice(0, 0)
        return slice(rows[0], rows[-1] + 1), slice(columns[0], columns[-1] + 1)

    def piece(self, window: tuple[slice, slice]) -> Piece:
        """Return the places within a window."""
        return Piece(self.x[window], self.y[window])

    def shaded(self) -> NDArray[np.float32]:
        """Return the picture as light in three colours, 0 to 1."""
        slope_y, slope_x = np.gradient(self.relief * self.ppi)
        long = np.sqrt(slope_x**2 + slope_y**2 + 1)
        normal = (-slope_x / long, -slope_y / long, 1 / long)
        lamp = np.array([-0.46, -0.58, 0.67])
        diffuse = np.clip(sum(n * part for n, part in zip(normal, lamp, strict=True)), 0, 1)
        half = lamp + [0, 0, 1]
        half /= np.linalg.norm(half)
        facing = np.clip(sum(n * part for n, part in zip(normal, half, strict=True)), 0, 1)
        shine = self.gloss * facing**38 * 0.55
        light = (0.30 + 0.98 * diffuse) * self._vignette()
        warm = np.array([1.03, 1.0, 0.94], np.float32)
        lit = (self.colour * light[..., None] + (shine * self._vignette())[..., None]) * warm
        return np.asarray(np.clip(lit, 0, 1) ** 0.92, dtype=np.float32)

    def _vignette(self) -> Field:
        px, py = self.x * self.ppi, self.y * self.ppi
        away = np.hypot((px + 60) / 1000, (py - 30) / 760)
        return np.asarray(1.10 - 0.62 * smooth(0.15, 1.35, away), dtype=np.float32)
