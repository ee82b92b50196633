"""Finds imports of Python files that the map does not allow."""

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

from tests.rules.rooms import PYTHON_ROOMS, library_verdict, room_of, verdict

FOLDERS = {"skinpin": "backend", "skinpin_sync": "sync/python", "skinpin_demo": "sample_data"}
BUILT = ("backend/skinpin/web/static/",)
# Modules of the standard library that reach a disk, a clock, chance, the network or a process.
IMPURE = frozenset(
    """asyncio glob http io logging multiprocessing os pathlib random secrets select shutil signal
    socket sqlite3 ssl subprocess tempfile threading time urllib uuid""".split()  # noqa: SIM905
)
IMPURE_CALLS = frozenset({"now", "utcnow", "today", "open", "input", "print", "eval", "exec"})


def python_files(root: Path) -> Iterator[Path]:
    """Return the Python files that the map speaks of."""
    for top in ("backend", "sync/python", "sample_data", "runs"):
        yield from sorted((root / top).rglob("*.py"))
    yield from (file for file in [root / "run.py"] if file.exists())


def find_violations(root: Path) -> list[str]:
    """Return one sentence for each import or impure call that the map forbids."""
    found = []
    for file in python_files(root):
        name = file.relative_to(root).as_posix()
        if not name.startswith(BUILT):
            tree = ast.parse(file.read_text("utf-8"), name)
            found += [*wrong_imports(root, name, tree), *impure_calls(name, tree)]
    return found


def wrong_imports(root: Path, name: str, tree: ast.AST) -> Iterator[str]:
    """Judge every import of a file, also those inside functions."""
    for module in imported_modules(name, tree):
        wrong = judge_module(root, name, module)
        if wrong is not None:
            yield wrong


def imported_modules(name: str, tree: ast.AST) -> Iterator[str]:
    """Return dotted names; of `from a import b` both a.b and, where b is no module, a."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = absolute_module(name, node)
            yield from (f"{base}.{alias.name}" for alias in node.names)


def absolute_module(name: str, node: ast.ImportFrom) -> str:
    """Return the dotted name of a module that may be written with leading dots."""
    if node.level == 0:
        return node.module or ""
    package = package_of(name).split(".")
    above = package[: len(package) - (node.level - 1)]
    return ".".join([*above, *([node.module] if node.module else [])])


def package_of(name: str) -> str:
    """Return the dotted name of the package that a file lies in."""
    for top, folder in FOLDERS.items():
        if name.startswith(f"{folder}/{top}/"):
            inside = name.removeprefix(f"{folder}/")
            return str(Path(inside).parent.as_posix()).replace("/", ".")
    return str(Path(name).parent.as_posix()).replace("/", ".")


def judge_module(root: Path, name: str, module: str) -> str | None:
    """Judge one dotted name by the room of its file, or as a library."""
    top = module.split(".")[0]
    if top in FOLDERS or top == "runs":
        return verdict(name, file_of(root, module), PYTHON_ROOMS)
    if top in sys.stdlib_module_names:
        return judge_standard_module(name, top, module)
    return library_verdict(name, top, PYTHON_ROOMS)


def judge_standard_module(name: str, top: str, module: str) -> str | None:
    """Judge a module of the standard library: pure rooms may not reach outside."""
    here = room_of(name, PYTHON_ROOMS)
    if here is not None and PYTHON_ROOMS[here].pure and top in IMPURE:
        return f"{name} ({here}) imports {module}, which reaches outside"
    return None


def file_of(root: Path, module: str) -> str:
    """Return the file or folder of a dotted name; names inside a module give that module."""
    parts = module.split(".")
    folder = [FOLDERS[parts[0]]] if parts[0] in FOLDERS else []
    while len(parts) > 1:
        base = "/".join([*folder, *parts])
        if (root / f"{base}.py").exists():
            return f"{base}.py"
        if (root / base).is_dir():
            return base
        parts.pop()
    return "/".join([*folder, *parts, "__init__.py"])


def impure_calls(name: str, tree: ast.AST) -> Iterator[str]:
    """Find calls in pure rooms that read a clock or a disk."""
    here = room_of(name, PYTHON_ROOMS)
    if here is None or not PYTHON_ROOMS[here].pure:
        return
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            called = getattr(node.func, "attr", None) or getattr(node.func, "id", None)
            if called in IMPURE_CALLS:
                yield f"{name} ({here}) calls {called}()"
