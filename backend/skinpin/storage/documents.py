"""The airframe definitions and standards that rows are made with."""

from collections.abc import Collection, Mapping
from typing import Any

from skinpin_sync.standing import field_values
from sqlalchemy import Connection

from skinpin.domain.grading_line import grade_with_lines
from skinpin.domain.grading_standard import Compiled
from skinpin.domain.values import Values, differing, settled_value
from skinpin.storage.files_named import NamedFiles
from skinpin.storage.records import StandingRecord, find_records

Definition = Mapping[str, Any]


class Documents:
    """What records pin, found among the files; notes what is missing, by record."""

    def __init__(self, files: NamedFiles) -> None:
        self._files = files
        self._definitions: dict[str, Definition | None] = {}
        self._airframe_of: dict[str, str | None] = {}
        self._pins_of: dict[str, list[Any]] = {}
        self.missing: list[tuple[str, str]] = []

    def load(self, connection: Connection, defects: Collection[StandingRecord]) -> None:
        """Find the definitions of the airframes of defects, and note what lacks."""
        self._airframe_of = {one.record: _airframe(one.standing.values) for one in defects}
        pinned = ((one.record, _standard_pins(one.standing.values)) for one in defects)
        self._pins_of = {record: some for record, some in pinned if some}
        airframes = find_records(connection, {name for name in self._airframe_of.values() if name})
        pins = {name: _definition_pin(one) for name, one in airframes.items()}
        self._definitions = {name: self._files.pinned(pin) for name, pin in pins.items()}
        lacking = {name: pin for name, pin in pins.items() if self._definitions[name] is None}
        self.missing = []
        for record in self._airframe_of if lacking else self._pins_of:
            some = self._pins_of.get(record, ())
            absent = [pin for pin in some if self._files.pinned(pin) is None]
            absent.append(lacking.get(self._airframe_of[record] or ""))
            named = {sha256 for pin in absent if (sha256 := _sha256(pin))}
            self.missing += [(sha256, record) for sha256 in named]

    def definition(self, record: str) -> Definition | None:
        """Return the definition of a defect's airframe, if it is settled and here."""
        return self._definitions.get(self._airframe_of[record] or "")

    def standard(self, record: str, values: Values, lines: Mapping[str, Values]) -> Compiled | None:
        """Return the standard a defect is graded by; of several that by which it is worst."""
        pins = self._pins_of.get(record, ())
        found = [one for pin in pins if (one := self._files.standard(pin))]
        if len(found) < 2:
            return found[0] if found else None
        return max(found, key=lambda one: _badness(values, lines, one))


def _airframe(values: Values) -> str | None:
    airframe = settled_value("defect", values, "airframe")
    return airframe if isinstance(airframe, str) else None


def _standard_pins(values: Values) -> list[Any]:
    return [pin for pin in differing("defect", values, "standard") if isinstance(pin, dict)]


def _definition_pin(one: StandingRecord) -> Any:
    """Return the definition an airframe goes by; of several the last written stands."""
    pins = field_values(one.standing, "definition")
    return pins[max(pins)] if pins else None


def _sha256(pin: Any) -> str | None:
    sha256 = pin.get("sha256") if isinstance(pin, dict) else None
    return sha256 if isinstance(sha256, str) and len(sha256) == 64 else None


def _badness(
    values: Values, lines: Mapping[str, Values], standard: Compiled
) -> tuple[int, bool, str]:
    grading = grade_with_lines(values, lines, standard)
    return -1 if grading.grade is None else grading.grade, not grading.known, standard.name
