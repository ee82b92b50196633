"""A standard of acceptance made ready: its rows as functions, sorted by kind and material."""

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from skinpin.domain.errors import Refused
from skinpin.domain.grading_conditions import Judge, condition
from skinpin.domain.grading_figures import SHEETED, Values, figure_named, figures_in
from skinpin.domain.kinds import KINDS, MATERIALS, NOT_KNOWN

Standard = Mapping[str, Any]


class Row(NamedTuple):
    """A row of the standard, ready to judge.

    `strict` asks for measured figures that the row merely uses: it is asked while the grade is
    light, because a figure that was not measured must not read as light.
    """

    rule: str
    grade: int
    basis: Mapping[str, str]
    judge: Judge
    strict: Judge | None
    needs: tuple[str, ...]
    reads: tuple[str, ...]
    asks_cleaned: bool
    family: str | None
    gives_way_to: frozenset[str]
    by_depth: bool


class Sheet(NamedTuple):
    """The rows that may fire for one kind and material, and the figures they read."""

    rows: tuple[Row, ...]
    unlit: tuple[Row, ...]
    readers: tuple[tuple[str, Callable[[Values], int | None]], ...]
    excluding: bool
    hand_off: bool
    asks_cleaned: bool


class Compiled:
    """A standard with its sheets, made as they are asked for."""

    def __init__(self, standard: Standard) -> None:
        self.name = f"{standard['name']} issue {standard['issue']}"
        self.source = standard
        self._rows = [(row, compiled_row(row)) for row in standard["rows"]]
        named_kinds = {
            kind for row in standard["rows"] for kind in row["kinds"] if row["kinds"] != "any"
        }
        self._kinds = named_kinds | set(KINDS)
        self._sheets: dict[tuple[str, str], Sheet] = {}
        figures = {name for row in standard["rows"] for name in figures_in(row["when"])}
        named = {field for row in standard["rows"] for field in (*row["needs"], *row["uses"])}
        self.inputs = tuple(
            sorted(
                {"kind", "material", "cleaned"}
                | named
                | {field for name in figures for field in figure_named(name).fields}
            )
        )

    def sheet(self, kind: Any, material: Any) -> Sheet:
        """Return the sheet of a kind and material."""
        try:
            return self._sheets[kind, material]
        except (KeyError, TypeError):  # new, or no text at all
            return self._sheet_of(kind, material)

    def _sheet_of(self, kind: Any, material: Any) -> Sheet:
        # Kinds and materials unknown here share a sheet, so that sheets stay few.
        key = (
            kind if isinstance(kind, str) and kind in self._kinds else "",
            material if isinstance(material, str) and material in MATERIALS else NOT_KNOWN,
        )
        if key not in self._sheets:
            self._sheets[key] = self._new_sheet(*key)
        return self._sheets[key]

    def _new_sheet(self, kind: str, material: str) -> Sheet:
        chosen = [
            (row, ready)
            for row, ready in self._rows
            if row["kinds"] == "any" or kind in row["kinds"]
        ]
        rows = [
            ready
            for row, ready in chosen
            if row["material"] == "any" or material in row["material"]
        ]
        unlit = [
            ready._replace(needs=("material",))
            for row, ready in chosen
            if row["material"] != "any" and material == NOT_KNOWN
        ]
        names = {name for row, _ in chosen for name in figures_in(row["when"])}
        about = KINDS.get(kind, {})
        return Sheet(
            rows=tuple(rows),
            unlit=tuple(unlit),
            readers=tuple((name, figure_named(name).read) for name in sorted(names)),
            excluding=any(row.family or row.gives_way_to for row in rows),
            hand_off=about.get("hand_off", False),
            asks_cleaned="cleaned" in about.get("fields", ()),
        )


def compiled_row(row: Mapping[str, Any]) -> Row:
    """Return a row made ready to judge; what it holds is not looked at before."""
    measured = {
        field
        for name in figures_in(row["when"])
        if figure_named(name).measured
        for field in figure_named(name).needs
    }
    used = measured & set(row["uses"])
    figures = sorted(figures_in(row["when"]))
    reads = (*row["needs"], *row["uses"], *(f for one in figures for f in figure_named(one).fields))
    return Row(
        rule=row["rule"],
        grade=row["grade"],
        basis=row["basis"],
        judge=condition(row["when"], row["needs"]),
        strict=condition(row["when"], {*row["needs"], *used}) if used else None,
        needs=(*row["needs"], *(field for field in row["uses"] if field in used)),
        reads=tuple(dict.fromkeys(field for field in reads if field not in SHEETED)),
        asks_cleaned="depth" in measured and "cleaned" in row["needs"],
        family=row.get("family"),
        gives_way_to=frozenset(row.get("gives_way_to", ())),
        by_depth="depth" in measured,
    )


_KEPT: dict[int, Compiled] = {}
_MOST_KEPT = 16


def compile_standard(standard: Standard | Compiled) -> Compiled:
    """Return a standard made ready; the same document is made ready once.

    An issued standard never changes, so a document already seen is not read again.
    """
    if isinstance(standard, Compiled):
        return standard
    kept = _KEPT.get(id(standard))
    if kept is not None and kept.source is standard:
        return kept
    if len(_KEPT) >= _MOST_KEPT:
        _KEPT.clear()
    try:
        compiled = Compiled(standard)
    except (KeyError, TypeError, AttributeError, ValueError) as error:
        raise Refused(
            "not_a_standard",
            f"The standard can't be read: {error!r} in one of its rows.",
            "Compare it with an issued standard.",
        ) from error
    _KEPT[id(standard)] = compiled
    return compiled
