"""What was looked at and what was not: the cells of a zone, drawn as a shell expansion."""

from collections.abc import Collection, Mapping, Sequence
from typing import Any

from skinpin.reports.drawing import Item, forward_arrow, line, text
from skinpin.reports.lettering import width_mm
from skinpin.reports.mark_places import (
    Box,
    Point,
    around,
    leader_end,
    rooms_for,
    spread,
)
from skinpin.reports.marks import mark
from skinpin.reports.not_looked_at import hatch_key, hatched_cells
from skinpin.reports.svg import INK, circle

_WIDTH, _TOP = 88.0, 11.5
Cell = tuple[Any, Any]


class Grid:
    """The bays and strakes of a zone rule."""

    def __init__(self, definition: Mapping[str, Any], rule: Mapping[str, Any]) -> None:
        structure = next(s for s in definition["structures"] if s["name"] == rule["structure"])
        start, end = (None if end is None else float(end) for end in rule["along"])
        self.hand, self.structure, self.rule = rule["hand"], rule["structure"], rule
        self.members = [
            member
            for member in structure["members"]
            if (start is None or float(member["station"]) >= start)
            and (end is None or float(member["station"]) <= end)
        ]
        self.lines = self._lines(structure)
        self.is_shell = bool(structure["strakes"])
        self.runs_aft = structure.get("positive") == "aft"
        self._all_members = [member["name"] for member in structure["members"]]
        self._all_strakes = list(structure["strakes"] or [])
        self._wanted = set(self.cells())

    def _lines(self, structure: Mapping[str, Any]) -> list[str]:
        if structure["strakes"] and self.rule["strakes"]:
            low, high = self.rule["strakes"]
            return list(structure["strakes"][low : high + 1])
        return list(structure["strakes"] or structure["faces"] or [structure["name"]])

    def bays(self) -> list[tuple[str, str]]:
        """Return the bays, as pairs of member names."""
        names = [member["name"] for member in self.members]
        return list(zip(names, names[1:], strict=False))

    def rows(self) -> list[tuple[str, str]]:
        """Return the rows of cells: between strakes, or the faces of a structure without."""
        if self.is_shell:
            return list(zip(self.lines, self.lines[1:], strict=False))
        return [(name, name) for name in self.lines]

    def cells(self) -> list[tuple[tuple[str, str], tuple[str, str]]]:
        """Return every cell as bay and row."""
        return [(bay, row) for bay in self.bays() for row in self.rows()]

    def cells_in(self, cell: Mapping[str, Any]) -> list[tuple[Any, Any]]:
        """Return the cells of this zone that a look speaks of: it may take several in at once."""
        if cell.get("structure") != self.structure or cell.get("hand") != self.hand:
            return []
        name = str(cell.get("face") or self.structure)
        rows = _pairs(self._all_strakes, cell.get("strakes")) if self.is_shell else [(name, name)]
        bays = _pairs(self._all_members, cell.get("bay"))
        return [(bay, row) for bay in bays for row in rows if (bay, row) in self._wanted]

    def cell_of_row(self, row: Mapping[str, Any]) -> tuple[Any, Any] | None:
        """Return the cell that a record lies in, by its forward end and lower strake."""
        if row["structure"] != self.structure or row["hand"] != self.hand:
            return None
        station = float(row["station"])
        before = [member for member in self.members if float(member["station"]) <= station]
        at = len(before) - 1
        strake = (row.get("strakes") or [None])[0] if self.is_shell else row.get("face")
        found = [
            (bay, each)
            for bay in self.bays()[at : at + 1]
            for each in self.rows()
            if each[0] == (strake or self.structure)
        ]
        return found[0] if at >= 0 and found else None

    def reaches(self, cell: Mapping[str, Any]) -> bool:
        """Say whether a look lies in this zone; one at a bay alone counts for none of its faces."""
        if self.is_shell or cell.get("face"):
            return bool(self.cells_in(cell))
        return any(self.cells_in({**cell, "face": face}) for face in self.lines)


def _pairs(names: Sequence[str], ends: Any) -> list[tuple[str, str]]:
    """Return neighbours from the first end to the last; none where an end is unknown."""
    if not isinstance(ends, list | tuple) or len(ends) != 2 or not {*ends} <= {*names}:
        return []
    first, last = (names.index(end) for end in ends)
    part = names[first : last + 1]
    return list(zip(part, part[1:], strict=False))


def looked_at(
    grid: Grid, coverage: Sequence[Mapping[str, Any]]
) -> tuple[set[tuple[Any, Any]], dict[tuple[Any, Any], str]]:
    """Return the cells looked at in any survey, and why the others were not."""
    seen: set[Any] = set()
    why: dict[Any, str] = {}
    for each in coverage:
        cells = grid.cells_in(each["cell"])
        if each.get("looked_at"):
            seen.update(cells)
        elif each.get("blocked"):
            why |= dict.fromkeys(cells, str(each["blocked"]))
    return seen, {key: why[key] for key in why if key not in seen}


def looks_of(
    grid: Grid, coverage: Sequence[Mapping[str, Any]]
) -> dict[str, list[Mapping[str, Any]]]:
    """Return the looks that lie in a zone, by survey."""
    found: dict[str, list[Mapping[str, Any]]] = {}
    for each in coverage:
        if grid.reaches(each["cell"]):
            found.setdefault(str(each["survey"]), []).append(each)
    return found


def cells_drawing(
    grid: Grid,
    seen: Collection[Cell],
    rows: Sequence[Mapping[str, Any]],
    aside: str,
    blocked: Collection[Cell] = (),
) -> dict[str, Any]:
    """Return the drawing of a zone's cells with the marks of its records.

    A cell is hatched unless it was `seen`, and crossed where it is `blocked`.
    """
    pad = (2 if grid.is_shell else 5) + 1.8 * max(len(name) for name in grid.lines)
    left, right = min(pad, 30.0), _WIDTH - 4
    row_mm = max(5.0, min(8.4, 36 / len(grid.rows())))
    sheet = _Sheet(grid, left, right, row_mm)
    height = sheet.bottom + (9.5 if grid.is_shell else 6)
    places = sheet.places(rows)
    drawn_at = sheet.drawn_at(places)
    plain, stopped = sheet.unseen(seen, blocked)
    hatched, words = hatched_cells(plain, stopped, [around(*at) for at in drawn_at])
    key = hatch_key(0, height + 3.6, plain, stopped)
    items = [
        *_title(grid),
        *hatched,
        *sheet.lines(),
        *sheet.marks(rows, places, drawn_at, words),
        text(right + 4, height - 0.5, aside, size=8.5, anchor="end", colour="ink2"),
        *key,
    ]
    return {"width": _WIDTH, "height": height + (4.4 if key else 0), "items": items}


def _title(grid: Grid) -> list[Item]:
    words = "SHELL EXPANSION, SEEN FROM OUTSIDE" if grid.is_shell else f"CELLS OF {grid.structure}"
    arrow = forward_arrow(_WIDTH - 18.5, 2.6) if grid.runs_aft else []
    return [text(0, 3.7, words.upper(), size=8.6, bold=True), *arrow]


class _Sheet:
    """Where members and strakes lie on paper."""

    def __init__(self, grid: Grid, left: float, right: float, row_mm: float) -> None:
        self.grid, self.left, self.right, self.row_mm = grid, left, right, row_mm
        stations = [float(member["station"]) for member in grid.members]
        self.first, self.span = stations[0], max(stations[-1] - stations[0], 1e-9)
        self.bottom = _TOP + row_mm * len(grid.rows())

    def x(self, station: float) -> float:
        return self.left + (station - self.first) / self.span * (self.right - self.left)

    def y(self, strake: float) -> float:
        """Port has the keel below, starboard above, as on the shell expansion."""
        up = self.grid.is_shell and self.grid.hand != "S"
        return self.bottom - strake * self.row_mm if up else _TOP + strake * self.row_mm

    def lines(self) -> list[Item]:
        items = []
        heavy = {"K", "C", "G", "CL"}
        count = len(self.grid.rows())
        for i in range(count + 1):
            name = self.grid.lines[i] if i < len(self.grid.lines) else ""
            weight = "medium" if not self.grid.is_shell or name in heavy else "thin"
            items.append(line([(self.left - 1, self.y(i)), (self.right + 1, self.y(i))], weight))
        step = 0.0 if self.grid.is_shell else 0.5
        for i, name in enumerate(self.grid.lines):
            y = self.y(i + step) + 1.1
            items.append(
                text(
                    self.left - (2 if self.grid.is_shell else 4.5),
                    y,
                    name,
                    size=9,
                    anchor="end",
                    bold=True,
                    colour="draw",
                )
            )
        return items + self._members()

    def _members(self) -> list[Item]:
        items, free = [], -99.0
        for member in self.grid.members:
            x = self.x(float(member["station"]))
            weight = "medium" if member["main"] else "thin"
            kind = "hidden" if member["kind"] == "half frame" else "full"
            items.append(line([(x, _TOP - 1.5), (x, self.bottom + 1.5)], weight, kind))
            wide = width_mm(member["name"], 9, bold=True)
            if x - wide / 2 >= free + 1:
                items.append(
                    text(x, _TOP - 2.4, member["name"], size=9, anchor="middle", bold=True)
                )
                station = text(x, self.bottom + 4.6, member["station"], size=8.3, anchor="middle")
                items += [station] if self.grid.is_shell else []
                free = x + max(wide / 2, 3.0)
        return items

    def unseen(self, seen: Collection[Cell], blocked: Collection[Cell]) -> tuple[list[Box], ...]:
        """Return where the cells lie that nobody looked at, then those that nobody could."""
        stations = {m["name"]: float(m["station"]) for m in self.grid.members}
        plain: list[Box] = []
        stopped: list[Box] = []
        for bay in self.grid.bays():
            left, right = self.x(stations[bay[0]]), self.x(stations[bay[1]])
            for i, row in enumerate(self.grid.rows()):
                if (bay, row) not in seen:
                    low, high = sorted((self.y(i), self.y(i + 1)))
                    boxes = stopped if (bay, row) in blocked else plain
                    boxes.append((left, low, right, high))
        return plain, stopped

    def places(self, rows: Sequence[Mapping[str, Any]]) -> list[Point]:
        """Return the true place of every record on paper."""
        return [
            (
                min(max(self.x(float(row["station"])), self.left), self.right),
                self.y(_middle(row, self.grid)),
            )
            for row in rows
        ]

    def drawn_at(self, places: Sequence[Point]) -> list[Point]:
        """Return where their marks are drawn."""
        return spread(places, _TOP + 1, self.bottom - 1)

    def marks(
        self,
        rows: Sequence[Mapping[str, Any]],
        places: Sequence[Point],
        drawn_at: Sequence[Point],
        words: Sequence[Box],
    ) -> list[Item]:
        """Every record on its station, with its words; on a leader where it is off its place."""
        items: list[Item] = []
        bounds = (self.left - 2, _TOP - 2.2, _WIDTH + 0.5, self.bottom + 3)
        off = [_along(*each) for each in zip(places, drawn_at, strict=True)]
        taken = [*(around(*at) for at in drawn_at), *filter(None, off), *words]
        wides = [_label_wide(row) for row in rows]
        rooms = rooms_for(drawn_at, wides, taken, bounds)
        for row, true, at, room, wide in zip(rows, places, drawn_at, rooms, wides, strict=True):
            if room:
                items += _label(row, at, *room, wide)
            items += _off_place(true, at)
            items.append({"what": "mark", "x": at[0], "y": at[1], "size": 6.0,
                          "mark": mark(dict(row))})  # fmt: skip
        return items


def _along(true: Point, at: Point) -> Box | None:
    """Return what the leader from a mark to its place covers."""
    low, high = sorted((true[1], at[1]))
    return None if true == at else (true[0] - 0.7, low - 0.7, true[0] + 0.7, high + 0.7)


def _off_place(true: Point, at: Point) -> list[Item]:
    """Return the leader from a mark to the place it is of, with a dot there."""
    if true == at:
        return []
    dot = circle(true[0], true[1], 0.6, INK, 0.18, INK)
    return [line([true, at], "thin", colour="ink"), {"what": "shape", "svg": dot}]


def _label_wide(row: Mapping[str, Any]) -> float:
    number, grade = width_mm(row["number"], 9, bold=True), width_mm(row["grade_words"], 8.3)
    return max(number, grade, 14.0) + 1.0


def _label(row: Mapping[str, Any], place: Point, left: float, at: float, wide: float) -> list[Item]:
    right = left + wide - 0.2
    ground = [(left, at - 3.2), (right, at - 3.2), (right, at + 4), (left, at + 4)]
    return [
        line([place, leader_end(place, left, at, wide)], "thin", colour="ink"),
        line(ground, "thin", colour="white", closed=True, fill="white"),
        text(left + 0.5, at - 0.2, row["number"], size=9, bold=True),
        text(left + 0.5, at + 3.4, row["grade_words"], size=8.3),
    ]


def _middle(row: Mapping[str, Any], grid: Grid) -> float:
    """Return the strake index half way over a record, counted within the zone."""
    if not grid.is_shell:
        face = row.get("face")
        return grid.lines.index(face) + 0.5 if face in grid.lines else len(grid.rows()) / 2
    names = [name for name in (row.get("strakes") or ()) if name in grid.lines]
    if not names:
        return len(grid.rows()) / 2
    return sum(grid.lines.index(name) for name in names) / len(names)
