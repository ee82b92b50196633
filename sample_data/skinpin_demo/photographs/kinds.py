"""Who paints which kind, and on what ground."""

from collections.abc import Callable

from skinpin_demo.photographs import corrosion, parts, wear
from skinpin_demo.photographs.canvas import ALLOY, PRIMER, STEEL, Canvas, Colour
from skinpin_demo.photographs.damage import Damage

KINDS: dict[str, Callable[[Canvas, Damage], None]] = {
    "pitting": corrosion.pitting,
    "exfoliation": corrosion.exfoliation,
    "crevice corrosion": corrosion.crevice,
    "surface corrosion": corrosion.surface,
    "galvanic corrosion": corrosion.galvanic,
    "loose rivets": wear.loose,
    "sheared rivets": wear.sheared,
    "crack": wear.crack,
    "dent": wear.dent,
    "gouge": wear.gouge,
    "score": wear.score,
    "chafing": wear.chafing,
    "filiform": corrosion.filiform,
    "paint": parts.paint,
    "intergranular": corrosion.intergranular,
    "missing part": parts.missing,
    "elongated hole": wear.elongated,
    "leak": parts.leak,
    "fabric": parts.fabric,
    "wrong part": parts.wrong,
    "after work": parts.after_work,
    "new rivets": parts.new_rivets,
    "new bolt": parts.new_bolt,
    "nil": parts.nothing,
}

#: Grounds that are not primer: bare alloy booms and outer skins, steel fittings.
BARE = {"intergranular", "dent", "score", "elongated hole", "gouge", "exfoliation"}


def ground(damage: Damage) -> Colour:
    """Return the colour of the sound metal about a damage."""
    if damage.material == "ST":
        return STEEL
    return ALLOY if damage.kind in BARE else PRIMER
