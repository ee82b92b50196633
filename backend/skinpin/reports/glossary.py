"""The words that a report uses, explained in one line each."""

import re
from collections.abc import Iterable

WORDS = {
    "at least": "a figure is missing: the grade is this one or a worse one",
    "bay": "the space between two neighbouring frames or ribs",
    "cell": "one bay of one strake or part: the unit of looked at",
    "deferred": "put off to a stage or a date by a named authority, with a day to look again",
    "disposition": "what is to be done about a defect",
    "exfoliation": "corrosion that lifts the metal in layers along the grain",
    "filiform": "thread-like corrosion under paint",
    "fingerprint": "a SHA-256 over the values of a record that stand",
    "grade": "0 sound, 1 light, 2 moderate, 3 severe, 4 beyond limits; the corners of the mark "
    "count it",
    "hand": "port, starboard or centreline",
    "independent inspection": "a second person's, who did not do the work",
    "intergranular": "corrosion along the boundaries of the grains, which may not show outside",
    "live sightings": "all records but drafts, nil records, same as and raised in error",
    "loss": "depth in per cent of the thickness",
    "nil record": "a place looked at and found sound, with a record of its own",
    "not effective": "a rivet that is loose, working, corroded, tipped, sheared, missing or "
    "drilled out",
    "not electronically signed": "stamped by name and number, without a signature to check",
    "not looked at": "nobody has said that they saw it; hatched on the drawing",
    "not reached": "a rivet that could not be seen; neither sound nor bad",
    "offered for inspection": "the work is said to be done and waits to be looked at",
    "raised in error": "kept, but no defect",
    "re-inspected": "one person inspected twice, with a reason, where no second person was there",
    "same as": "a second sighting of a defect that has a number already",
    "stage": "a closing or a test that open defects stand in the way of",
    "stamp": "a person's mark over a list of entries",
    "standard of acceptance": "numbered, issued limits of the workshop, kept as rows",
    "station": "distance along a structure from its datum",
    "strake": "a line of plating or stringers along a structure",
    "two values": "two people wrote different figures; the worse counts until one is chosen",
    "unsigned": "nobody has put a stamp here",
    "working": "a rivet that moves in its hole",
    "zone": "a numbered area of the airframe",
}


def glossary_of(texts: Iterable[str]) -> list[list[str]]:
    """Return the words that occur in texts, with what they mean.

    >>> glossary_of(["no bays"])
    [['bay', 'the space between two neighbouring frames or ribs']]
    """
    told = "\n".join(texts).lower()
    return [
        [word, meaning]
        for word, meaning in WORDS.items()
        if re.search(rf"\b{re.escape(word)}(s|ped|d)?\b", told)
    ]
