"""Where marks and their words stand on a drawing, so that none lies over another."""

import math
from collections.abc import Sequence

Box = tuple[float, float, float, float]
Point = tuple[float, float]
Room = tuple[float, float]
_AROUND = (-3.2, -3.2, 3.4, 4.4)
"""What a mark of 6 mm covers about its place, with how its state is drawn under it."""
_ABOVE, _BELOW = 3.6, 4.4
_ASIDE = 5.5
_OFF = sorted((step * 0.6 for step in range(-60, 61)), key=abs)
_TRIES = 8
_CLEAR = 6
"""So far from its place the mark itself reaches."""
_FEW = 20
"""With more marks than this there is no room to look for: it is looked for beside the mark only."""
_NEAR = [(side, dy) for dy in (0.0, -7.0, 7.0, -13.0, 13.0) for side in (True, False)]
_ACROSS = [step * 2.0 for step in range(-14, 15)]
_ALONG = [step * 1.5 for step in range(-18, 19)]


def around(x: float, y: float) -> Box:
    """Return what a mark covers."""
    left, top, right, bottom = _AROUND
    return x + left, y + top, x + right, y + bottom


def spread(points: Sequence[Point], top: float, bottom: float) -> list[Point]:
    """Return where marks are drawn: each on its station, moved up or down off those before it.

    Parameters
    ----------
    points
        True places in millimetres.
    top, bottom
        Between which a mark may stand.
    """
    placed: list[Point] = []
    for x, y in points:
        ways = _OFF if len(points) <= _FEW else [0.0]
        inside = [y + dy for dy in ways if dy == 0 or top <= y + dy <= bottom]
        free = (
            at for at in inside if not any(overlap(around(x, at), around(*one)) for one in placed)
        )
        placed.append((x, next(free, y)))
    return placed


def rooms_for(
    places: Sequence[Point], wides: Sequence[float], taken: Sequence[Box], bounds: Box
) -> list[Room | None]:
    """Return left edge and base line of every mark's words, None where all is taken.

    Parameters
    ----------
    places, wides
        Where marks are drawn, and how wide the words of each are.
    taken
        What words may not cover.
    bounds
        Within which they stand.
    """
    every = list(range(len(places)))
    if len(every) > _FEW:
        return _placed(every, places, wides, taken, bounds)
    # Where it is narrow those left without room come first the next time; the best try stands.
    tried, order = [], every
    for _ in range(_TRIES):
        rooms = _placed(order, places, wides, taken, bounds)
        tried.append(rooms)
        order = sorted(order, key=lambda i: rooms[i] is not None)
        if all(rooms):
            order = order[::-1]
    return min(tried, key=lambda rooms: _cost(rooms, places, wides))


def _placed(
    order: Sequence[int],
    places: Sequence[Point],
    wides: Sequence[float],
    taken: Sequence[Box],
    bounds: Box,
) -> list[Room | None]:
    rooms: list[Room | None] = [None] * len(places)
    held = list(taken)
    for i in order:
        place, wide = places[i], wides[i]
        for way in _ways(place, wide, many=len(places) > _FEW):
            box = label_box(*way, wide)
            if not _is_within(box, bounds) or not _is_free(box, held):
                continue
            leader = _leader(place, *way, wide)
            if all(_is_free(piece, held) for piece in leader):
                rooms[i] = way
                held += [box, *leader]
                break
    return rooms


def _is_free(box: Box, held: Sequence[Box]) -> bool:
    """Say whether a box overlaps none of those held; a crowd of marks asks it very often."""
    left, top, right, foot = box
    # A loop takes half the time of a generator here.
    for a, b, c, d in held:  # noqa: SIM110
        if left < c and a < right and top < d and b < foot:
            return False
    return True


def _leader(place: Point, left: float, at: float, wide: float) -> list[Box]:
    """Return what the leader from a mark to its words covers between them, piece by piece."""
    (x, y), (to_x, to_y) = place, leader_end(place, left, at, wide)
    long = math.dist(place, (to_x, to_y))
    shares = [mm / long for mm in range(_CLEAR, int(long), 2)]
    spots = [(x + share * (to_x - x), y + share * (to_y - y)) for share in shares]
    return [(a - 0.3, b - 0.3, a + 0.3, b + 0.3) for a, b in spots]


def _is_within(box: Box, bounds: Box) -> bool:
    return box[0] > bounds[0] and box[1] > bounds[1] and box[2] < bounds[2] and box[3] < bounds[3]


def _cost(
    rooms: Sequence[Room | None], places: Sequence[Point], wides: Sequence[float]
) -> tuple[int, float]:
    far = [
        math.dist(leader_end(place, *room, wide), place) ** 2
        for room, place, wide in zip(rooms, places, wides, strict=True)
        if room
    ]
    return len(rooms) - len(far), sum(far)


def _ways(place: Point, wide: float, *, many: bool) -> list[Point]:
    """Return left edges and base lines to try, the one with the shortest leader first."""
    x, y = place
    beside = [(x + _ASIDE if right else x - _ASIDE - wide, y + dy) for right, dy in _NEAR]
    if many:
        return beside
    about = [(x - wide / 2 + dx, y + dy) for dx in _ACROSS for dy in _ALONG]
    about.sort(key=lambda way: math.dist(leader_end(place, way[0], way[1], wide), place))
    return [*beside[:2], *about]


def label_box(left: float, at: float, wide: float) -> Box:
    """Return what two lines of words cover."""
    return left, at - _ABOVE, left + wide, at + _BELOW


def overlap(a: Box, b: Box) -> bool:
    """Say whether two boxes share ground."""
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def leader_end(place: Point, left: float, at: float, wide: float) -> Point:
    """Return the point of the words' edge that is nearest to their mark."""
    box = label_box(left, at, wide)
    ends = [
        (box[0], at),
        (box[2] - 0.3, at),
        (left + wide / 2, box[1] + 0.4),
        (left + wide / 2, box[3]),
    ]
    return min(ends, key=lambda end: math.dist(end, place))
