"""The printed scale card: its sheet to print, and a second look for it in a photograph."""

import re
from collections.abc import Sequence
from math import hypot
from typing import NamedTuple

from skinpin.domain.errors import Refused
from skinpin.imaging.cards import find_card
from skinpin.imaging.turns import Turns
from skinpin.reports.scale_card import scale_card_pdf
from skinpin.services.photographs import find_file
from skinpin.services.workday import workshop_day
from skinpin.services.workshop import Workshop

CARD_NAME = re.compile(r"SC-[1-9][0-9]{0,2}")
_TURNS = Turns("Other photographs are being looked at.")


class Checked(NamedTuple):
    """The card as the server finds it.

    `points` are its corners in whole tenths of an upright pixel, clockwise from its upper left;
    `apart_px` how far the farthest of them lies from what the tablet found.
    """

    points: list[list[int]]
    residual_px: float
    ids: list[int]
    apart_px: float | None


def scale_card(workshop: Workshop, card: str) -> bytes:
    """Return the sheet of a card as PDF; each printer's card has a name of its own, as `SC-2`.

    Raises
    ------
    Refused
        `no_such_card`: no name of a card.
    """
    if not CARD_NAME.fullmatch(card):
        raise Refused("no_such_card", f"{card[:20]!r} is no scale card.", "Write SC-1 to SC-999.")
    with workshop.reading() as connection:
        printed = workshop_day(workshop, connection)
    return scale_card_pdf(card, printed)


def check_card(workshop: Workshop, sha256: str, points: Sequence[Sequence[int]]) -> Checked:
    """Look for the card in a photograph once more; `points` are the tablet's, or none.

    Raises
    ------
    Refused
        `no_such_photograph`, `no_card`, `two_cards`, `unreadable_picture`; `wait`: others are being
        looked at already.
    """
    find_file(workshop, sha256)
    with _TURNS.take():
        found = find_card(workshop.folder.read(sha256))
    corners = [[round(10 * x), round(10 * y)] for x, y in found.corners]
    both = list(zip(found.corners, points, strict=False))
    apart = [hypot(x - own[0] / 10, y - own[1] / 10) for (x, y), own in both]
    return Checked(corners, round(found.residual_px, 3), found.ids, max(apart, default=None))
