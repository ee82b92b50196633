"""Members as they are typed, pasted or kept in CSV: lines in, members or troubles out."""

import csv
import re
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple
from unicodedata import normalize

from skinpin.domain.definition_shape import SCHEMA
from skinpin.domain.errors import Refused
from skinpin.domain.quantities import TENTH_NM, parse_typed

MOST_LINES = 2000
COLUMNS = {
    "name": ("name", "member", "frame", "rib", "number", "no", "no."),
    "kind": ("kind", "type"),
    "station": ("station", "sta", "lower station", "keel station", "x", "fs", "ws", "wl", "bl"),
    "main": ("main",),
    "upper_station": ("upper station", "upper_station", "upper", "deck station"),
    "thickness": ("thickness", "gauge"),
    "written": ("written", "as written"),
    "added": ("added", "added by repair"),
}
YES = ("yes", "y", "x", "main", "true")
NO = ("", "no", "n", "-", "–", "false")
FIGURE = re.compile(r"[+-]?(?:\d+(?:[.,]\d+)?|[.,]\d+)(?:\s*(?:in|mm|\"))?", re.IGNORECASE)
UNIT = re.compile(r"\s*(in|mm|\")$", re.IGNORECASE)
NAME = re.compile(SCHEMA["$defs"]["name"]["pattern"])
USUAL_KIND = "frame"


class LineTrouble(NamedTuple):
    """What is wrong in one line, counted from 1; `column` is "" where the line itself is meant."""

    line: int
    column: str
    message: str


class _Wrong(Exception):
    def __init__(self, column: str, message: str) -> None:
        super().__init__(message)
        self.column, self.message = column, message


def read_members(text: str, unit: str) -> tuple[list[dict[str, Any]], list[LineTrouble]]:
    """Return the members that were typed, in their order, and what is wrong line by line.

    Columns are parted by tabs, semicolons or commas, the same in every line, else by spaces; with
    a line of headings they may come in any order, without one name, kind, station, main and upper
    station, of which kind, main and upper station may be left out. A decimal comma is read where
    commas do not part columns.
    """
    if unit not in TENTH_NM:
        raise Refused("wrong_shape", f"The unit is '{unit[:20]}'.", "Choose 'in' or 'mm'.")
    lines = text.lstrip("\N{BYTE ORDER MARK}").splitlines()
    if len(lines) > MOST_LINES:
        message = f"{len(lines)} lines were typed; at most {MOST_LINES} are read at once."
        raise Refused("too_large", message, "Read them in several steps.")
    parted = _Parted(lines)
    headings: list[str] | None = None
    members: list[dict[str, Any]] = []
    troubles: list[LineTrouble] = []
    seen = _Seen()
    is_first = True
    for at, line in enumerate((line.replace("\N{MINUS SIGN}", "-") for line in lines), 1):
        cells = parted.cells(line)
        if not any(cells):
            continue
        try:
            if is_first and (headings := _headings(cells)):
                continue
            typed = _by_heading(headings, cells) if headings else _by_order(cells, parted)
            member = _member(typed, unit)
            seen.note(at, member)
            members.append(member)
        except _Wrong as wrong:
            troubles.append(LineTrouble(at, wrong.column, wrong.message))
        finally:
            is_first = False
    return members, troubles


class _Parted:
    """How a text parts its columns."""

    def __init__(self, lines: Sequence[str]) -> None:
        self.by = next((mark for mark in "\t;," if any(mark in line for line in lines)), " ")
        if self.by == "," and not any(_is_listed(line) for line in lines if line.strip()):
            self.by = " "

    def cells(self, line: str) -> list[str]:
        if self.by == " ":
            return _words(line)
        rows = list(csv.reader([line], delimiter=self.by))
        return [normalize("NFC", cell.strip()) for cell in rows[0]] if rows else []


def _words(line: str) -> list[str]:
    """Return the words of a line, a unit with its figure and the words of a kind together."""
    joined: list[str] = []
    for word in normalize("NFC", line).split():
        is_unit = bool(joined) and bool(UNIT.fullmatch(word)) and bool(FIGURE.fullmatch(joined[-1]))
        if is_unit or (len(joined) > 1 and _is_kind(joined[-1]) and _is_kind(word)):
            joined[-1] += f" {word}"
        else:
            joined.append(word)
    return joined


def _is_kind(word: str) -> bool:
    return not FIGURE.fullmatch(word) and word.casefold() not in (*YES, *NO)


def _is_listed(line: str) -> bool:
    """Say whether a comma of a line parts columns: "F1 8,5" has a decimal comma and no other."""
    return bool(re.search(r",(?!\d)|(?<!\d),|^[^\s,]*,", line.strip()))


def _headings(cells: Sequence[str]) -> list[str] | None:
    """Return the columns that a first line names; None where it is no line of headings."""
    words = [cell.casefold() for cell in cells]
    known = {word: name for name, words in COLUMNS.items() for word in words}
    named = [known.get(re.sub(r"\s*\(.*\)$|,? (in|mm)$", "", word), "") for word in words]
    if not {"name", "station"} <= set(named):
        return None
    for cell, name in zip(cells, named, strict=True):
        if not name and cell:
            raise _Wrong("", f"“{cell[:40]}” is no known heading: {', '.join(COLUMNS)}.")
        if name and named.count(name) > 1:
            raise _Wrong(name, f"Two headings mean {name.replace('_', ' ')}.")
    return named


def _by_heading(headings: Sequence[str], cells: Sequence[str]) -> dict[str, str]:
    if len(cells) > len(headings) and any(cells[len(headings) :]):
        raise _Wrong("", f"The line has {len(cells)} columns; the headings are {len(headings)}.")
    return {name: cell for name, cell in zip(headings, cells, strict=False) if name}


def _by_order(cells: Sequence[str], parted: _Parted) -> dict[str, str]:
    """Return what the cells of a line without headings are, told apart by what they hold."""
    typed = {"name": cells[0]}
    for cell in cells[1:]:
        word = _meant(cell, typed)
        if word is None:
            continue
        if word in typed:
            raise _Wrong(word, f"“{cell[:40]}” is one cell too many.")
        typed[word] = cell
    if "station" not in typed:
        _need_no_odd_figure(cells)
    stations = [typed.get("station", ""), typed.get("upper_station", "")]
    if parted.by == "," and all(stations) and not any({*".,"} & {*one} for one in stations):
        both = ",".join(stations)
        message = f"“{both}” may be one figure or two stations."
        raise _Wrong("station", f"{message} Part the columns with semicolons, or write points.")
    return typed


def _need_no_odd_figure(cells: Sequence[str]) -> None:
    """Tell of a station that was typed and can't be read, such as 118O."""
    for word in " ".join(cells[1:]).split():
        if any(letter.isdigit() for letter in word):
            message = (
                f"“{word[:40]}” is no figure: {cells[0][:60]} has no station that can be read."
            )
            raise _Wrong("station", message)


def _meant(cell: str, typed: Mapping[str, str]) -> str | None:
    if FIGURE.fullmatch(cell):
        return "upper_station" if "station" in typed else "station"
    if cell.casefold() in YES:
        return "main"
    return None if cell.casefold() in NO else "kind"


def _member(typed: Mapping[str, str], unit: str) -> dict[str, Any]:
    name = _name(typed.get("name", ""), "name")
    kind = typed.get("kind") or USUAL_KIND
    if len(kind) > SCHEMA["$defs"]["text"]["maxLength"]:
        raise _Wrong("kind", "The kind is too long.")
    member: dict[str, Any] = {
        "name": name,
        "kind": kind,
        "station": _figure(typed, "station", unit),
    }
    if _is_yes(typed, "main"):
        member["main"] = True
    if typed.get("upper_station"):
        member["upper_station"] = _figure(typed, "upper_station", unit)
    if typed.get("thickness"):
        member["thickness"] = _figure(typed, "thickness", unit)
        if not member["thickness"].strip("0.") or member["thickness"].startswith("-"):
            raise _Wrong("thickness", "A thickness is more than nought.")
    if typed.get("written"):
        member["written"] = _name(typed["written"], "written")
    if _is_yes(typed, "added"):
        member["added"] = "by repair"
    return member


def _name(text: str, column: str) -> str:
    if not text:
        raise _Wrong(column, "The line has no name.")
    if not NAME.fullmatch(text) or len(text) > SCHEMA["$defs"]["name"]["maxLength"]:
        raise _Wrong(column, f"“{text[:40]}” is no name: at most 60 characters, without + and ·.")
    return text


def _figure(typed: Mapping[str, str], column: str, unit: str) -> str:
    text = typed.get(column, "")
    if not text:
        raise _Wrong(column, f"{typed.get('name', '')} has no {column.replace('_', ' ')}.")
    named = UNIT.search(text)
    if named and named[1].casefold().replace('"', "in") != unit:
        raise _Wrong(column, f"“{text[:40]}” is in {named[1]}; the structure is in {unit}.")
    try:
        bare = UNIT.sub("", text).lstrip("+").strip()
        return parse_typed(bare, unit, signed=True)["value"]
    except Refused as refused:
        raise _Wrong(column, refused.message) from refused


def _is_yes(typed: Mapping[str, str], column: str) -> bool:
    text = typed.get(column, "").casefold()
    if text in NO or text == "original":
        return False
    if text in YES or text == "by repair":
        return True
    raise _Wrong(column, f"“{text[:40]}” is neither yes nor no.")


class _Seen:
    """The names and stations of the lines before."""

    def __init__(self) -> None:
        self.lines: dict[tuple[str, str], int] = {}

    def note(self, at: int, member: Mapping[str, Any]) -> None:
        """Keep a member's name and station, or tell of the line that has one of them."""
        station = re.sub(r"\.0*$|(\.\d*?)0+$", r"\1", member["station"])
        keys = {"name": member["name"].casefold(), "station": station}
        for column, key in keys.items():
            if (column, key) in self.lines:
                line = self.lines[column, key]
                raise _Wrong(column, f"{member[column]} stands in line {line} already.")
        self.lines |= dict.fromkeys(keys.items(), at)
