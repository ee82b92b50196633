"""The built web app: its files, and its one page for every address of a screen."""

import re
from pathlib import Path

from fastapi import APIRouter
from fastapi.responses import FileResponse
from starlette.exceptions import HTTPException

STATIC = Path(__file__).parent / "static"
FOR_EVER = "public, max-age=31536000, immutable"
ASK_AGAIN = "no-cache"
SCRIPT = re.compile(r"<script[^>]* src=\"/assets/[\w-]*?-([\w-]+)\.js\"")


def page_routes(static: Path = STATIC) -> APIRouter:
    """Return the routes of everything that is no /api address."""
    router = APIRouter()

    @router.api_route("/{path:path}", methods=["GET", "HEAD"], include_in_schema=False)
    def get_page(path: str) -> FileResponse:
        """Hand out a file of the app, or the page for the address of a screen."""
        file = find_page(static, path)
        if file is None:
            raise HTTPException(404)
        hashed = file.parent.name == "assets"
        return FileResponse(file, headers={"Cache-Control": FOR_EVER if hashed else ASK_AGAIN})

    return router


def build_name(static: Path) -> str | None:
    """Return the name of the build that is handed out, as its first script is called."""
    page = static / "index.html"
    found = SCRIPT.search(page.read_text("utf-8")) if page.is_file() else None
    return found[1] if found else None


def find_page(static: Path, path: str) -> Path | None:
    """Return the file for an address: itself, or the page where the name has no ending."""
    root = static.resolve()
    if path == "api" or path.startswith("api/") or "\0" in path:
        return None
    file = (root / path).resolve()
    if file.is_relative_to(root) and _is_file(file):
        return file
    page = root / "index.html"
    is_screen = "." not in path.rsplit("/", 1)[-1]
    return page if is_screen and page.is_file() else None


def _is_file(file: Path) -> bool:
    try:
        return file.is_file()
    except OSError:  # a name longer than any file's
        return False
