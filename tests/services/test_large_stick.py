"""A large file of a memory stick is taken in without being held in memory.

`STICK_PHOTOGRAPHS` asks for more photographs than CI has time for: 400 make a file of 1 GB.
"""

import hashlib
import os
import subprocess
import sys
import zipfile
from pathlib import Path
from typing import Any

from tests.bags import BASE, stick_tablet
from tests.benches import open_bench, set_up

PHOTOGRAPHS = int(os.environ.get("STICK_PHOTOGRAPHS", "40"))
PHOTOGRAPH_BYTES = 2_500_000
MOST_MORE_BYTES = 40_000_000
"""How much more than a verb that only looks may take: a part, a batch, what one file needs."""
PEAK = """
import re, sys
from skinpin.cli import main
try:
    main(sys.argv[1:])
finally:
    # What getrusage tells begins with the memory of the process that started this one.
    print(re.search("VmHWM:\\s+([0-9]+) kB", open("/proc/self/status").read())[1], file=sys.stderr)
"""


def photograph(n: int) -> bytes:
    """Return bytes of their own for each photograph."""
    return n.to_bytes(4, "big") * (PHOTOGRAPH_BYTES // 4)


class Payload(dict[str, Any]):
    """The files of a bag by name, of which the photographs are made when they are asked for."""

    def __getitem__(self, name: str) -> bytes:
        found = super().__getitem__(name)
        return photograph(found) if isinstance(found, int) else found

    def items(self) -> Any:
        return ((name, self[name]) for name in self)


def peak_bytes(*words: object) -> int:
    """Run a verb and return the most memory its process held."""
    program = [sys.executable, "-c", PEAK, *map(str, words)]
    done = subprocess.run(program, capture_output=True, text=True, check=True)
    return int(done.stderr.split()[-1]) * 1000


def test_a_large_file_is_taken_in_part_by_part(tmp_path: Path) -> None:
    bench = set_up(open_bench(tmp_path / "book"))
    stick = stick_tablet(bench)
    lines = [text for _, text in stick.tablet.defect("d1", number="A/0001")]
    bench.workshop.close()
    payload = Payload({"data/entries-0001.jsonl": b"".join(line + b"\n" for line in lines)})
    for n in range(PHOTOGRAPHS):
        payload[f"data/photographs/{hashlib.sha256(photograph(n)).hexdigest()}.jpg"] = n
    size_bytes = PHOTOGRAPHS * PHOTOGRAPH_BYTES + len(payload["data/entries-0001.jsonl"])
    told = {
        "Bagging-Date": "2025-11-03",
        "Payload-Oxum": f"{size_bytes}.{len(payload)}",
        "Skinpin-Book": stick.tablet.book,
        "Skinpin-Tablet": stick.record,
        "Skinpin-Letter": stick.letter or "",
        "Skinpin-Entries": str(len(lines)),
    }
    info = "".join(f"{name}: {value}\n" for name, value in told.items()).encode()
    files = stick.signed(payload, info)
    path = tmp_path / "stick.zip"
    with zipfile.ZipFile(path, "w") as zip_:
        for name, content in files.items():
            zip_.writestr(
                f"{BASE}/{name}", photograph(content) if type(content) is int else content
            )
    looking = peak_bytes("people", "--data", tmp_path / "book")
    taking = peak_bytes("take-in", "--data", tmp_path / "book", path)
    path.unlink()
    print(
        f"a file of {size_bytes / 1e6:.0f} MB: {taking / 1e6:.0f} MB, looking {looking / 1e6:.0f}"
    )
    assert taking - looking < MOST_MORE_BYTES < size_bytes
