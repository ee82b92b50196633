"""How people touch a picture: what the measuring trial draws from and no measuring code reads.

Normal in each coordinate. 0.6 px beneath the loupe and 1.5 px by a bare finger are what is assumed
of a careful touch on a tablet (no published source); the trial is about the ± that follows from it.
"""

from __future__ import annotations

from random import Random

SPREAD_PX = {"loupe": 0.6, "finger": 1.5}


def touched(at: tuple[float, float], how: str, chance: Random) -> tuple[float, float]:
    """Return where a touch lands that was meant for a point."""
    spread = SPREAD_PX[how]
    return at[0] + chance.gauss(0, spread), at[1] + chance.gauss(0, spread)
