"""Sheet gauges: an aid at entry that writes inches, so that inches always show."""

from collections.abc import Mapping

from skinpin.domain.errors import Refused
from skinpin.domain.fields import read_table

GAUGES = read_table("gauge.json")
SWG: Mapping[str, str] = GAUGES["SWG"]["inches"]


def gauge_inches(number: int | str, gauge: str = "SWG") -> str:
    """Return the thickness in inches of a gauge number.

    >>> gauge_inches(16), gauge_inches(16, "B&S")
    ('0.064', '0.051')
    """
    table: Mapping[str, str] = GAUGES[gauge]["inches"]
    inches = table.get(str(number).strip())
    if inches is None:
        first, last = next(iter(table)), list(table)[-1]
        raise Refused(
            "no_such_gauge",
            f"There is no {gauge} {number}; the table has {first} to {last}.",
            "Type the thickness in inches or millimetres.",
        )
    return inches


def gauge_of(inches: str, gauge: str = "SWG") -> str | None:
    """Return the gauge number that has just this thickness, written in any number of figures."""
    wanted = inches.rstrip("0")
    return next(
        (number for number, size in GAUGES[gauge]["inches"].items() if size.rstrip("0") == wanted),
        None,
    )
