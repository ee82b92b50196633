"""What a search asks of a row: its words, and where along its structure it lies."""

import re
from collections.abc import Mapping
from functools import cached_property
from typing import Any

from skinpin.domain.errors import Refused
from skinpin.domain.kinds import MATERIALS, kind_group
from skinpin.domain.place import Definition, strake_indexes, structure_of
from skinpin.domain.place_stations import bay_at, members_in_order, span_tenth_nm

BETWEEN = re.compile(r"[\x00-\x2f:-@\[-`{-\xa0·×±≤≥−\u2000-\u206f\u3000\ufeff]+")
"""What stands between words; everything else is a letter or a figure."""
TEXTS = (
    *("number", "kind_words", "kind", "part", "place_words", "station_text", "note", "tag"),
    *("disposition", "stage", "deciding", "state"),
)


def plain(text: str) -> str:
    """Return the words of a text in small letters, a space between them."""
    return BETWEEN.sub(" ", text.lower()).strip(" ")


class Sought:
    """A row as a search sees it; what few terms ask is worked out when they do."""

    def __init__(self, row: Mapping[str, Any], definition: Definition | None) -> None:
        self.row, self.definition = row, definition
        self.group = kind_group(row["kind"])

    @cached_property
    def text(self) -> str:
        """Return all words of the row, a space before each."""
        row = self.row
        texts = [row[field] for field in TEXTS]
        texts.append(MATERIALS.get(row["material"] or "", {}).get("label"))
        texts += row["also_numbers"]
        if self.definition is not None:
            zones = set(row["zones"])
            texts += [one["title"] for one in self.definition["zones"] if one["zone"] in zones]
        return " " + " ".join(plain(text) for text in texts if isinstance(text, str))

    @cached_property
    def along(self) -> tuple[int, int] | None:
        """Return the stations (0.1 nm) of the row's ends, or None where it has no place."""
        return self._asked(span_tenth_nm)  # type: ignore[no-any-return]

    @cached_property
    def strakes(self) -> tuple[int, int] | None:
        """Return the lower and upper strake of the row's place."""
        return self._asked(strake_indexes)  # type: ignore[no-any-return]

    @cached_property
    def bay(self) -> str | None:
        """Return the member at or before the row's station."""
        found = self._asked(lambda structure, place: structure)
        if found is None or self.along is None:
            return None
        at = bay_at(found, self.along[0])
        return None if at < 0 else str(members_in_order(found)[1][at]["name"])

    def _asked(self, ask: Any) -> Any:
        place = self.row["place"]
        if self.definition is None or not isinstance(place, dict):
            return None
        if not isinstance(place.get("strakes") or [], list):
            return None
        try:
            return ask(structure_of(self.definition, place), place)
        except (Refused, LookupError, TypeError, ValueError, AttributeError):
            # A place may hold anything: another tablet's version, or no place at all.
            return None
