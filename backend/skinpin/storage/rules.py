"""Names the rules that derived tables are made by: a hash of everything they are written in."""

from hashlib import sha256
from pathlib import Path

import skinpin_sync

import skinpin.domain

DERIVING = (
    Path(skinpin_sync.__file__).parent,
    Path(skinpin.domain.__file__).parent,
    Path(__file__).parent,
)
"""What is derived hangs on the code and the tables of these folders and on nothing else."""


def rules_of(*folders: Path) -> str:
    """Return a name of sixteen hex digits that changes with any of their files."""
    digest = sha256()
    for folder in folders:
        for file in sorted((*folder.glob("*.py"), *folder.glob("tables/*.json"))):
            text = file.read_bytes().replace(b"\r\n", b"\n")
            digest.update(f"{folder.name}/{file.name} {len(text)}\n".encode() + text)
    return digest.hexdigest()[:16]


RULES = rules_of(*DERIVING)
"""Changes with the code that derives; a book made by other rules is rebuilt at start."""
