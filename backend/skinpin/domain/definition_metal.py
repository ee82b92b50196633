"""What a new issue of a definition would move on the metal: units, directions and stations."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Any

from skinpin.domain.definition_members import tenth_nm
from skinpin.domain.definition_trouble import Trouble, said
from skinpin.domain.quantities import TENTH_NM, rounded_text

Definition = Mapping[str, Any]
Structure = Mapping[str, Any]
MOST_NAMES = 12


def metal_troubles(
    before: Definition, after: Definition, named: Collection[str]
) -> Iterator[Trouble]:
    """Return what each structure that stays would move; `named` are those the book names.

    Unit and direction of one that is named stay: every record on it would lie elsewhere.
    """
    had = {one["name"]: one for one in before["structures"]}
    for place, structure in enumerate(after["structures"]):
        old, at = had.get(structure["name"]), f"structures/{place}"
        if old is None:
            continue
        if structure["name"] in named:
            yield from _measured_otherwise(old, structure, at)
        yield from _stations_told(old, structure, at)


def _measured_otherwise(old: Structure, new: Structure, at: str) -> Iterator[Trouble]:
    name, hint = new["name"], "Describe a new structure instead."
    if old["unit"] != new["unit"]:
        message = f"{name} is measured in {old['unit']}; records stand on it."
        yield Trouble(f"{at}/unit", "unit_stays", message, hint)
    if old["positive"].casefold() != new["positive"].casefold():
        message = f"Stations of {name} count {old['positive']}; records stand on it."
        yield Trouble(f"{at}/positive", "direction_stays", message, hint)


def _stations_told(old: Structure, new: Structure, at: str) -> Iterator[Trouble]:
    shifts, unit = _shifts(old, new), new["unit"]
    if _is_datum(shifts):
        shift = rounded_text(next(iter(shifts.values())), TENTH_NM[unit], 3)
        shift = shift.rstrip("0").rstrip(".")
        sign = "−" if shift.startswith("-") else "+"
        by = f"{sign}{shift.lstrip('-')} {unit}"
        message = f"The datum of {new['name']} moves: every station is {by}."
        hint = "Records keep member and distance; only their stations read anew."
        yield said(f"{at}/datum", "datum_moved", message, hint)
    elif names := [name for name, shift in shifts.items() if shift]:
        message = f"Members of {new['name']} stand at other stations: {_listed(names, old, new)}."
        hint = "Records go with their members. Look at each that is described anew."
        yield said(f"{at}/members", "stations_changed", message, hint)


def _shifts(old: Structure, new: Structure) -> dict[str, int]:
    """Return by how much (0.1 nm) each member that stays is shifted; none in another unit."""
    unit = new["unit"]
    if old["unit"] != unit:
        return {}
    had = {one["name"]: tenth_nm(one["station"], unit) or 0 for one in old["members"]}
    return {
        one["name"]: (tenth_nm(one["station"], unit) or 0) - had[one["name"]]
        for one in new["members"]
        if one["name"] in had
    }


def _is_datum(shifts: Mapping[str, int]) -> bool:
    """Say whether all are shifted alike: then the datum moved, and nothing on the metal."""
    return len(shifts) > 1 and len(set(shifts.values())) == 1 and 0 not in shifts.values()


def _listed(names: Sequence[str], old: Structure, new: Structure) -> str:
    was, now = ({one["name"]: one["station"] for one in each["members"]} for each in (old, new))
    told = [f"{name} from {was[name]} to {now[name]}" for name in names[:MOST_NAMES]]
    rest = len(names) - MOST_NAMES
    return ", ".join(told) + (f" and {rest} more" if rest > 0 else "")


def members_shifted(before: Definition, after: Definition) -> set[tuple[str, str]]:
    """Return structure and member of each that stands elsewhere on the metal than before."""
    had = {one["name"]: one for one in before["structures"]}
    found = set()
    for new in after["structures"]:
        shifts = _shifts(had[new["name"]], new) if new["name"] in had else {}
        if not _is_datum(shifts):
            found |= {(new["name"], name) for name, shift in shifts.items() if shift}
    return found
