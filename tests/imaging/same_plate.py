"""Writes a plate and the same plate seen again, for a camera that is made up: `python -m … FOLDER`.

`earlier.jpg` is the plate; `camera.mjpeg` a film of it turned 3° clockwise and 4 % larger. The
places of three marks in the first are printed, x and y in px, one mark a line.
"""

import sys
from pathlib import Path

import cv2

from tests.imaging.plates import SIZE, jpeg, plate

MARKS = ((420, 330), (1210, 390), (760, 940))


def main(folder: Path) -> None:
    """Write both files."""
    grey = plate(41)
    for x, y in MARKS:
        cv2.circle(grey, (x, y), 26, 255, -1, cv2.LINE_AA)
        cv2.circle(grey, (x, y), 10, 0, -1, cv2.LINE_AA)
    turn = cv2.getRotationMatrix2D((SIZE[0] / 2, SIZE[1] / 2), -3.0, 1.04)
    again = cv2.warpAffine(grey, turn, SIZE, borderValue=90)
    (folder / "earlier.jpg").write_bytes(jpeg(grey))
    (folder / "camera.mjpeg").write_bytes(jpeg(cv2.cvtColor(again, cv2.COLOR_GRAY2BGR)) * 3)
    print("\n".join(f"{x} {y}" for x, y in MARKS))


if __name__ == "__main__":
    main(Path(sys.argv[1]))
