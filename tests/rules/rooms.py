"""Who may import whom: the table of DEVELOPERS.md as data, for both languages."""

from typing import NamedTuple


class Room(NamedTuple):
    """A folder or file, the rooms it may import, and the libraries (None: any)."""

    path: str
    may_import: frozenset[str]
    libraries: frozenset[str] | None = None
    pure: bool = False


def room(path: str, may: str = "", libraries: str | None = None, *, pure: bool = False) -> Room:
    """Build a row from words set apart by spaces."""
    names = None if libraries is None else frozenset(libraries.split())
    return Room(path, frozenset(may.split()), names, pure)


EVERYTHING = "domain sync storage services imaging reports web settings"
APP = "backend/skinpin"
PYTHON_ROOMS = {
    "sync": room("sync/python/skinpin_sync", libraries="", pure=True),
    "domain": room(f"{APP}/domain", "sync", "numpy", pure=True),
    "storage": room(f"{APP}/storage", "domain sync"),
    "imaging": room(f"{APP}/imaging", "domain"),
    "reports": room(f"{APP}/reports", "domain"),
    "services": room(f"{APP}/services", "domain storage sync imaging reports"),
    "web": room(f"{APP}/web", "services domain"),
    "settings": room(f"{APP}/settings.py", "domain", ""),
    "cli": room(
        f"{APP}/cli.py",
        "services domain settings app cli_keeping cli_documents cli_joining cli_paper",
    ),
    "cli_documents": room(f"{APP}/cli_documents.py", "services domain settings app"),
    "cli_joining": room(f"{APP}/cli_joining.py", "services domain settings app"),
    "cli_paper": room(f"{APP}/cli_paper.py", "services domain settings app"),
    "cli_keeping": room(f"{APP}/cli_keeping.py", "services domain settings app"),
    "app": room(f"{APP}/app.py", EVERYTHING),
    "package": room(f"{APP}/__init__.py", libraries=""),
    "skinpin_demo": room("sample_data/skinpin_demo", "domain sync services settings app"),
    "runs": room("runs", libraries=""),
    "run": room("run.py", "runs", ""),
}
SCREEN = "frontend/src"
TYPESCRIPT_ROOMS = {
    "sync": room("sync/typescript", libraries="", pure=True),
    "domain": room(f"{SCREEN}/domain", "sync tables", "", pure=True),
    "tables": room(f"{APP}/domain/tables", libraries=""),
    "storage": room(f"{SCREEN}/storage", "domain sync", "idb"),
    "imaging": room(f"{SCREEN}/imaging", "domain", "js-aruco2"),
    "services": room(f"{SCREEN}/services", "domain storage sync imaging", ""),
    "screens": room(f"{SCREEN}/screens", "services domain furniture", "preact preact/hooks"),
    "furniture": room(f"{SCREEN}/furniture", "domain", "preact preact/hooks"),
    "offline": room(f"{SCREEN}/offline", libraries=""),
    "routes": room(f"{SCREEN}/routes.ts", libraries=""),
    "main": room(
        f"{SCREEN}/main.ts",
        "domain sync storage imaging services screens furniture offline routes",
        "preact",
    ),
}


def room_of(file: str, rooms: dict[str, Room]) -> str | None:
    """Return the room that a file lies in: the one with the longest path.

    TypeScript may write a file without its ending.
    """
    holds = [
        name
        for name, each in rooms.items()
        if f"{file}/".startswith(f"{each.path}/") or f"{file}.ts" == each.path
    ]
    return max(holds, key=lambda name: len(rooms[name].path), default=None)


def verdict(file: str, target: str, rooms: dict[str, Room]) -> str | None:
    """Return what is wrong with one file of the tree importing another, or nothing."""
    here, there = room_of(file, rooms), room_of(target, rooms)
    if here is None:
        return f"{file} lies in no room of the map"
    if there == here or there in rooms[here].may_import:
        return None
    return f"{file} ({here}) imports {target} ({there or 'no room'})"


def library_verdict(file: str, library: str, rooms: dict[str, Room]) -> str | None:
    """Return what is wrong with a file importing a library, or nothing."""
    here = room_of(file, rooms)
    if here is None:
        return f"{file} lies in no room of the map"
    allowed = rooms[here].libraries
    if allowed is None or library in allowed:
        return None
    return f"{file} ({here}) imports the library {library}"
