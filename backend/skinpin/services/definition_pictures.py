"""Pictures that the views of a definition name, and which of them are not on this server."""

from collections.abc import Iterator, Mapping
from typing import Any

from skinpin.domain.definition_trouble import Trouble
from skinpin.services.workshop import Workshop


def pictures_lacking(
    workshop: Workshop, definition: Mapping[str, Any]
) -> Iterator[tuple[int, str, str]]:
    """Return place, title and SHA-256 of each view whose picture is not in the store."""
    for place, view in enumerate(definition["views"]):
        sha256 = view.get("picture", {}).get("sha256")
        if sha256 is not None and not workshop.folder.exists(sha256):
            yield place, view["title"], sha256


def picture_troubles(workshop: Workshop, definition: Mapping[str, Any]) -> Iterator[Trouble]:
    """Return why a definition may not be issued here: it would show drawings nobody has."""
    for place, title, _ in pictures_lacking(workshop, definition):
        message = f"The picture of “{title}” is not on this server."
        yield Trouble(f"views/{place}/picture", "no_picture_file", message, "Add the file again.")
