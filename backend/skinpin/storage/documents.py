"""The airframe definitions and standards that rows are made with."""

from collections.abc import Iterable, Mapping
from typing import Any

from skinpin_sync.standing import field_values
from sqlalchemy import Connection

from skinpin.domain.grading_standard import Compiled
from skinpin.domain.grading_worst import worst_grade
from skinpin.domain.values import Values, differing, settled_value
from skinpin.storage.files_named import NamedFiles
from skinpin.storage.records import StandingRecord, find_records

Definition = Mapping[str, Any]


class Documents:
    """What records pin, found among the files; notes what is missing, by record."""

    def __init__(self, files: NamedFiles) -> None:
        self._files = files
        self._definitions: dict[str, Definition | None] = {}
        self.missing: list[tuple[str, str]] = []

    def load(self, connection: Connection, defects: Iterable[StandingRecord]) -> None:
        """Find the definitions of the airframes of defects, and note what lacks."""
        defects = list(defects)
        airframe_of = {one.record: _airframe(one.standing.values) for one in defects}
        airframes = {name for name in airframe_of.values() if name}
        pins = {
            name: _definition_pin(one) for name, one in find_records(connection, airframes).items()
        }
        self._definitions = {name: self._files.pinned(pin) for name, pin in pins.items()}
        lacking = {name: pin for name, pin in pins.items() if self._definitions[name] is None}
        self.missing = []
        for one in defects:
            absent = [lacking.get(airframe_of[one.record] or "")] if lacking else []
            absent += [
                pin
                for pin in _standard_pins(one.standing.values)
                if self._files.pinned(pin) is None
            ]
            named = {sha256 for pin in absent if pin and (sha256 := _sha256(pin))}
            self.missing += [(sha256, one.record) for sha256 in named]

    def definition(self, values: Values) -> Definition | None:
        """Return the definition of a defect's airframe, if it is settled and here."""
        return self._definitions.get(_airframe(values) or "")

    def standard(self, values: Values) -> Compiled | None:
        """Return the standard a defect is graded by; of several that by which it is worst."""
        pins = _standard_pins(values)
        found = [one for pin in pins if (one := self._files.standard(pin))]
        if len(found) < 2:
            return found[0] if found else None
        return max(found, key=lambda one: _badness(values, one))


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
    sha256 = pin.get("sha256")
    return sha256 if isinstance(sha256, str) and len(sha256) == 64 else None


def _badness(values: Values, standard: Compiled) -> tuple[int, bool, str]:
    grading = worst_grade(values, standard)
    return -1 if grading.grade is None else grading.grade, not grading.known, standard.name
