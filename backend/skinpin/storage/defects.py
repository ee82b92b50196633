"""Asks for rows of defects."""

from collections.abc import Mapping

from sqlalchemy import Connection, select

from skinpin.storage.numbers import number_key
from skinpin.storage.rows import read_row
from skinpin.storage.tables import defect

ASKED_BY = ("airframe", "zone", "state", "stage", "kind")


def defect_rows(connection: Connection, wanted: Mapping[str, str]) -> list[str]:
    """Return the rows as JSON texts, by number, those that meet all wishes."""
    asked = select(defect.c.row)
    for name in ASKED_BY:
        if name in wanted:
            asked = asked.where(defect.c[name] == wanted[name])
    return list(connection.scalars(asked.order_by(defect.c.number, defect.c.record)))


def rows_numbered(connection: Connection, number: str) -> list[str]:
    """Return the rows that bear a number; if none does, those that bore it before."""
    key = number_key(number)
    asked = select(defect.c.row).order_by(defect.c.record)
    found = list(connection.scalars(asked.where(defect.c.number == key)))
    if found:
        return found
    had = defect.c.row.contains(f'"{number}"', autoescape=True)
    return [
        row
        for row in connection.scalars(asked.where(had))
        if key in map(number_key, read_row(row)["also_numbers"])
    ]


def numbers_given(connection: Connection, letter: str) -> list[str]:
    """Return the numbers under a letter that any record bears, written A/0017."""
    asked = select(defect.c.row).where(defect.c.row.contains(f'"{letter}/', autoescape=True))
    found = []
    for text in connection.scalars(asked):
        row = read_row(text)
        found += [one for one in (row["number"], *row["also_numbers"]) if one]
    return [
        one for one in found if one.startswith(f"{letter}/") and one[len(letter) + 1 :].isdecimal()
    ]
