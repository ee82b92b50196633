"""A process that sends parts of photographs, some of them wrong: `python -m … FOLDER SEED`."""

import hashlib
import random
import sys
from contextlib import suppress
from pathlib import Path

from skinpin.domain.errors import Refused
from skinpin.storage import photograph_parts
from skinpin.storage.photograph_parts import Part, PhotographParts
from skinpin.storage.photographs import PhotographFolder


def pictures() -> list[bytes]:
    """Return the photographs that every process sends, of one to six parts of 100 bytes."""
    return [random.Random(n).randbytes(60 + 90 * n) for n in range(6)]


def main(root: Path, seed: int) -> None:
    """Send 4,000 parts; a photograph that is made is looked at and taken away again."""
    photograph_parts.PART_BYTES = 100
    chance, folder = random.Random(seed), PhotographFolder(root)
    parts, made = PhotographParts(folder), 0
    for _ in range(4000):
        content = chance.choice(pictures())
        sha256 = hashlib.sha256(content).hexdigest()
        n = chance.randrange(-(-len(content) // 100))
        part = content[n * 100 : n * 100 + 100]
        if chance.random() < 0.1:
            part = chance.randbytes(len(part))
        found = hashlib.sha256(part)
        with suppress(Refused):
            kept = parts.keep(sha256, len(content), n, Part(part, found.hexdigest(), found))
            if kept.is_new:
                made += 1
                assert hashlib.sha256(folder.read(sha256)).hexdigest() == sha256
                with folder.layer.lock(root / "locks" / sha256[:2]):
                    folder.layer.remove(folder.path(sha256))
    with open(root / "told.txt", "a") as file:
        file.write("made\n" * made)


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
