"""The columns of the exports: what each holds, and of which sort it is."""

from collections.abc import Mapping

from skinpin.reports.defects_csv import COLUMNS, NUMERIC

DATES = frozenset(["raised_on", "cleared_on", "look_again_by"])
NUMBERS = NUMERIC | {"photographs"}

_MEANINGS: Mapping[str, str] = {
    "number": "tablet letter and four digits",
    "also_numbers": "numbers of the same defect's other sightings",
    "state": "where the record stands",
    "grade": "0 sound to 4 beyond limits",
    "grade_known": "yes where no figure is missing that could make it worse",
    "grade_words": "the grade as it is said, “at least” where a figure is missing",
    "deciding": "the rules that set the grade, with their reasons",
    "zone": "the zone of the place",
    "zones": "all zones it lies in",
    "place_words": "the place in words",
    "run": "rivets in a row that are not effective",
    "tag": "what is written on the tag at the metal",
    "part": "the part it is on",
    "leak": "weep or running",
    "station": "distance along the structure from its datum",
    "thickness": "thickness of the plate or part",
    "not_measured": (
        "figures answered “not measured”, only copied from another record and not measured here, "
        "or withdrawn since the scale of a photograph was struck"
    ),
    "uncertainty": (
        "figures with what they are sure to (±), twice the standard uncertainty; or “scale "
        "withdrawn”, where the scale of a photograph was struck: such a figure is no measurement"
    ),
    "two_values": "fields of which two values stand and nobody has chosen; left empty here",
    "deferred_to": "the stage or the date that it is put off to",
    "look_again_by": "the day by which a deferred record is to be looked at again",
    "raised_on": "the workshop's day of raising",
    "cleared_on": "the workshop's day of clearing",
    "stamps_hold": "yes where it was cleared and its stamps hold, no where one was overtaken",
    "overtaken": "which stamp was overtaken, why, and what to do",
    "photographs": "how many photographs belong to it",
    "record": "the record's id in the book",
    "wording": "what these records are, and are not",
}


def meaning_of(column: str) -> str:
    """Return what a column holds, its unit with it.

    >>> meaning_of("station_mm"), meaning_of("hand")
    ('distance along the structure from its datum, in mm', 'hand')
    """
    name, _, unit = column.rpartition("_")
    if unit in ("in", "mm") and name:
        return f"{_MEANINGS.get(name, name.replace('_', ' '))}, in {unit}"
    return _MEANINGS.get(column, column.replace("_", " "))


def sort_of(column: str) -> str:
    """Return the sort of a column: number, date or text."""
    return "number" if column in NUMBERS else "date" if column in DATES else "text"


def described() -> list[tuple[str, str, str]]:
    """Return every column with its sort and what it holds."""
    return [(column, sort_of(column), meaning_of(column)) for column in COLUMNS]
