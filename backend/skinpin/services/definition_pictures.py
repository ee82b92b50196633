"""Pictures that the views of a definition name, and which of them are not on this server."""

from collections.abc import Iterator, Mapping
from typing import Any

from skinpin.domain.definition_trouble import Trouble
from skinpin.services.workshop import Workshop
from skinpin.storage.photographs import SHA256


def pictures_lacking(
    workshop: Workshop, definition: Mapping[str, Any]
) -> Iterator[tuple[int, str, str]]:
    """Return place, title and SHA-256 of each view whose picture is not in the store."""
    for place, view in _views(definition):
        sha256 = view["picture"].get("sha256")
        is_name = isinstance(sha256, str) and SHA256.fullmatch(sha256)
        if not is_name or not workshop.folder.exists(sha256):
            yield place, str(view.get("title", "")), str(sha256)


def _views(definition: Mapping[str, Any]) -> Iterator[tuple[int, Mapping[str, Any]]]:
    """Yield place and view where it has a picture; a file from outside may hold anything."""
    views = definition.get("views")
    for place, view in enumerate(views if isinstance(views, list) else ()):
        if isinstance(view, dict) and isinstance(view.get("picture"), dict):
            yield place, view


def picture_troubles(workshop: Workshop, definition: Mapping[str, Any]) -> Iterator[Trouble]:
    """Return why a definition may not be issued here: it would show drawings nobody has."""
    for place, title, _ in pictures_lacking(workshop, definition):
        message = f"The picture of “{title}” is not on this server."
        yield Trouble(f"views/{place}/picture", "no_picture_file", message, "Add the file again.")
