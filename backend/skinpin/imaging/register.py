"""Lays one photograph on another: features found in both, and the plane homography they agree on.

Runs in a child process of its own for each pair, with limits on memory and time. What it is handed
are small grey copies that the decoding child made, never a file as it came.
"""

import json
import resource
import subprocess
import sys
from collections.abc import Sequence
from typing import Any, BinaryIO, NamedTuple

from skinpin.domain.errors import Refused

TIME_LIMIT_S = 20.0
MEMORY_BYTES = 1024**3
FEATURES = 4000
NEAREST = 3
"""Candidates for each feature: a rivet has as many likenesses as the row has rivets."""
DISTINCT = 0.8
"""Share of the second match's distance below which a match is distinct (Lowe 2004, §7.1)."""
REACH_PX = 3.0
PARTS = 3


class Found(NamedTuple):
    """What was found: nine floats from this picture's px to the other's, and what speaks for it.

    `inliers` are the distinct matches that agree; `cells` how many of the nine fields of either
    picture they lie in, the fewer of the two; `likenesses` how many of all candidates agree, and
    `rival` how many of them agree on the best other placing. `sizes_px` of both, as handed over.
    """

    to_other: list[float] | None
    inliers: int
    cells: int
    likenesses: int
    rival: int
    sizes_px: list[list[int]]


class Shown(NamedTuple):
    """An upright JPEG, and whether it is turned left for right because a mirror was used."""

    content: bytes
    is_mirrored: bool = False


def register(this: Shown, other: Shown, time_limit_s: float = TIME_LIMIT_S) -> Found:
    """Return how a picture lies on another, both as they are shown.

    Pixels are counted from the corner, so that the middle of the first is (0.5, 0.5).
    """
    both = (this, other)
    sizes, turned = [len(one.content) for one in both], [one.is_mirrored for one in both]
    head = json.dumps({"sizes_bytes": sizes, "is_mirrored": turned}).encode()
    try:
        done = subprocess.run(
            [sys.executable, "-m", "skinpin.imaging.register"],
            input=head + b"\n" + this.content + other.content,
            capture_output=True,
            timeout=time_limit_s,
            check=True,
        )
        return Found(**json.loads(done.stdout))
    except (subprocess.SubprocessError, ValueError, TypeError) as error:
        raise Refused(
            "unreadable_picture",
            "Laying one photograph on the other took too long or too much memory.",
            "Touch three rivets in both instead.",
        ) from error


def limit_process() -> None:
    """Bound what two pictures can take."""
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY_BYTES, MEMORY_BYTES))
    resource.setrlimit(resource.RLIMIT_CPU, (int(TIME_LIMIT_S), int(TIME_LIMIT_S)))
    resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def serve(messages: BinaryIO, answers: BinaryIO) -> None:
    """Answer one message."""
    head = json.loads(messages.readline())
    pictures = [messages.read(size) for size in head["sizes_bytes"]]
    found = find([Shown(*one) for one in zip(pictures, head["is_mirrored"], strict=True)])
    answers.write(json.dumps(found._asdict()).encode())


def find(pictures: Sequence[Shown]) -> Found:
    """Return how the first picture lies on the second."""
    import cv2

    cv2.setNumThreads(1)
    cv2.setRNGSeed(1)
    grey = [_grey(cv2, one) for one in pictures]
    sizes = [[one.shape[1], one.shape[0]] for one in grey]
    spots = [_spots(cv2, one) for one in grey]
    if any(points is None for points, _ in spots):
        return Found(None, 0, 0, 0, 0, sizes)
    (these, signs), (others, other_signs) = spots
    near = cv2.BFMatcher(cv2.NORM_HAMMING).knnMatch(signs, other_signs, k=NEAREST)
    pairs = _distinct(near)
    fit = _fit(cv2, these, others, pairs)
    if fit is None:
        return Found(None, 0, 0, 0, 0, sizes)
    to_other, agreeing = fit
    cells = min(_cells(these, agreeing[:, 0], grey[0]), _cells(others, agreeing[:, 1], grey[1]))
    likenesses, rival = _rival(cv2, these, others, near, to_other)
    flat = [float(one) for one in to_other.ravel()]
    return Found(flat, len(agreeing), cells, likenesses, rival, sizes)


def _grey(cv2: Any, picture: Shown) -> Any:
    import numpy as np

    grey = cv2.imdecode(np.frombuffer(picture.content, np.uint8), cv2.IMREAD_GRAYSCALE)
    return cv2.flip(grey, 1) if picture.is_mirrored else grey


def _spots(cv2: Any, grey: Any) -> tuple[Any, Any]:
    """Return the features of a picture, from the corner in px, and what they look like."""
    import numpy as np

    found, signs = cv2.ORB_create(FEATURES).detectAndCompute(grey, None)
    if len(found) < NEAREST:
        return None, None
    return np.array([one.pt for one in found]) + 0.5, signs


def _distinct(near: Sequence[Sequence[Any]]) -> Any:
    """Return the matches that have no likeness close by, as pairs of indices."""
    import numpy as np

    kept = [
        (first.queryIdx, first.trainIdx)
        for first, second, *_ in (some for some in near if len(some) > 1)
        if first.distance < DISTINCT * second.distance
    ]
    return np.array(kept, int).reshape(-1, 2)


def _fit(cv2: Any, these: Any, others: Any, pairs: Any) -> tuple[Any, Any] | None:
    """Return the homography most pairs agree on, and those pairs."""
    if len(pairs) < 4:
        return None
    to_other, agrees = cv2.findHomography(
        these[pairs[:, 0]], others[pairs[:, 1]], cv2.USAC_MAGSAC, REACH_PX, None, 10_000, 0.999
    )
    if to_other is None:
        return None
    return to_other, pairs[agrees.ravel().astype(bool)]


def _cells(points: Any, chosen: Any, grey: Any) -> int:
    """Return in how many of the nine fields of a picture the chosen points lie."""
    high, wide = grey.shape
    across, down = points[chosen].T
    fields = (across * PARTS // wide).astype(int) + PARTS * (down * PARTS // high).astype(int)
    return len(set(fields.tolist()))


def _rival(
    cv2: Any, these: Any, others: Any, near: Sequence[Sequence[Any]], to_other: Any
) -> tuple[int, int]:
    """Return how many likenesses agree on the placing found, and how many on the best other one.

    Repeated rivets agree on the next place in the row; so all likenesses of a feature are looked
    at, and those of the placing found are taken out.
    """
    import numpy as np

    pairs = np.array([(one.queryIdx, one.trainIdx) for some in near for one in some], int)
    laid = cv2.perspectiveTransform(these[None], to_other)[0]
    off = np.linalg.norm(laid[pairs[:, 0]] - others[pairs[:, 1]], axis=1)
    rest = _fit(cv2, these, others, pairs[off > 4 * REACH_PX])
    return int((off <= REACH_PX).sum()), 0 if rest is None else len(rest[1])


if __name__ == "__main__":
    limit_process()
    serve(sys.stdin.buffer, sys.stdout.buffer)
