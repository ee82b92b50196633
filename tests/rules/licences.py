"""Lists the licence of every locked package, and refuses one that is not on the list."""

import json
import re
import sys
from collections.abc import Iterator
from importlib import metadata
from pathlib import Path
from typing import NamedTuple

ALLOWED = frozenset(
    """0BSD Apache-2.0 BSD-2-Clause BSD-3-Clause CC0-1.0 ISC MIT MIT-0 MIT-CMU MPL-2.0 PSF-2.0
    Unlicense Zlib""".split()  # noqa: SIM905
)
# A library under the LGPL is used unchanged and can be exchanged by whoever installs Skinpin.
EXCEPTIONS = {
    "psycopg": "LGPL-3.0-only",
    "psycopg-binary": "LGPL-3.0-only",
    "pi-heif": "BSD-3-Clause AND LGPL-3.0-only",
}
# Read in the licence files of the packages, whose metadata say nothing or less.
READ = {"resvg-py": "MIT", "pi-heif": "BSD-3-Clause AND LGPL-3.0-only"}
PLAIN_NAMES = {
    "Apache 2.0": "Apache-2.0",
    "BSD-3-Clause, Apache-2.0, dependency lic": "BSD-3-Clause AND Apache-2.0",
    "License :: OSI Approved :: Apache Software License": "Apache-2.0",
    "License :: OSI Approved :: BSD License": "BSD-3-Clause",
    "License :: OSI Approved :: MIT License": "MIT",
    "License :: OSI Approved :: Mozilla Public License 2.0 (MPL 2.0)": "MPL-2.0",
}
HEADING = """# Third-party packages

Skinpin itself is under the Apache License 2.0. These packages are installed beside it, unchanged,
at the versions of the lock files; none of their code is in this tree. Fonts of the reports come
with the typesetting package. Written by `python3 run.py lock`.

| Package | Version | Licence | Used for |
|---|---|---|---|
"""


class Package(NamedTuple):
    """One locked package."""

    name: str
    version: str
    licence: str
    use: str


def packages(root: Path) -> list[Package]:
    """Return every locked package of both languages."""
    return [*python_packages(root), *npm_packages(root)]


def python_packages(root: Path) -> Iterator[Package]:
    """Read names and versions from the locks, licences from what is installed."""
    serving = dict(locked(root / "requirements.lock"))
    for name, version in locked(root / "requirements-dev.lock"):
        use = "server" if name in serving else "development"
        yield Package(name, version, python_licence(name), use)


def locked(lock: Path) -> Iterator[tuple[str, str]]:
    """Return name and version of each locked package, leaving out those for other systems."""
    for line in lock.read_text().splitlines():
        pinned = re.match(r"([\w.-]+)==([^\s;]+)", line)
        if pinned and not re.search("== '(win32|emscripten)'", line):
            yield pinned[1], pinned[2]


def python_licence(name: str) -> str:
    """Return the licence that an installed package declares, as an SPDX expression if it can."""
    if name in READ:
        return READ[name]
    told = metadata.metadata(name)
    classifiers = [each for each in told.get_all("Classifier") or [] if "License ::" in each]
    short = (told.get("License") or "").strip()
    said = told.get("License-Expression") or short[: 40 * ("\n" not in short)]
    said = said or " AND ".join(PLAIN_NAMES.get(each, each) for each in classifiers)
    return PLAIN_NAMES.get(said, said) or "not declared"


def npm_packages(root: Path) -> Iterator[Package]:
    """Read everything from npm's lock, which copies the licence of each package."""
    lock = json.loads((root / "package-lock.json").read_text())
    for path, row in sorted(lock["packages"].items()):
        if path:
            name = path.split("node_modules/")[-1]
            use = "development" if row.get("dev") or row.get("devOptional") else "page"
            yield Package(name, row["version"], row.get("license", "not declared"), use)


def is_allowed(licence: str) -> bool:
    """Judge an SPDX expression: of OR one side is enough, of AND both are needed."""
    text = licence
    while "(" in text and ")" in text:
        inner = re.sub(r"\(([^()]*)\)", lambda group: word_of(flat_is_allowed(group[1])), text)
        if inner == text:
            return False
        text = inner
    return flat_is_allowed(text)


def word_of(allowed: bool) -> str:
    """Return a licence that stands for a judged group."""
    return "MIT" if allowed else "refused"


def flat_is_allowed(text: str) -> bool:
    """Judge an expression without brackets; AND binds closer than OR."""
    ways = [way.split(" AND ") for way in text.split(" OR ")]
    return any(all(word.strip() in ALLOWED for word in way) for way in ways)


def not_allowed(found: list[Package]) -> list[str]:
    """Return a sentence for each package whose licence is not on the list."""
    return [
        f"{each.name} {each.version} has the licence {each.licence}, which is not on the list"
        for each in found
        if not is_allowed(each.licence) and EXCEPTIONS.get(each.name) != each.licence
    ]


def page(found: list[Package]) -> str:
    """Return THIRD-PARTY.md."""
    rows = [f"| {each.name} | {each.version} | {each.licence} | {each.use} |" for each in found]
    return HEADING + "\n".join(rows) + "\n"


if __name__ == "__main__":
    file = Path(sys.argv[1])
    file.write_text(page(packages(file.resolve().parent)), "utf-8")
