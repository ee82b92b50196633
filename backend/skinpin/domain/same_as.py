"""Which record of several that are the same defect leads."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from skinpin.domain.errors import Refused
from skinpin.domain.numbers import read_number

NO_HEAD = (None, "Draft", "Raised in error")


class Other(NamedTuple):
    """What a chain asks of a record: its number, its state before chains, what it is the same as.

    `left` is the state it counts in where it is not hidden.
    """

    number: str
    state: str | None
    targets: tuple[str, ...] = ()
    left: str | None = None


def other_of(row: Mapping[str, Any]) -> Other:
    """Return what a chain asks of a record, from its row."""
    targets = tuple(row["same_as_all"])
    left = row["left_from"] or row["state"]
    return Other(row["number"] or "", row["own_state"], targets, left)


def same_as_heads(others: Mapping[str, Other]) -> dict[str, str | None]:
    """Return for each record that is the same as another the record that leads.

    None where no record can: a chain that ends nowhere, at a draft, at a record raised in error,
    or divides. The smallest number leads a ring and is its own head.
    """
    aside = [record for record, other in others.items() if other.state == "Same as"]
    return {record: head_of(record, others) for record in aside}


def head_of(record: str, others: Mapping[str, Other]) -> str | None:
    """Return the record that leads the chain of a record."""
    chain = [record]
    while True:
        here = others.get(chain[-1])
        if here is None:
            return None
        if here.state != "Same as":
            return None if here.state in NO_HEAD else chain[-1]
        if len(here.targets) != 1:
            return None
        if here.targets[0] in chain:
            return _ring_head(record, chain[chain.index(here.targets[0]) :], others)
        chain.append(here.targets[0])


def _ring_head(record: str, ring: list[str], others: Mapping[str, Other]) -> str | None:
    lead = min(ring, key=lambda one: (number_key(others[one].number), one))
    if lead == record:
        return record
    return None if others[lead].left in NO_HEAD else lead


def chain_lacks(record: str, others: Mapping[str, Other]) -> list[str]:
    """Return the next record that a chain needs and that is not among those given."""
    passed: set[str] = set()
    here: str | None = record
    while here is not None and here not in passed:
        if here not in others:
            return [here]
        passed.add(here)
        other = others[here]
        is_link = other.state == "Same as" and len(other.targets) == 1
        here = other.targets[0] if is_link else None
    return []


def number_key(number: str) -> tuple[int, str, int, str]:
    """Return a key that puts numbers in order: A/0002, B/0001, AA/0001; others after them."""
    try:
        letter, serial = read_number(number)
    except Refused:
        return 99, "", 0, number
    return len(letter), letter, serial, ""
