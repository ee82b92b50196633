"""Finds imports of TypeScript files that the map does not allow."""

import os
import re
from collections.abc import Iterator
from pathlib import Path

from tests.rules.rooms import TYPESCRIPT_ROOMS, library_verdict, room_of, verdict

ALIASES = {"@sync/": "sync/typescript/", "@tables/": "backend/skinpin/domain/tables/"}
STATEMENT = re.compile(
    r"""(?:^|[;}\s])(?:import|export)\b(?:[^'";]*?\bfrom)?\s*['"]([^'"]+)['"]"""
    r"""|\bimport\s*\(\s*['"`]([^'"`]+)['"`]|\brequire\s*\(\s*['"]([^'"]+)['"]"""
)
COMMENT = re.compile(r"/\*.*?\*/|(?<![:'\"])//[^\n]*", re.DOTALL)
IMPURE = re.compile(r"\bDate\.now\b|\bMath\.random\b|\bnew Date\(\s*\)|\bperformance\.now\b")


def typescript_files(root: Path) -> Iterator[Path]:
    """Return the TypeScript files that the map speaks of."""
    for top in ("frontend/src", "sync/typescript"):
        folder = root / top
        yield from sorted(file for file in folder.rglob("*") if file.suffix in {".ts", ".tsx"})


def find_violations(root: Path) -> list[str]:
    """Return one sentence for each import or impure call that the map forbids."""
    found = []
    for file in typescript_files(root):
        name = file.relative_to(root).as_posix()
        text = COMMENT.sub(" ", file.read_text("utf-8"))
        judged = [judge(name, target) for target in imported(text)]
        found += [wrong for wrong in judged if wrong is not None]
        found += impure_calls(name, text)
    return found


def imported(text: str) -> list[str]:
    """Return what a file imports, as written."""
    return [next(filter(None, groups)) for groups in STATEMENT.findall(text)]


def judge(name: str, target: str) -> str | None:
    """Judge one import by the room of its file, or as a library."""
    for alias, folder in ALIASES.items():
        if target.startswith(alias):
            return verdict(name, folder + target.removeprefix(alias), TYPESCRIPT_ROOMS)
    if target.startswith("."):
        file = os.path.normpath(f"{os.path.dirname(name)}/{target}")
        return verdict(name, file, TYPESCRIPT_ROOMS)
    return library_verdict(name, target, TYPESCRIPT_ROOMS)


def impure_calls(name: str, text: str) -> list[str]:
    """Find words in pure rooms that read a clock or draw chance; the compiler sees the rest."""
    here = room_of(name, TYPESCRIPT_ROOMS)
    if here is None or not TYPESCRIPT_ROOMS[here].pure:
        return []
    return [f"{name} ({here}) uses {word}" for word in IMPURE.findall(text)]
