"""Who may set which field and make which move: readings of the two tables."""

from collections.abc import Collection, Mapping
from typing import Any

from .fields import field_of, read_table

Row = Mapping[str, Any]
MOVES: tuple[Row, ...] = tuple(read_table("moves.json"))
STATES = (
    *("Draft", "Raised", "Assessed", "In work", "Offered"),
    *("Cleared", "Deferred", "Same as", "Raised in error"),
)


def may_set(role: str, kind: str, field: str) -> bool:
    """Say whether a role may set a field; anybody may set a field unknown here.

    >>> may_set("fitter", "defect", "depth"), may_set("fitter", "defect", "disposition")
    (True, False)
    """
    row = field_of(kind, field)
    return row is None or row["set_by"] == "any" or role in row["set_by"]


def may_move(role: str, move: str) -> bool:
    """Say whether a role may make a move from some state.

    >>> may_move("clerk", "raised in error"), may_move("clerk", "raise")
    (True, False)
    """
    return any(role in row["who"] for row in MOVES if row["move"] == move)


def rows_from(move: str, states: Collection[str]) -> list[Row]:
    """Return the rows of a move that lead from the states an author has seen."""
    return [row for row in MOVES if row["move"] == move and leads_from(row, states)]


def leads_from(row: Row, states: Collection[str]) -> bool:
    """Say whether a row leads from these states: none, one, or several that differ."""
    seen = set(states)
    if row["from"] == "any":
        return len(seen) == 1
    if row["from"] == "two or more":
        return len(seen) > 1
    if not row["from"]:
        return not seen
    return len(seen) == 1 and seen <= set(row["from"])


def moves_open(role: str, states: Collection[str]) -> list[str]:
    """Return the moves a role may make from the standing states, in the table's order.

    Undo is left out: it hangs on the person and on the start of the app, not on the role.

    >>> moves_open("fitter", ["Assessed"]), moves_open("lead", ["Cleared", "In work"])
    (['start'], ['choose'])
    """
    rows = (row for row in MOVES if role in row["who"] and leads_from(row, states))
    return list(dict.fromkeys(row["move"] for row in rows if row["move"] != "undo"))
