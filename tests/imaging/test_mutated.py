"""Thousands of damaged pictures: each is made or refused; none ends, stops or swells the decoder.

`MUTATED` asks for more than CI has time for, `FAULT_SEED` for others.
"""

import os
import random
import re
import time
from pathlib import Path

from skinpin.domain.errors import Refused
from skinpin.imaging.child import MEMORY_BYTES
from skinpin.imaging.renderer import Renderer

from tests.imaging.pictures import picture

COUNT = int(os.environ.get("MUTATED", "200"))
SEED = int(os.environ.get("FAULT_SEED", "20251103"))
SIZE = (240, 90)
LONGEST_S = 10.0
HIGHEST_KB = MEMORY_BYTES // 1024 // 2


def whole_pictures() -> list[bytes]:
    """Return small pictures of every kind that is decoded."""
    modes = [("JPEG", "RGB"), ("JPEG", "L"), ("JPEG", "CMYK"), ("PNG", "RGB"), ("PNG", "P"),
             ("PNG", "RGBA"), ("PNG", "LA"), ("WEBP", "RGB"), ("WEBP", "RGBA")]  # fmt: skip
    return [picture(SIZE, kind, 6 if kind == "JPEG" else 1, mode) for kind, mode in modes]


def mutated(content: bytes, chance: random.Random) -> bytes:
    """Return bytes that were changed, cut, doubled, lengthened or mixed up in places."""
    found = bytearray(content)
    for _ in range(1 + chance.randrange(4)):
        at = chance.randrange(max(1, min(len(found), chance.choice((40, 200, 10**6)))))
        size = 1 + chance.randrange(8)
        match chance.randrange(6):
            case 0:
                found[at : at + size] = chance.randbytes(size)
            case 1:
                found[at : at + size] = b"\xff" * size
            case 2:
                del found[at + chance.randrange(1, 200) :]
            case 3:
                found[at:at] = found[max(0, at - 60) : at]
            case 4:
                del found[at : at + size]
            case _:
                found[at : at + 4] = (chance.choice((0, 1, 2**31 - 1, 65_500))).to_bytes(4, "big")
    return bytes(found)


def test_no_damaged_picture_ends_or_stops_the_decoder():
    chance, whole, made = random.Random(SEED), whole_pictures(), 0
    renderer = Renderer()
    try:
        renderer.render(whole[0], [320])
        first = renderer._warm.pid
        for at in range(COUNT):
            content = mutated(chance.choice(whole), chance)
            began = time.monotonic()
            made += is_made(renderer, content)
            where = f"picture {at} of seed {SEED}"
            assert time.monotonic() - began < LONGEST_S, where
            assert renderer._warm.pid == first, where
        assert highest_kb(first) < HIGHEST_KB
    finally:
        renderer.close()
    print(f"seed {SEED}: {COUNT} pictures, {made} of them made")
    assert 0 < made < COUNT


def is_made(renderer: Renderer, content: bytes) -> bool:
    """Say whether a picture could be made; any error but a refusal of it goes on."""
    try:
        renderer.render(content, [320])
    except Refused as refused:
        if refused.code not in ("unreadable_picture", "too_many_pixels"):
            raise
        return False
    return True


def highest_kb(process: int) -> int:
    """Return the most memory that a process has had, in kB."""
    said = Path(f"/proc/{process}/status").read_text()
    return int(re.search(r"VmHWM:\s+(\d+) kB", said)[1])
