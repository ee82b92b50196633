"""Checks of structures: their members in order, names that read back, stations that part them."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any

from skinpin.domain.definition_trouble import Trouble, said
from skinpin.domain.errors import Refused
from skinpin.domain.fields import read_table
from skinpin.domain.quantities import to_tenth_nm

Structure = Mapping[str, Any]
MATERIALS = read_table("materials.json")
GROUND = "ground"
FEW = 5


def structure_troubles(structure: Structure, at: str) -> Iterator[Trouble]:
    """Return what is wrong with a structure whose shape is right."""
    names = [member["name"] for member in structure["members"]]
    yield from _twice(names, f"{at}/members", "member", structure["name"])
    yield from _written(structure, at)
    for word in ("strakes", "faces", "hands", "stringers"):
        yield from _twice(structure.get(word) or [], f"{at}/{word}", word[:-1], structure["name"])
    yield from _stringers(structure, at)
    yield from _figures(structure, at)
    stations = _stations(structure)
    if None not in stations:
        yield from _stations_troubles(structure, at, [one for one in stations if one is not None])
    yield from _plates(structure, at)
    if not structure["datum"].strip():
        hint = f"Write where {structure['axis']} 0 lies, such as “4 in forward of the stem”."
        message = f"Nobody says where nought of {structure['name']} lies."
        yield said(f"{at}/datum", "no_datum", message, hint)


def _twice(names: Sequence[str], at: str, what: str, where: str) -> Iterator[Trouble]:
    """A name that another one has already; big and small letters are typed alike."""
    seen: dict[str, str] = {}
    for place, name in enumerate(names):
        key = name.casefold()
        if key in seen:
            message = f"{where} has two {what}s called {seen[key]}."
            hint = "Take one out, or give it another name."
            yield Trouble(f"{at}/{place}", "name_twice", message, hint)
        seen.setdefault(key, name)


def _written(structure: Structure, at: str) -> Iterator[Trouble]:
    """What the maker's book prints must not lead to another member than its own."""
    owners = {member["name"].casefold(): member["name"] for member in structure["members"]}
    for place, member in enumerate(structure["members"]):
        written = member.get("written")
        if written is None:
            continue
        owner = owners.setdefault(written.casefold(), member["name"])
        if owner != member["name"]:
            message = f"{written} is written for {member['name']} and means {owner} already."
            path = f"{at}/members/{place}/written"
            yield Trouble(path, "name_twice", message, "Write it at one member only.")


def _stringers(structure: Structure, at: str) -> Iterator[Trouble]:
    stringers, strakes = structure.get("stringers") or [], structure["strakes"]
    if stringers and strakes and stringers != strakes:
        message = f"{structure['name']} has strakes and other stringers."
        hint = "Name one set of lines; cells lie between its neighbours."
        yield Trouble(f"{at}/stringers", "two_sets_of_lines", message, hint)


def _figures(structure: Structure, at: str) -> Iterator[Trouble]:
    for place, member in enumerate(structure["members"]):
        for word in ("station", "upper_station", "thickness"):
            if word in member:
                path = f"{at}/members/{place}/{word}"
                yield from figure_troubles(member[word], structure["unit"], path)


def figure_troubles(figure: str, unit: str, at: str) -> Iterator[Trouble]:
    """Return what is wrong with a figure whose shape is right: finer than is kept."""
    try:
        to_tenth_nm({"value": figure, "unit": unit})
    except Refused as refused:
        yield Trouble(at, refused.code, refused.message, refused.hint)


def _stations(structure: Structure) -> list[int | None]:
    return [tenth_nm(member["station"], structure["unit"]) for member in structure["members"]]


def tenth_nm(figure: str, unit: str) -> int | None:
    """Return a figure in 0.1 nm, None where it is finer than that."""
    try:
        return to_tenth_nm({"value": figure, "unit": unit})
    except Refused:
        return None


def _stations_troubles(structure: Structure, at: str, stations: list[int]) -> Iterator[Trouble]:
    names = [member["name"] for member in structure["members"]]
    shown = f"{structure['axis']} {{}} {structure['unit']}"
    seen: dict[int, str] = {}
    for place, (name, station) in enumerate(zip(names, stations, strict=True)):
        if station in seen:
            where = shown.format(structure["members"][place]["station"])
            message = f"{seen[station]} and {name} both stand at {where}."
            hint = "A place must have one member before it: correct one of the stations."
            yield Trouble(f"{at}/members/{place}/station", "one_station", message, hint)
        seen.setdefault(station, name)
    turned = [names[place + 1] for place, (one, two) in enumerate(pairwise(stations)) if two < one]
    if turned:
        message = f"{structure['name']} is not typed in order of station: {_some(turned)}."
        hint = "The members are stored in order of station; their names stay."
        yield said(f"{at}/members", "out_of_order", message, hint)
    yield from _before_datum(structure, at)
    ordered = [member for _, member in _by_station(stations, structure["members"])]
    yield from _half_frames(structure, at, ordered)
    yield from _canted(structure, at, ordered)


def _by_station(stations: Iterable[int], members: Iterable[Any]) -> list[tuple[int, Any]]:
    return sorted(zip(stations, members, strict=True), key=lambda pair: pair[0])


def _before_datum(structure: Structure, at: str) -> Iterator[Trouble]:
    """CV-04: a water line below 0 is right with WL 0 at the nose tip, odd with WL 0 on the ground.

    Source: a repair manual of 1960 as restated (WL 0 at the nose tip, or a nominal ground plane).
    """
    before = [one for one in structure["members"] if one["station"].startswith("-")]
    if not before:
        return
    listed = _some([f"{one['name']} at {one['station'].replace('-', '−')}" for one in before])
    if GROUND in structure["datum"].casefold():
        message = f"{structure['name']} has members below the ground plane it is measured from: "
        hint = "Look at the datum and at the signs."
        yield said(f"{at}/members", "below_ground", f"{message}{listed}.", hint)
    elif structure["axis"] != "WL":
        message = f"{structure['name']} has members before its datum: {listed}."
        hint = "Right where the datum lies behind the first member; else look at the signs."
        yield said(f"{at}/members", "before_datum", message, hint)


def _half_frames(structure: Structure, at: str, ordered: Sequence[Any]) -> Iterator[Trouble]:
    for end in {id(ordered[0]): ordered[0], id(ordered[-1]): ordered[-1]}.values():
        if end["kind"] == "half frame":
            message = f"{end['name']}, a half frame, is an end of {structure['name']}."
            hint = "A half frame stands between two others; else call it a frame."
            yield said(f"{at}/members", "half_frame_at_end", message, hint)


def _canted(structure: Structure, at: str, ordered: Sequence[Any]) -> Iterator[Trouble]:
    unit = structure["unit"]
    for one, two in pairwise(ordered):
        if "upper_station" not in one and "upper_station" not in two:
            continue
        upper = [tenth_nm(each.get("upper_station", each["station"]), unit) for each in (one, two)]
        if None not in upper and upper[0] >= upper[1]:  # type: ignore[operator]
            message = f"{one['name']} and {two['name']} meet or cross before their upper edges."
            hint = "Look at the upper stations; places go by the lower ones."
            yield said(f"{at}/members", "canted_across", message, hint)


def _plates(structure: Structure, at: str) -> Iterator[Trouble]:
    last = len(structure["strakes"] or structure.get("stringers") or [])
    for word in ("plating", "parts"):
        for place, plate in enumerate(structure.get(word) or []):
            path = f"{at}/{word}/{place}"
            yield from range_troubles(plate.get("strakes"), last, path, structure["name"])
            yield from figure_troubles(plate["thickness"], structure["unit"], f"{path}/thickness")
            if plate["material"] not in MATERIALS:
                message = f"{plate['material']} of {plate['part']} is no known material."
                hint = (
                    f"Known are {', '.join(MATERIALS)}; others are graded by no row of their own."
                )
                yield said(f"{path}/material", "unknown_material", message, hint)


def range_troubles(
    strakes: Sequence[int] | None, last: int, at: str, where: str
) -> Iterator[Trouble]:
    """Return what is wrong with a half-open range of strake lines, `last` being their number."""
    if strakes is None:
        return
    if not 0 <= strakes[0] < strakes[1] <= last:
        has = f"{where} has {last} strakes" if last else f"{where} has no strakes"
        message = f"Strakes {strakes[0]} to {strakes[1]} are none: {has}."
        hint = "Give the first line and the one after the last, counted from 0."
        yield Trouble(f"{at}/strakes", "no_such_strakes", message, hint)


def _some(names: Sequence[str]) -> str:
    rest = f" and {len(names) - FEW} more" if len(names) > FEW else ""
    return ", ".join(names[:FEW]) + rest


def names_twice(names: Sequence[str], at: str, what: str) -> Iterator[Trouble]:
    """Return the names of a list that come twice."""
    for name, count in Counter(names).items():
        if count > 1:
            place = len(names) - 1 - names[::-1].index(name)
            message = f"Two {what}s are called {name}."
            yield Trouble(f"{at}/{place}", "name_twice", message, "Give one another name.")
