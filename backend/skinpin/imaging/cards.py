"""Looks for the scale card in a photograph, by other means than the tablet: OpenCV's own finder.

Runs in a child process of its own, with limits on memory and time: it decodes the file as it came.
"""

import json
import resource
import subprocess
import sys
from typing import Any, BinaryIO, NamedTuple

from skinpin.domain.errors import Refused
from skinpin.domain.photo_geometry import apply, fit_homography, residual_rms
from skinpin.domain.scale_card import CARD, Corners, card_corners, marker_corners
from skinpin.imaging.child import limit_process, upright_grey

TIME_LIMIT_S = 30.0
LOOK_PX = 2000
LEAST_MARKERS = 3
HALF_MODULE = 0.45
"""Share of a module that a corner is looked for in: past it lies another corner."""


class FoundCard(NamedTuple):
    """A card that was found.

    `corners` in upright px, clockwise from the card's upper left; `residual_px` how far the corners
    of its markers lie off the layout, root of the mean squares.
    """

    corners: Corners
    residual_px: float
    ids: list[int]


def find_card(content: bytes, time_limit_s: float = TIME_LIMIT_S) -> FoundCard:
    """Return the card in a photograph.

    Raises
    ------
    Refused
        `no_card`, `two_cards`; `unreadable_picture`: no picture, or too long or too large.
    """
    try:
        done = subprocess.run(
            [sys.executable, "-m", "skinpin.imaging.cards"],
            input=content,
            capture_output=True,
            timeout=time_limit_s,
            check=True,
        )
        told = json.loads(done.stdout)
    except (subprocess.SubprocessError, ValueError) as error:
        raise Refused(
            "unreadable_picture",
            "Looking for the card took too long or too much memory, or the file is no picture.",
            "Touch two points of known distance instead.",
        ) from error
    return _laid({int(id_): corners for id_, corners in told["seen"]}, len(told["seen"]))


def _laid(seen: dict[int, Corners], count: int) -> FoundCard:
    if count > len(seen):
        raise Refused("two_cards", "A marker is in the picture twice.", "Use one card.")
    if len(seen) < LEAST_MARKERS:
        raise Refused(
            "no_card",
            f"{len(seen)} of the {len(CARD['markers'])} markers of the scale card are seen; "
            f"{LEAST_MARKERS} are needed.",
            "Touch two points of known distance instead.",
        )
    markers = {one["id"]: one for one in CARD["markers"]}
    there = [corner for id_ in seen for corner in marker_corners(markers[id_])]
    here = [corner for corners in seen.values() for corner in corners]
    to_picture = fit_homography(there, here)
    corners = [apply(to_picture, one) for one in card_corners()]
    return FoundCard(corners, residual_rms(to_picture, there, here), sorted(seen))


def markers_in(grey: Any) -> list[tuple[int, Corners]]:
    """Return the markers of the card that are seen, with their corners in px."""
    import cv2
    import numpy as np

    cv2.setNumThreads(1)
    high, wide = grey.shape
    share = min(1.0, LOOK_PX / max(high, wide))
    size = (round(wide * share), round(high * share))
    small = cv2.resize(grey, size, interpolation=cv2.INTER_AREA) if share < 1 else grey
    published = cv2.aruco.getPredefinedDictionary(getattr(cv2.aruco, f"DICT_{CARD['dictionary']}"))
    quads, ids, _ = cv2.aruco.ArucoDetector(published).detectMarkers(small)
    own = {one["id"] for one in CARD["markers"]}
    seen: list[tuple[int, Corners]] = []
    for quad, id_ in zip(quads, [] if ids is None else ids.ravel().tolist(), strict=True):
        if id_ not in own:
            continue
        rough = (quad.reshape(4, 2) + 0.5) * (wide / size[0], high / size[1]) - 0.5
        exact = _corners(cv2, grey, rough.astype(np.float32))
        seen.append((id_, [(float(x), float(y)) for x, y in exact + 0.5]))
    return seen


def _corners(cv2: Any, grey: Any, rough: Any) -> Any:
    """Return the corners to a fraction of a pixel, each where all edges about it point."""
    import numpy as np

    sides = np.linalg.norm(rough - np.roll(rough, 1, axis=0), axis=1)
    reach = int(np.clip(sides.min() / 8 * HALF_MODULE, 2, 15))
    until = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_MAX_ITER, 50, 0.005)
    return cv2.cornerSubPix(grey, rough.reshape(-1, 1, 2), (reach, reach), (-1, -1), until)[:, 0]


def serve(messages: BinaryIO, answers: BinaryIO) -> None:
    """Answer one message: the bytes of a picture."""
    seen = markers_in(upright_grey(messages.read()))
    answers.write(json.dumps({"seen": seen}).encode())


if __name__ == "__main__":
    limit_process()
    resource.setrlimit(resource.RLIMIT_CPU, (int(TIME_LIMIT_S), int(TIME_LIMIT_S)))
    serve(sys.stdin.buffer, sys.stdout.buffer)
