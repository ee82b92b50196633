"""What is wrong with the metal, painted by kind in inches about the centre."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from skinpin_demo.photographs import hardware
from skinpin_demo.photographs.canvas import ALLOY, PRIMER, STEEL, Canvas, Colour, Piece, smooth
from skinpin_demo.photographs.noise import Field, noise

BLOOM: Colour = (0.80, 0.81, 0.78)
RUST: Colour = (0.42, 0.22, 0.11)
PIT: Colour = (0.05, 0.055, 0.05)


@dataclass(frozen=True)
class Damage:
    """What is to be shown: kind, size in inches, material and the length of a run."""

    kind: str
    length: float
    width: float
    material: str = "AL"
    run: int = 0
    perforated: bool = False
    blistered: bool = False


def _patch(canvas: Canvas, damage: Damage, ragged: float = 0.16) -> Field:
    """Return a ragged ellipse of the size of the damage, 1 inside."""
    scale = canvas.ppi / 200
    edge = noise(canvas.rng, round(26 * scale), round(20 * scale))
    edge = edge + 0.6 * noise(canvas.rng, round(8 * scale), round(7 * scale))
    out = np.hypot(canvas.x / (damage.length / 2), canvas.y / (damage.width / 2))
    return 1 - smooth(0.62, 1.02, out + ragged * edge - 0.08)


def _pits(canvas: Canvas, damage: Damage, count: int, big: float) -> None:
    for _ in range(count):
        turn, out = canvas.rng.uniform(0, 2 * np.pi), np.sqrt(canvas.rng.uniform(0, 0.86))
        x = out * np.cos(turn) * damage.length / 2
        y = out * np.sin(turn) * damage.width / 2
        size = big * (0.22 + 0.78 * canvas.rng.power(0.30))
        _pit(canvas, x, y, size, canvas.rng.uniform(0.7, 1.6))


def _pit(canvas: Canvas, x: float, y: float, size: float, stretch: float) -> None:
    """One pit, worked on only in its own window."""
    window = canvas.window(x, y, 3 * size * stretch)
    angle = np.arctan2(canvas.y[window] - y, canvas.x[window] - x)
    lobes = 1 + 0.09 * np.sin(2 * angle + x * 40) + 0.06 * np.sin(5 * angle + y * 60)
    away = np.hypot((canvas.x[window] - x) / stretch, canvas.y[window] - y) / (size * lobes)
    inside = 1 - smooth(0.55, 1.10, away)
    rim = np.exp(-(((away - 1.25) / 0.28) ** 2))[..., None]
    canvas.colour[window] += 0.22 * rim * (np.array(BLOOM, np.float32) - canvas.colour[window])
    canvas.colour[window] += inside[..., None] * (np.array(PIT) - canvas.colour[window]) * 0.9
    canvas.relief[window] -= 0.35 * size * inside
    canvas.gloss[window] *= 1 - inside


def pitting(canvas: Canvas, damage: Damage) -> None:
    """Dark pits in a dull blotch with white bloom."""
    patch = _patch(canvas, damage)
    canvas.tint(0.75 * patch, (0.47, 0.48, 0.45), 0.12)
    cloud = smooth(0.35, 1.9, noise(canvas.rng, 34, 26) + 0.5 * noise(canvas.rng, 9, 8))
    canvas.tint(0.85 * patch * cloud, BLOOM, 0.05)
    canvas.relief += 0.012 * patch * cloud
    big = 0.062 * min(1.4, max(0.35, damage.width))
    _pits(canvas, damage, int(np.clip(34 * damage.length * damage.width**0.5, 30, 200)), big)
    if damage.perforated:
        hardware.hole(canvas, 0.02, 0.0, 0.09, 1.25)
    if damage.blistered:
        for _ in range(46):
            x = canvas.rng.normal(0, damage.length / 5)
            away = canvas.distance(x, canvas.rng.normal(0, damage.width / 5))
            size = canvas.rng.uniform(0.06, 0.22)
            canvas.relief += 0.5 * size * np.exp(-((away / size) ** 4))


def exfoliation(canvas: Canvas, damage: Damage) -> None:
    """Leaves of metal lifting along the grain, layer over layer."""
    patch = _patch(canvas, damage, 0.12)
    stretch = canvas.ppi / 200
    leaf = noise(canvas.rng, round(90 * stretch), round(9 * stretch))
    leaf = leaf + 0.35 * noise(canvas.rng, round(24 * stretch), round(3 * stretch))
    lifted = np.clip(leaf + 1.2, 0, 3) * patch
    layers = np.floor(lifted * 3.2) / 3.2
    canvas.tint(0.8 * patch, (0.62, 0.62, 0.58), 0.18)
    canvas.relief += 0.035 * layers + 0.012 * lifted
    edges = np.abs(np.gradient(layers, axis=0)) > 0
    canvas.darken(edges.astype(np.float32) * patch, 0.75)
    canvas.tint(0.55 * patch * (lifted * 3.2 % 1 < 0.22), BLOOM, 0.05)


def crevice(canvas: Canvas, damage: Damage) -> None:
    """White product squeezed out of a faying edge, etched lines beside it."""
    hardware.seam(canvas, -0.05, 0.05)
    patch = _patch(canvas, damage, 0.22) * smooth(-0.10, 0.02, canvas.y)
    cloud = noise(canvas.rng, 14, 9)
    canvas.tint(0.7 * patch, (0.44, 0.44, 0.41), 0.08)
    canvas.tint(patch * smooth(-0.2, 1.2, cloud), BLOOM, 0.04)
    canvas.relief += 0.035 * patch * np.clip(cloud + 0.6, 0, 3)
    _pits(canvas, Damage("pitting", damage.length, damage.width * 0.7), 60, 0.04)


def surface(canvas: Canvas, damage: Damage) -> None:
    """Thin even attack: rust on steel, grey-white powder on light alloy."""
    patch = _patch(canvas, damage, 0.3)
    speck, cloud = noise(canvas.rng, 3, 3), noise(canvas.rng, 22, 16)
    cover = patch * smooth(-0.8, 1.1, 0.6 * speck + cloud)
    tone = RUST if damage.material == "ST" else BLOOM
    canvas.tint(0.8 * cover, tone, 0.03)
    if damage.material == "ST":
        canvas.tint(0.5 * cover * smooth(0.6, 1.6, speck), (0.20, 0.09, 0.05), 0.02)
    canvas.relief += 0.004 * cover * speck


def galvanic(canvas: Canvas, damage: Damage) -> None:
    """Grey-white bloom where a steel bolt passes through light alloy."""
    patch = _patch(canvas, damage, 0.2)
    canvas.tint(0.9 * patch * smooth(-1, 1, noise(canvas.rng, 12, 11)), BLOOM, 0.04)
    canvas.relief += 0.006 * patch * noise(canvas.rng, 9, 9)
    _pits(canvas, damage, 40, 0.05)
    hardware.bolt(canvas, 0, 0, 0.44)
    ring = np.exp(-(((canvas.distance(0, 0) - 0.33) / 0.07) ** 2))
    canvas.tint(0.6 * ring, RUST, 0.05)


def _trail(canvas: Canvas, x: float, y: float, length: float) -> Field:
    along = (canvas.x - x) / length
    narrow = 0.10 * (1 - 0.5 * np.clip(along, 0, 1))
    across = np.abs(canvas.y - y - 0.04 * np.sin(9 * along)) / narrow
    return np.asarray(
        smooth(0.02, 0.2, along) * (1 - smooth(0.3, 1.0, along)) * np.exp(-(across**2))
    )


def loose(canvas: Canvas, damage: Damage) -> None:
    """Rivets that work: black rings and trails of fretted metal behind the heads."""
    hardware.seam(canvas, 0.45)
    pitch = damage.length / max(1, damage.run - 1) if damage.run > 1 else 0.75
    pitch = min(1.6, max(0.6, pitch))
    for i in range(-12, 13):
        x = (i - (damage.run - 1) / 2) * pitch
        hardware.rivet(canvas, x, 0, 0.16)
        if 0 <= i < damage.run:
            ring = np.exp(-(((canvas.distance(x, 0) - 0.19) / 0.045) ** 2))
            canvas.darken(ring, 0.85)
            canvas.darken(_trail(canvas, x + 0.1, 0, 0.55), 0.75)


def sheared(canvas: Canvas, damage: Damage) -> None:
    """Row with heads gone: bright shanks flush in their holes."""
    loose(canvas, damage)
    for i in range(damage.run):
        x = (i - (damage.run - 1) / 2) * min(1.6, max(0.6, damage.length / max(1, damage.run - 1)))
        away = canvas.distance(x, 0)
        flat = 1 - smooth(0.165, 0.18, away)
        canvas.relief *= 1 - flat
        canvas.tint(flat, (0.30, 0.32, 0.29), 0.1)
        canvas.tint(1 - smooth(0.07, 0.08, away), (0.74, 0.74, 0.73), 0.7)
        canvas.darken(np.exp(-(((away - 0.082) / 0.012) ** 2)), 0.9)


def crack_path(damage: Damage, seed: int) -> list[tuple[float, float]]:
    """Return the corners of a crack that runs right from its hole, in inches."""
    rng = np.random.default_rng(seed)
    steps = np.cumsum(rng.uniform(0.7, 1.3, 14))
    xs = -damage.length / 2 + damage.length * np.concatenate([[0.0], steps / steps[-1]])
    ys = np.concatenate([[0.0], np.cumsum(rng.normal(0, damage.length / 55, 14))])
    ys -= np.linspace(0, 0.12 * damage.length, 15)
    return [(float(x), float(y)) for x, y in zip(xs, ys, strict=True)]


def crack(canvas: Canvas, damage: Damage) -> None:
    """Thin broken line from the edge of a hole, dark with a bright lip."""
    hardware.lightening_hole(canvas, -damage.length / 2 - 0.82, 0.0, 0.82)
    path = crack_path(damage, int(canvas.rng.integers(1 << 30)))
    near = np.full(canvas.x.shape, np.inf, np.float32)
    for (ax, ay), (bx, by) in zip(path, path[1:], strict=False):
        near = np.minimum(near, _to_segment(canvas, ax, ay, bx, by))
    share = np.clip((canvas.x + damage.length / 2) / damage.length, 0, 1)
    half = (0.0085 - 0.0055 * share) * (1 + 0.25 * noise(canvas.rng, 6, 6))
    line = 1 - smooth(0.4, 1.0, near / np.maximum(half, 0.002))
    stain = np.exp(-((near / 0.05) ** 2))
    canvas.darken(stain, 0.25)
    canvas.tint(line, (0.03, 0.03, 0.03), 0.0)
    canvas.relief += 0.004 * np.exp(-((near / 0.03) ** 2))


def _to_segment(canvas: Canvas | Piece, ax: float, ay: float, bx: float, by: float) -> Field:
    dx, dy = bx - ax, by - ay
    share = ((canvas.x - ax) * dx + (canvas.y - ay) * dy) / (dx * dx + dy * dy)
    share = np.clip(share, 0, 1)
    away = np.hypot(canvas.x - ax - share * dx, canvas.y - ay - share * dy)
    return np.asarray(away, dtype=np.float32)


def _approach(
    canvas: Canvas, near: Field, start: tuple[float, float], end: tuple[float, float]
) -> None:
    """Lower `near` to the distance from a short line, only round about it."""
    x, y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    window = canvas.window(x, y, 0.25)
    piece = canvas.piece(window)
    near[window] = np.minimum(near[window], _to_segment(piece, *start, *end))


def dent(canvas: Canvas, damage: Damage) -> None:
    """Smooth hollow without a crease."""
    out = np.hypot(canvas.x / (damage.length / 2), canvas.y / (damage.width / 2))
    canvas.relief -= 0.16 * damage.width / 2 * np.exp(-((out / 0.62) ** 2))
    canvas.gloss += 0.12


def _scratch(canvas: Canvas, damage: Damage, wide: float, deep: float, y: float = 0.0) -> None:
    wander = 0.05 * damage.width * np.sin(canvas.x * 3.1) + y
    half = np.maximum(wide * (1 - (2 * canvas.x / damage.length) ** 2), 0.0)
    near = np.abs(canvas.y - wander)
    cut = np.where(half > 0.002, 1 - smooth(0.3, 1.0, near / np.maximum(half, 0.002)), 0)
    canvas.relief -= deep * cut
    canvas.tint(0.85 * cut, (0.76, 0.76, 0.74), 0.9)
    lip = np.where(half > 0.002, np.exp(-(((near - half * 1.1) / 0.02) ** 2)), 0)
    canvas.relief += 0.4 * deep * lip


def gouge(canvas: Canvas, damage: Damage) -> None:
    """One bright furrow with raised lips."""
    _scratch(canvas, damage, 0.06, 0.05)


def score(canvas: Canvas, damage: Damage) -> None:
    """A fine bright scratch and two fainter beside it."""
    _scratch(canvas, damage, 0.022, 0.015)
    _scratch(canvas, Damage("score", damage.length * 0.6, 0.1), 0.010, 0.006, 0.07)


def chafing(canvas: Canvas, damage: Damage) -> None:
    """Polished band of parallel rubbing marks under a cable."""
    patch = _patch(canvas, Damage("chafing", damage.length, max(0.25, damage.width * 2)), 0.08)
    lines = noise(canvas.rng, 120, 1.4)
    canvas.tint(0.9 * patch, (0.72, 0.72, 0.71), 0.9)
    canvas.relief -= 0.03 * patch - 0.004 * patch * lines
    canvas.darken(patch * smooth(0.8, 2.0, lines), 0.5)


def filiform(canvas: Canvas, damage: Damage) -> None:
    """Thread-like worms lifting the paint."""
    near = np.full(canvas.x.shape, np.float32(9))
    for _ in range(16):
        x, y = canvas.rng.normal(0, damage.length / 6), canvas.rng.normal(0, damage.width / 6)
        heading = canvas.rng.uniform(0, 2 * np.pi)
        for _ in range(12):
            heading += canvas.rng.normal(0, 0.55)
            end = (x + 0.11 * np.cos(heading), y + 0.11 * np.sin(heading))
            _approach(canvas, near, (x, y), end)
            x, y = end
    thread = np.exp(-((near / 0.035) ** 2))
    canvas.relief += 0.03 * thread
    canvas.tint(0.45 * thread, (0.70, 0.72, 0.66), 0.3)


def paint(canvas: Canvas, damage: Damage) -> None:
    """Coat gone in flakes, sound bright metal beneath."""
    patch = _patch(canvas, damage, 0.34)
    flakes = patch + 0.35 * noise(canvas.rng, 20, 16) * (patch > 0.02)
    gone = smooth(0.42, 0.48, np.asarray(flakes, np.float32))
    canvas.relief -= 0.012 * gone
    canvas.tint(gone, ALLOY, 0.55)
    canvas.darken(gone * smooth(0.6, 2.2, noise(canvas.rng, 40, 1)), 0.15)


def intergranular(canvas: Canvas, damage: Damage) -> None:
    """Fine lines along the grain where the boundaries have opened."""
    patch = _patch(canvas, damage, 0.1)
    lines = noise(canvas.rng, 46, 1.6) + 0.4 * noise(canvas.rng, 12, 1.6)
    opened = patch * (1 - smooth(0.0, 0.09, np.abs(lines)))
    canvas.tint(0.5 * patch, (0.66, 0.66, 0.63), 0.3)
    canvas.darken(opened, 0.85)
    canvas.relief -= 0.006 * opened


def missing(canvas: Canvas, damage: Damage) -> None:
    """Clean outline where a clip sat, and its empty holes."""
    box = np.maximum(np.abs(canvas.x) / 0.95, np.abs(canvas.y) / 0.42)
    inside = 1 - smooth(0.98, 1.0, box.astype(np.float32))
    canvas.tint(0.7 * inside, (0.50, 0.55, 0.46), 0.35)
    canvas.darken(np.exp(-(((box - 1.0) / 0.04) ** 2)), 0.35)
    for x in (-0.6, 0.0, 0.6):
        hardware.hole(canvas, x, 0, 0.065)


def elongated(canvas: Canvas, damage: Damage) -> None:
    """Hole drawn out by a working rivet, its neighbours sound."""
    hardware.rivet_row(canvas, 0.0, 0.9, skip=0)
    worn = np.exp(-(((canvas.distance(0, 0) - 0.13) / 0.05) ** 2))
    canvas.darken(worn, 0.4)
    hardware.hole(canvas, 0, 0, 0.079, 0.168 / 0.158)


def leak(canvas: Canvas, damage: Damage) -> None:
    """Wet runs below a union."""
    x, y = canvas.x, canvas.y
    pipe = np.clip(1 - ((y + 0.1) / 0.25) ** 2, 0, 1) ** 0.5
    canvas.relief += 0.22 * pipe
    canvas.tint((pipe > 0).astype(np.float32), ALLOY, 0.6)
    nut = ((np.abs(x) < 0.55) & (np.abs(y + 0.1) < 0.36)).astype(np.float32)
    canvas.relief += 0.14 * nut * (1 - 0.4 * np.abs(np.floor((y + 0.46) / 0.24) - 1))
    canvas.tint(nut, (0.50, 0.52, 0.54), 0.7)
    for start in (-0.42, -0.1, 0.16, 0.4):
        length = canvas.rng.uniform(0.7, 2.2)
        down = (y - 0.22) / length
        half = 0.05 * (1 + 0.8 * np.exp(-(((down - 0.95) / 0.08) ** 2)))
        run = np.exp(-(((x - start - 0.03 * np.sin(5 * y)) / half) ** 2))
        run = run * smooth(0, 0.05, down) * (1 - smooth(0.96, 1.02, down))
        canvas.darken(run, 0.45)
        canvas.relief += 0.03 * run
        canvas.gloss += 1.3 * run


def fabric(canvas: Canvas, damage: Damage) -> None:
    """Doped weave with a three-cornered tear."""
    x, y = canvas.x * 26, canvas.y * 26
    weave = np.sin(np.pi * x) * np.sin(np.pi * y) + 0.4 * np.cos(2 * np.pi * x)
    canvas.tint(np.ones_like(x), (0.55, 0.53, 0.45), 0.15)
    canvas.colour *= (1 + 0.05 * weave + 0.04 * noise(canvas.rng, 60, 40))[..., None]
    canvas.relief += 0.003 * weave
    near = np.minimum(
        _to_segment(canvas, -1.0, -0.3, 0.7, 0.1), _to_segment(canvas, 0.7, 0.1, 0.5, 1.1)
    )
    open_by = 0.07 * (1 + 0.4 * noise(canvas.rng, 6, 6))
    gap = 1 - smooth(0.6, 1.0, near / np.maximum(open_by, 0.01))
    canvas.tint(gap, (0.05, 0.05, 0.045), 0.0)
    canvas.relief += 0.05 * np.exp(-(((near - 0.14) / 0.07) ** 2))


def wrong(canvas: Canvas, damage: Damage) -> None:
    """A bolt head and its nut, seen square on."""
    washer = 1 - smooth(0.83, 0.86, canvas.distance(0, 0))
    canvas.relief += 0.10 * washer
    canvas.tint(washer, STEEL, 0.5)
    hardware.bolt(canvas, 0, 0, 0.9, 0.15)


def after_work(canvas: Canvas, damage: Damage) -> None:
    """Metal dressed smooth, cleaned and given fresh coat."""
    wide = Damage("", damage.length * 1.35, max(damage.width, 0.6) * 1.6)
    patch = _patch(canvas, wide, 0.05)
    canvas.relief -= 0.010 * patch
    canvas.tint(0.9 * patch, (0.44, 0.50, 0.38), 0.75)
    canvas.colour *= (1 + 0.02 * patch * noise(canvas.rng, 60, 8))[..., None]


def nothing(canvas: Canvas, damage: Damage) -> None:
    """Sound metal about a lightening hole."""
    hardware.lightening_hole(canvas, -1.0, 0.0, 0.82)


KINDS: dict[str, Callable[[Canvas, Damage], None]] = {
    "pitting": pitting,
    "exfoliation": exfoliation,
    "crevice corrosion": crevice,
    "surface corrosion": surface,
    "galvanic corrosion": galvanic,
    "loose rivets": loose,
    "sheared rivets": sheared,
    "crack": crack,
    "dent": dent,
    "gouge": gouge,
    "score": score,
    "chafing": chafing,
    "filiform": filiform,
    "paint": paint,
    "intergranular": intergranular,
    "missing part": missing,
    "elongated hole": elongated,
    "leak": leak,
    "fabric": fabric,
    "wrong part": wrong,
    "after work": after_work,
    "nil": nothing,
}

#: Grounds that are not primer: bare alloy booms and outer skins, steel fittings.
BARE = {"intergranular", "dent", "score", "elongated hole", "gouge", "exfoliation"}


def ground(damage: Damage) -> Colour:
    """Return the colour of the sound metal about a damage."""
    if damage.material == "ST":
        return STEEL
    return ALLOY if damage.kind in BARE else PRIMER
