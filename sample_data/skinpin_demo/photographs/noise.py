"""Tileable noise fields, made once a process and shifted by seed."""

from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

Field = NDArray[np.floating[Any]]
WIDTH, HEIGHT = 1600, 1200


@lru_cache(maxsize=24)
def _base(along_px: float, across_px: float, variant: int) -> Field:
    rng = np.random.default_rng(7_000 + variant)
    white = rng.standard_normal((HEIGHT, WIDTH)).astype(np.float32)
    fx = np.fft.rfftfreq(WIDTH).astype(np.float32)
    fy = np.fft.fftfreq(HEIGHT).astype(np.float32)[:, None]
    shape = np.exp(-2 * np.pi**2 * ((fx * along_px) ** 2 + (fy * across_px) ** 2))
    field = np.fft.irfft2(np.fft.rfft2(white) * shape, s=(HEIGHT, WIDTH)).astype(np.float32)
    field -= field.mean()
    return np.asarray(field / field.std(), dtype=np.float32)


def noise(rng: np.random.Generator, along_px: float, across_px: float) -> Field:
    """Return noise of mean 0 and spread 1 with the given blur along and across the grain."""
    field = _base(float(along_px), float(across_px), int(rng.integers(2)))
    shift = (int(rng.integers(HEIGHT)), int(rng.integers(WIDTH)))
    return np.roll(field, shift, axis=(0, 1))
