"""How people touch a picture: what the measuring trial draws from and no measuring code reads.

Normal in each coordinate. Beneath the loupe 0.6 px of the picture; by a finger 1.5 px of the screen
that it is drawn on, told in whole px of that: what is assumed of a careful touch whose ring was
looked at (no published source). The trial is about the ± that follows from it.
"""

from __future__ import annotations

from random import Random

LOUPE_PX = 0.6
FINGER_SCREEN_PX = 1.5


def touched(
    at: tuple[float, float], how: str, chance: Random, screen_px: float
) -> tuple[float, float]:
    """Return where a touch lands that was meant for a point.

    `screen_px` is how many px of the picture one px of the screen takes in.
    """
    if how == "loupe":
        return at[0] + chance.gauss(0, LOUPE_PX), at[1] + chance.gauss(0, LOUPE_PX)
    x, y = (round(each / screen_px + chance.gauss(0, FINGER_SCREEN_PX)) for each in at)
    return x * screen_px, y * screen_px
