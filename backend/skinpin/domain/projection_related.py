"""What the row of a defect is made from, besides what stands of it and its documents."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field

from skinpin.domain.days import Day, day_stamped
from skinpin.domain.same_as import Other
from skinpin.domain.values import Values
from skinpin.domain.verdicts import Pair

ON_PICTURES: Mapping[str, str] = {
    "mark": "marks",
    "scale": "scales",
    "measurement": "measurements",
}
"""Kinds of records that lie on a photograph, and where `Related` has them."""


@dataclass(slots=True)
class Related:
    """What the row of a defect is made from, besides what stands of it and its documents.

    Parameters
    ----------
    entries
        The entries of the record with their verdicts (`COUNTS` for captures). Those that set
        `state` must be there; of the others only numbers given up and entries that do not count
        are read.
    stamps
        The entries of the stamps that name the record, with their verdicts and acts' others.
    withdrawn
        The acts that were undone.
    photographs, marks, scales, measurements
        By record what stands of the photographs that name the defect, and of what lies on them.
    lines
        By record what stands of the rivet lines that name the defect.
    others
        The record's chain of *same as*, see `chain_lacks`; the record itself may be left out.
    day
        The workshop's day of an entry.
    number_shared
        Whether another record bears the same number.
    """

    entries: Sequence[Pair] = ()
    stamps: Sequence[Pair] = ()
    withdrawn: Collection[tuple[str, str]] = ()
    photographs: Mapping[str, Values] = field(default_factory=dict)
    marks: Mapping[str, Values] = field(default_factory=dict)
    scales: Mapping[str, Values] = field(default_factory=dict)
    measurements: Mapping[str, Values] = field(default_factory=dict)
    lines: Mapping[str, Values] = field(default_factory=dict)
    others: Mapping[str, Other] = field(default_factory=dict)
    day: Day = day_stamped
    number_shared: bool = False
