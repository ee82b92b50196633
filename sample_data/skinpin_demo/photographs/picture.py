"""One photograph of one record: drawn, dated, named and kept in the cache."""

import hashlib
import io
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import numpy as np
import piexif  # type: ignore[import-untyped]
import PIL
from PIL import Image

from skinpin_demo.photographs import hardware
from skinpin_demo.photographs.canvas import CENTRE, Canvas
from skinpin_demo.photographs.damage import Damage
from skinpin_demo.photographs.kinds import KINDS, ground
from skinpin_demo.photographs.noise import HEIGHT, WIDTH
from skinpin_demo.photographs.rule import lay_rule

_PLATED = {
    "pitting",
    "exfoliation",
    "surface corrosion",
    "dent",
    "paint",
    "gouge",
    "filiform",
    "after work",
}


@dataclass(frozen=True)
class Shot:
    """What is photographed: record, its place in words, role, when, and the damage."""

    number: str
    place: str
    role: str
    taken: str
    damage: Damage

    @property
    def ppi(self) -> int:
        """Pixels an inch in the plane of the metal, a multiple of ten."""
        close = _ten(min(600.0, 1040 / max(self.damage.length, self.damage.width, 0.8)))
        return max(40, _ten(close / 2.2)) if self.role == "wide" else close

    @property
    def file_name(self) -> str:
        """File name with number, place, role, date and pixels an inch."""
        plain = self.number.replace("/", "")
        role = self.role.replace(" ", "-").replace(",", "-")
        return f"{plain}_{self.place}_{role}_{self.taken[:10]}_{self.ppi}ppi.jpg"


def _ten(value: float) -> int:
    return max(40, int(value // 10) * 10)


def seed_of(number: str) -> int:
    """Return the seed of a record's pictures."""
    return int.from_bytes(hashlib.sha256(number.encode()).digest()[:4], "big")


def drawn(shot: Shot) -> Image.Image:
    """Draw the photograph."""
    seed = seed_of(shot.number)
    canvas = Canvas(seed, shot.ppi, ground(shot.damage))
    if shot.damage.kind in _PLATED:
        _plating(canvas, shot.damage)
    KINDS[shot.damage.kind](canvas, shot.damage)
    light = lay_rule(canvas.shaded(), shot.ppi, seed)
    grain = np.random.default_rng(seed + 1).normal(0, 0.008, light.shape[:2])
    light += grain.astype(np.float32)[..., None]
    return Image.fromarray((np.clip(light, 0, 1) * 255).astype(np.uint8), "RGB")


def _plating(canvas: Canvas, damage: Damage) -> None:
    """Lap and rivet row above the damage, clear of it."""
    above = -max(damage.width / 2 + 0.35, 0.75)
    hardware.seam(canvas, above)
    hardware.rivet_row(canvas, above - 0.38)


def ring_points(shot: Shot) -> list[list[int]]:
    """Return a wax-pencil ring about the damage, in whole tenths of an upright pixel.

    The two ends of its long axis, then the point that gives its half-width.
    """
    half_x = max(shot.damage.length / 2 * 1.12, 0.3) * shot.ppi
    half_y = max(shot.damage.width / 2 * 1.25, 0.22) * shot.ppi
    x, y = CENTRE
    ends = [(x - half_x, y), (x + half_x, y), (x, y - half_y)]
    return [[_tenths(along, WIDTH), _tenths(down, HEIGHT)] for along, down in ends]


def length_points(shot: Shot) -> list[list[int]]:
    """Return the two ends of a damage's length, in whole tenths of an upright pixel."""
    reach = shot.damage.length / 2 * shot.ppi
    return [[round(10 * (CENTRE[0] + side * reach)), 10 * CENTRE[1]] for side in (-1, 1)]


def _tenths(value: float, limit: int) -> int:
    return round(10 * min(max(value, 6), limit - 6))


def jpeg(shot: Shot) -> bytes:
    """Return the photograph as JPEG with its date, width and height in EXIF."""
    stamp = shot.taken.replace("-", ":").replace("T", " ")
    exif = {
        "0th": {piexif.ImageIFD.DateTime: stamp, piexif.ImageIFD.Orientation: 1},
        "Exif": {
            piexif.ExifIFD.DateTimeOriginal: stamp,
            piexif.ExifIFD.PixelXDimension: WIDTH,
            piexif.ExifIFD.PixelYDimension: HEIGHT,
        },
    }
    out = io.BytesIO()
    drawn(shot).save(out, "JPEG", quality=88, exif=piexif.dump(exif))
    return out.getvalue()


@lru_cache(maxsize=1)
def code_hash() -> str:
    """Return a hash of the drawing code and of the libraries that draw."""
    digest = hashlib.sha256(f"{np.__version__} {PIL.__version__}".encode())
    for path in sorted(Path(__file__).parent.glob("*.py")):
        digest.update(path.read_bytes())
    return digest.hexdigest()[:16]


def cached(shot: Shot, cache: Path) -> Path:
    """Return where a picture lies in the cache, drawn or not."""
    name = f"{hashlib.sha256(repr(shot).encode()).hexdigest()[:12]}_{shot.file_name}"
    return cache / "photographs" / code_hash() / name


def photograph(shot: Shot, cache: Path) -> Path:
    """Return the photograph as a file in the cache, drawing it only when it is not there yet."""
    path = cached(shot, cache)
    if not path.exists():
        path.parent.mkdir(parents=True, exist_ok=True)
        part = path.with_suffix(".part")
        part.write_bytes(jpeg(shot))
        part.replace(path)
    return path
