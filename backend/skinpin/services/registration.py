"""Lays one photograph on another of the same view, for a person to accept or leave."""

from typing import NamedTuple

from skinpin.domain.errors import Refused
from skinpin.domain.photo_geometry import Transform, apply
from skinpin.domain.same_view import SameView, Size, view_of
from skinpin.imaging.register import Found, Shown, register
from skinpin.imaging.renderer import Renditions
from skinpin.imaging.turns import Turns
from skinpin.services.photographs import find_file
from skinpin.services.workshop import Workshop

SIZE_PX = 1600
# Fewer, or all in one corner, fit by chance. Tried on synthetic pairs; no published source.
LEAST_INLIERS = 30
LEAST_CELLS = 4
# Of a row of like rivets the next place agrees as well. Tried on synthetic pairs; no source.
MOST_RIVAL_SHARE = 0.6
MOST_TIMES = 5.0
_TURNS = Turns("Other photographs are being laid on each other.")


class Asked(NamedTuple):
    """A photograph by its hash, and whether it was seen in a mirror."""

    sha256: str
    is_mirrored: bool = False


class Registration(NamedTuple):
    """What is offered, or why nothing is; floats from px as shown of this picture to the other's.

    `inliers` places agree, in `cells` of the nine fields of the picture.
    """

    to_other: list[float] | None
    turn_deg: float | None
    scale_percent: float | None
    inliers: int
    cells: int
    offered: bool
    reason: str


def register_pair(workshop: Workshop, this: Asked, other: Asked) -> Registration:
    """Return how a photograph lies on another; nothing is stored.

    Raises
    ------
    Refused
        `no_such_photograph`, `unreadable_picture`; `wait`: others are being laid already.
    """
    for one in (this, other):
        find_file(workshop, one.sha256)
    with _TURNS.take():
        pictures = [_rendition(workshop, one) for one in (this, other)]
        first, second = pictures
        found = register(
            Shown(first.pictures[SIZE_PX], this.is_mirrored),
            Shown(second.pictures[SIZE_PX], other.is_mirrored),
        )
    return judge_found(found, [(one.width_px, one.height_px) for one in pictures])


def judge_found(found: Found, sizes: list[tuple[int, int]]) -> Registration:
    """Return what was found in px of the photographs, offered if enough speaks for it."""
    reason = _reason(found)
    if reason or found.to_other is None:
        return Registration(None, None, None, found.inliers, found.cells, False, reason)
    to_other = _in_full(found.to_other, found.sizes_px, sizes)
    view = _plausible(to_other, *sizes)
    if view is None:
        reason = "What agrees would turn the picture inside out."
        return Registration(None, None, None, found.inliers, found.cells, False, reason)
    kept = [float(one) for one in to_other]
    return Registration(
        kept, view.turn_deg, view.scale_percent, found.inliers, found.cells, True, ""
    )


def _rendition(workshop: Workshop, asked: Asked) -> Renditions:
    return workshop.renderer.render(workshop.folder.read(asked.sha256), [SIZE_PX])


def _reason(found: Found) -> str:
    if found.inliers < LEAST_INLIERS:
        return f"{found.inliers} places agree; {LEAST_INLIERS} are needed."
    if found.cells < LEAST_CELLS:
        return f"What agrees lies in {found.cells} of 9 fields; {LEAST_CELLS} are needed."
    if found.rival > MOST_RIVAL_SHARE * found.likenesses:
        return "Another placing agrees nearly as well: rivets that repeat look alike."
    return ""


def _in_full(
    to_other: list[float], small: list[list[int]], full: list[tuple[int, int]]
) -> Transform:
    """Return a transform between small copies as one between the photographs."""
    (x, y), (u, v) = [
        (size[0] / of[0], size[1] / of[1]) for size, of in zip(full, small, strict=True)
    ]
    a, b, c, d, e, f, g, h, i = to_other
    return (a * u / x, b * u / y, c * u, d * v / x, e * v / y, f * v, g / x, h / y, i)


def _plausible(to_other: Transform, size: Size, other_size: Size) -> SameView | None:
    """Return the view, None where no camera could have moved so."""
    try:
        for corner in ((0, 0), (size[0], 0), (0, size[1]), (size[0], size[1])):
            apply(to_other, corner)
        view = view_of(to_other, size, other_size)
    except Refused:
        return None
    times = 1 + view.scale_percent / 100
    return view if 1 / MOST_TIMES < times < MOST_TIMES else None
