"""Zones of the Marram as half-open rules that leave no place of a structure without a zone."""

from typing import Any

# A rule is half-open, and the last point of a structure belongs to it: its end lies just past it.
_STERN = "412.001"
_TIP = "324.001"
_BANDS = [("0", "96"), ("96", "178"), ("178", "302"), ("302", _STERN)]
_BOTTOM = [0, 4]
_ABOVE = [4, 13]
_SPANS = ["stem–F8", "F8–F15", "F15–F24", "F24–F30"]
_BAYS = [7, 8, 9, 6]
_HANDS = [("P", 1, "port"), ("S", 2, "starboard"), ("C", 0, "centreline")]

# zone, title, structure, hand, cells: one structure, one zone.
_WHOLE = [
    ("310", "Fin and rudder", "Fin", "C", 7),
    ("310", "Fin and rudder", "Rudder", "C", 5),
    ("331", "Port tailplane and elevator", "Port tailplane", "P", 5),
    ("331", "Port tailplane and elevator", "Port elevator", "P", 5),
    ("332", "Starboard tailplane and elevator", "Starboard tailplane", "S", 5),
    ("332", "Starboard tailplane and elevator", "Starboard elevator", "S", 5),
    ("410", "Port nacelle", "Port nacelle", "P", 6),
    ("420", "Starboard nacelle", "Starboard nacelle", "S", 6),
    ("721", "Port tip float", "Port float", "P", 6),
    ("722", "Starboard tip float", "Starboard float", "S", 6),
    ("731", "Port main wheel and jack", "Alighting gear", "P", 2),
    ("732", "Starboard main wheel and jack", "Alighting gear", "S", 2),
]

_WHOLE_ENDS = {
    "Fin": ("60", "104.001"),
    "Rudder": ("46", "106.001"),
    "Port tailplane": ("0", "64.001"),
    "Starboard tailplane": ("0", "64.001"),
    "Port elevator": ("0", "64.001"),
    "Starboard elevator": ("0", "64.001"),
    "Port nacelle": ("0", "88.001"),
    "Starboard nacelle": ("0", "88.001"),
    "Port float": ("0", "90.001"),
    "Starboard float": ("0", "90.001"),
    "Alighting gear": ("0", "46.001"),
}


def zones() -> list[dict[str, Any]]:
    """Every zone rule of the airframe, in the order of zone numbers."""
    rules = [*_hull(), *_wings(), *_small()]
    return sorted(rules, key=lambda rule: rule["zone"])


def _hull() -> list[dict[str, Any]]:
    rules = []
    for tens, along in enumerate(_BANDS):
        for hand, last, word in _HANDS:
            rules.append(_bottom(tens, list(along), hand, last, word))
            rules.append(_above(tens, list(along), hand, last, word))
    return rules


def _bottom(tens: int, along: list[str], hand: str, last: int, word: str) -> dict[str, Any]:
    # Centreline cells are counted on the port and starboard sides of the keel.
    joint = ", " if tens == 0 else " "
    title = f"Hull bottom{joint}{_SPANS[tens]}, {word}" if last else f"Keel {_SPANS[tens]}"
    rule = _rule(f"1{tens + 1}{last}", title, "Hull", hand, along, _BOTTOM)
    return rule | ({"cells": 4 * _BAYS[tens]} if last else {})


def _above(tens: int, along: list[str], hand: str, last: int, word: str) -> dict[str, Any]:
    joint = ", " if tens == 0 else " "
    title = f"Side and deck{joint}{_SPANS[tens]}, {word}"
    title = title if last else f"Deck centreline {_SPANS[tens]}"
    rule = _rule(f"2{tens + 1}{last}", title, "Hull", hand, along, _ABOVE)
    return rule | ({"cells": 8 * _BAYS[tens]} if last else {})


def _wings() -> list[dict[str, Any]]:
    bands = [("0", "0", "24", "root", 0), ("1", "24", "74", "R1–R4", 12),
             ("2", "74", "218", "R4–R12", 32), ("3", "218", _TIP, "R12–tip", 24)]  # fmt: skip
    rules = []
    for hundred, hand, word in [("5", "P", "Port"), ("6", "S", "Starboard")]:
        for tens, start, end, span, cells in bands:
            name = f"{word} wing"
            rule = _rule(f"{hundred}{tens}0", f"{name} {span}", name, hand, [start, end], None)
            rules.append(rule | ({"cells": cells} if cells else {}))
    return rules


def _small() -> list[dict[str, Any]]:
    return [
        _rule(zone, title, structure, hand, list(_WHOLE_ENDS[structure]), None) | {"cells": cells}
        for zone, title, structure, hand, cells in _WHOLE
    ]


def _rule(
    zone: str, title: str, structure: str, hand: str, along: list[str], strakes: list[int] | None
) -> dict[str, Any]:
    return {
        "zone": zone,
        "title": title,
        "structure": structure,
        "hand": hand,
        "along": along,
        "strakes": strakes,
    }
