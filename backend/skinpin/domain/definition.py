"""The definition of an airframe: what is wrong with it, and the one form in which it is kept."""

from collections.abc import Iterator, Mapping
from typing import Any
from unicodedata import normalize

from skinpin.domain.calibration_kept import kept_troubles
from skinpin.domain.definition_members import names_twice, structure_troubles, tenth_nm
from skinpin.domain.definition_shape import MOST_TROUBLES, shape_troubles
from skinpin.domain.definition_trouble import REFUSED, Trouble
from skinpin.domain.definition_zones import (
    cells_in,
    count_cells,
    cover_troubles,
    zone_troubles,
    zone_words,
)
from skinpin.domain.odd_texts import odd_text

Definition = Mapping[str, Any]

__all__ = [
    "Trouble",
    "check",
    "count_cells",
    "kept_form",
    "spelt_out",
    "stands_in_the_way",
    "zone_words",
]


def check(definition: Any) -> list[Trouble]:
    """Return every trouble of a definition, each named by its path.

    What has another shape than the published schema is looked at no further, except that a
    structure whose own shape is right is looked at whatever is wrong elsewhere; what the zones
    cover is looked at once structures and zones are right by themselves.
    """
    troubles = shape_troubles(definition)
    if troubles:
        return [*troubles, *_whole_structures(definition, troubles)]
    troubles = _odd_texts(definition)
    if troubles:
        return troubles
    troubles = [*_own_troubles(definition), *_view_troubles(definition)]
    if not stands_in_the_way(troubles):
        troubles += cover_troubles(definition)
    return troubles


def _whole_structures(definition: Any, troubles: list[Trouble]) -> Iterator[Trouble]:
    """Return the troubles of each structure that no trouble of shape is about."""
    wrong = {one.at for one in troubles}
    if len(troubles) >= MOST_TROUBLES or wrong & {"", "structures"} or odd_text(definition):
        return
    for place, structure in enumerate(definition.get("structures", ())):
        at = f"structures/{place}"
        if not any(one == at or one.startswith(f"{at}/") for one in wrong):
            yield from structure_troubles(structure, at)


def _odd_texts(definition: Definition) -> list[Trouble]:
    odd = odd_text(definition)
    if not odd:
        return []
    return [Trouble("", "odd_text", f"The definition can't be kept: {odd}.", "Mend the text.")]


def stands_in_the_way(troubles: list[Trouble]) -> bool:
    """Say whether troubles keep a definition from being issued."""
    return any(one.weight == REFUSED for one in troubles)


def _own_troubles(definition: Definition) -> Iterator[Trouble]:
    names = [one["name"] for one in definition["structures"]]
    yield from names_twice(names, "structures", "structure")
    for place, structure in enumerate(definition["structures"]):
        yield from structure_troubles(structure, f"structures/{place}")
    off = [one["name"] for one in definition.get("off_aircraft", ())]
    yield from names_twice(off, "off_aircraft", "place off the aircraft")
    yield from zone_troubles(definition)


def _view_troubles(definition: Definition) -> Iterator[Trouble]:
    structures = {one["name"]: one for one in definition["structures"]}
    names = [one["name"] for one in definition["views"]]
    yield from names_twice(names, "views", "view")
    for place, view in enumerate(definition["views"]):
        at, structure = f"views/{place}", structures.get(view["structure"])
        if structure is None:
            message = f"“{view['name']}” shows {view['structure']}, and there is no such structure."
            hint = f"There are {', '.join(structures)}."
            yield Trouble(f"{at}/structure", "no_structure", message, hint)
            continue
        if view.get("hand", structure["hands"][0]) not in structure["hands"]:
            message = f"“{view['name']}” shows a hand that {structure['name']} has not."
            yield Trouble(f"{at}/hand", "no_hand", message, "Choose another hand.")
        if view.get("second") == "strake" and len(structure["strakes"]) < 2:
            message = f"“{view['name']}” goes by strakes, and {structure['name']} has none."
            yield Trouble(f"{at}/second", "no_strake", message, "Go by water lines.")
        yield from _calibration(view, structure, at)


def _calibration(
    view: Mapping[str, Any], structure: Mapping[str, Any], at: str
) -> Iterator[Trouble]:
    if "calibration" not in view or "second" not in view:
        return
    for one in kept_troubles(view, structure):
        message = f"“{view['name']}”: {one.message}"
        yield Trouble(f"{at}/calibration", one.code, message, one.hint, one.weight)


def kept_form(definition: Definition) -> dict[str, Any]:
    """Return a definition as it is kept: texts in NFC, whole numbers whole, members in order.

    Stringers of a structure without strakes become its lines too. The same again changes nothing.
    """
    form = _plain(definition)
    form["structures"] = [_structure_form(one) for one in form["structures"]]
    return form  # type: ignore[no-any-return]


def _structure_form(structure: dict[str, Any]) -> dict[str, Any]:
    unit = structure["unit"]
    members = sorted(structure["members"], key=lambda one: tenth_nm(one["station"], unit) or 0)
    strakes = structure["strakes"] or structure.get("stringers") or []
    return {**structure, "members": members, "strakes": strakes}


def _plain(value: Any) -> Any:
    if isinstance(value, str):
        return normalize("NFC", value)
    if isinstance(value, Mapping):
        return {normalize("NFC", name): _plain(one) for name, one in value.items()}
    if isinstance(value, list):
        return [_plain(one) for one in value]
    if isinstance(value, float) and value.is_integer():
        return int(value)
    return value


def spelt_out(definition: Definition) -> dict[str, Any]:
    """Return a definition in which nothing is left to be understood, for whoever draws it.

    Members say whether they are main; a zone of any hand is one rule a hand, with its range; cells
    are counted by the rules where no zone says how many it has. The keel line is counted in the
    cells beside it.
    """
    structures = {one["name"]: one for one in definition["structures"]}
    is_counted = any("cells" in one for one in definition["zones"])
    zones = []
    for zone in definition["zones"]:
        structure = structures.get(zone["structure"])
        sided = [hand for hand in structure["hands"] if hand != "C"] if structure else []
        any_hand = sided or (structure["hands"] if structure else [None])
        for hand in [zone["hand"]] if zone.get("hand") else any_hand:
            rule = {"along": None, "strakes": None, **zone, "hand": hand}
            rule["along"] = rule["along"] or [None, None]
            cells = 0 if is_counted or structure is None else cells_in(definition, rule)
            zones.append(rule | ({"cells": cells} if cells else {}))
    return {
        **definition,
        "structures": [*map(_spelt_structure, structures.values())],
        "zones": zones,
    }


def _spelt_structure(structure: Mapping[str, Any]) -> dict[str, Any]:
    members = [{"main": False, "kind": "", **member} for member in structure["members"]]
    return {"strakes": [], "plating": [], "faces": [], **structure, "members": members}
