"""Reads DEVELOPERS.md and the code, and names what one has and the other has not."""

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

CODE = ("backend/skinpin", "sync", "sample_data", "frontend", "runs", "run.py", "Dockerfile")
SOURCE = frozenset({".py", ".ts", ".tsx", ".json", ".css", ".html", ".typ", ""})
SETTING = re.compile(r"\bSKINPIN_[A-Z][A-Z_]*[A-Z]\b")
ROUTE = re.compile(r"\b(GET|POST|PUT|DELETE|PATCH) (/[\w/{}.\-]*)")
REFUSALS = ("Refused", "RefusedLine")
METHODS = frozenset({"get", "post", "put", "delete", "patch"})


def section(text: str, heading: str) -> str:
    """Return the text below one heading of the second level."""
    found = re.search(rf"^## {re.escape(heading)}$(.*?)(?=^## |\Z)", text, re.M | re.S)
    if found is None:
        raise LookupError(f"DEVELOPERS.md has no section '{heading}'")
    return found[1]


def rows(text: str) -> list[list[str]]:
    """Return the cells of every table row below its heading rows."""
    lines = [line for line in text.splitlines() if line.startswith("|")]
    cells = [[cell.strip() for cell in line.strip("|").split(" |")] for line in lines]
    return [row for row in cells[2:] if not set("".join(row)) <= set("-| ")]


def source_files(root: Path) -> Iterator[Path]:
    """Return the project's source files, without what is built."""
    for top in CODE:
        whole = root / top
        files = [whole] if whole.is_file() else sorted(whole.rglob("*"))
        for file in files:
            built = "static" in file.parts or "__pycache__" in file.parts
            if file.is_file() and file.suffix in SOURCE and not built:
                yield file


def source_text(root: Path) -> str:
    """Return all source as one text."""
    return "\n".join(file.read_text("utf-8") for file in source_files(root))


def settings_used(root: Path) -> set[str]:
    """Return every SKINPIN_ variable that the code names."""
    return set(SETTING.findall(source_text(root)))


def settings_told(text: str) -> set[str]:
    """Return every SKINPIN_ variable of the settings table."""
    return {row[0].strip("`") for row in rows(section(text, "Settings"))}


def trees(root: Path, top: str) -> Iterator[ast.Module]:
    """Return the parsed Python files below a folder."""
    for file in sorted((root / top).rglob("*.py")):
        yield ast.parse(file.read_text("utf-8"))


def codes_used(root: Path) -> set[str]:
    """Return every code with which either language makes a refusal, where it is plain text."""
    return codes_of_python(root) | codes_of_typescript(root)


def codes_of_python(root: Path) -> set[str]:
    """Return the first argument of every call that makes a refusal."""
    return {
        str(node.args[0].value)
        for top in ("backend/skinpin", "sync/python")
        for tree in trees(root, top)
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and name_of(node.func) in REFUSALS
        if node.args and isinstance(node.args[0], ast.Constant)
    }


def codes_of_typescript(root: Path) -> set[str]:
    """Return the first argument of every refusal that is made anew."""
    files = [file for file in source_files(root) if file.suffix in {".ts", ".tsx"}]
    text = "\n".join(file.read_text("utf-8") for file in files)
    return set(re.findall(rf"new (?:{'|'.join(REFUSALS)})\(\s*'([a-z0-9_]+)'", text))


def only_in_words(codes: set[str], source: str) -> list[str]:
    """Return the codes that no source file holds as a text of its own."""
    return sorted(code for code in codes if f'"{code}"' not in source and f"'{code}'" not in source)


def differences(code: set[str], told: set[str]) -> list[str]:
    """Return one sentence for each name that only the code or only the page has."""
    lacking = [f"{name} is in the code and not in DEVELOPERS.md" for name in sorted(code - told)]
    return lacking + [
        f"{name} is in DEVELOPERS.md and not in the code" for name in sorted(told - code)
    ]


def codes_told(text: str) -> set[str]:
    """Return every code of the table of error codes."""
    return set(re.findall(r"`([a-z0-9_]+)`", section(text, "Error codes")))


def name_of(node: ast.expr) -> str:
    """Return the last name of a called expression."""
    return str(getattr(node, "attr", None) or getattr(node, "id", ""))


def routes_served(root: Path) -> set[str]:
    """Return method and path of every decorated route below /api, parameters without names."""
    found = set()
    for tree in trees(root, "backend/skinpin/web"):
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and name_of(node.func) in METHODS and node.args:
                path = getattr(node.args[0], "value", None)
                if isinstance(path, str) and path.startswith("/api/"):
                    found.add(f"{name_of(node.func).upper()} {nameless(path)}")
    return found


def routes_told(text: str) -> set[str]:
    """Return method and path of every route of the wire table below /api."""
    found = ROUTE.findall(section(text, "The wire"))
    return {f"{method} {nameless(path)}" for method, path in found if path.startswith("/api/")}


def nameless(path: str) -> str:
    """Return a path with its parameters' names and types left out."""
    return re.sub(r"\{[^}]*\}", "{}", path)


def verbs_offered(root: Path, *command: str) -> set[str]:
    """Return the verbs that a command line lists in its own help."""
    done = subprocess.run(
        [sys.executable, *command, "--help"], cwd=root, capture_output=True, text=True, check=True
    )
    return set(re.findall(r"^    (\w[\w-]*)", done.stdout, re.M))


def verbs_told(text: str, begins: str) -> set[str]:
    """Return the verbs of the verb table that stand behind a command's name."""
    cells = [row[0].strip("`") for row in rows(section(text, "Verbs"))]
    told = [cell.removeprefix(begins).split(" · ") for cell in cells if cell.startswith(begins)]
    return {verb.split()[0] for verbs in told for verb in verbs}


def glossary(text: str) -> list[str]:
    """Return the words of the glossary."""
    return [row[0] for row in rows(section(text, "Glossary"))]


def unused_words(words: list[str], source: str) -> list[str]:
    """Return the words that no source file uses in any of the ways a name is written."""
    return [word for word in words if not re.search(spelling(word), source, re.IGNORECASE)]


def spelling(word: str) -> str:
    """Return a pattern for a word spelt with spaces, underscores, hyphens or capitals."""
    return r"(?<![a-z])" + r"[ _-]?".join(map(re.escape, word.split())) + r"(?:e?s)?(?![a-z])"


def twins_told(text: str) -> dict[str, list[str]]:
    """Return the functions of each twin file, by their Python names."""
    table = rows(section(text, "Twins: functions that both languages have"))
    return {row[0].strip("`"): functions_of(row[1]) for row in table}


def functions_of(cell: str) -> list[str]:
    """Return the names written with their brackets; a bare name is a field or a value."""
    return re.findall(r"`([a-z_]+)\(", cell)


def missing_twins(root: Path, told: dict[str, list[str]]) -> list[str]:
    """Return every function that the table names and a language does not have."""
    return [
        f"{file}: {name}"
        for stem, functions in told.items()
        for snake in functions
        for file, name in (
            (f"backend/skinpin/{stem}.py", snake),
            (f"frontend/src/{stem}.ts", camel(snake)),
        )
        if not defines(root / file, name)
    ]


def camel(snake: str) -> str:
    """Return a Python name as TypeScript writes it."""
    first, *rest = snake.split("_")
    return first + "".join(word.capitalize() for word in rest)


def defines(file: Path, name: str) -> bool:
    """Say whether a file defines or hands on a function of this name."""
    if not file.exists():
        return False
    pattern = rf"^(?:export )?(?:async )?(?:def|function) {name}\b|^export const {name}\b"
    handed_on = rf"^(?:export \{{|from \S+ import)[^;]*\b{name}\b"
    return re.search(f"{pattern}|{handed_on}", file.read_text("utf-8"), re.M) is not None


def addresses_told(text: str) -> set[str]:
    """Return the first part of every address of a screen."""
    found = re.findall(r"`(/[a-z-]*)", section(text, "Addresses of the screens"))
    return set(found)


def import_table(text: str) -> dict[str, set[str]]:
    """Return what each room may import by the table of rooms, as names of rooms."""
    allowed: dict[str, set[str]] = {}
    for first, second in rows(section(text, "Who may import whom")):
        named = [name.strip() for name in first.split(",")]
        for room in named:
            allowed[room] = rooms_in(second, room)
    return allowed


def rooms_in(cell: str, room: str) -> set[str]:
    """Return the rooms that a cell of the table grants to one room."""
    plain = re.sub(r"\([^)]*\)", "", cell).split(";")[0].split(".")[0]
    extra = [told for name, told in re.findall(r"\((\w+): ([^)]*)\)", cell) if name == room]
    words = re.findall(r"[a-z_]+", " ".join([plain, *extra]))
    return {"sync" if word == "skinpin_sync" else word for word in words}
