"""Figures that came from photographs: which fell, and what is told of each."""

from collections.abc import Iterable, Mapping
from typing import Any

from skinpin.domain.photo_warnings import figure_warnings
from skinpin.domain.scale_struck import fallen
from skinpin.services.airframes import last_value
from skinpin.services.report_reader import Reader
from skinpin.storage.records import StandingRecord

_MEASUREMENT = ("photograph", "scale", "shape", "points", "tap")
_SCALE = ("method", "points", "length", "width", "height", "tap", "card")
_PHOTOGRAPH = ("width_px", "height_px", "zoom")


class PhotoFigures:
    """What figures rest on: their measurements, and the scales and photographs of those."""

    def __init__(self, reader: Reader, figures: Iterable[Any]) -> None:
        ids = {name for one in figures if (name := measurement_of(one))}
        self.measurements = reader.find(ids) if ids else {}
        around = {
            name
            for one in self.measurements.values()
            for field in ("scale", "photograph")
            if isinstance(name := last_value(one.standing, field), str)
        }
        self.around = reader.find(around) if around else {}

    def fallen(self) -> set[str]:
        """Return the measurements that no longer stand, or whose scale or photograph does not."""
        scales = self._values("scale")
        measurements = {id: one.standing.values for id, one in self.measurements.items()}
        return fallen(measurements, scales, self._values("photograph"))

    def warnings(self, figure: Any) -> list[str]:
        """Return what stood beside a figure when it was taken, nothing of one typed."""
        measurement = self.measurements.get(measurement_of(figure))
        if measurement is None:
            return []
        said = _plain(measurement, _MEASUREMENT)
        scale, photograph = (self.around.get(str(said[name])) for name in ("scale", "photograph"))
        if scale is None or photograph is None:
            return []
        return figure_warnings(said, _plain(scale, _SCALE), _plain(photograph, _PHOTOGRAPH))

    def _values(self, kind: str) -> dict[str, Mapping[str, Mapping[str, Any]]]:
        return {id: one.standing.values for id, one in self.around.items() if one.kind == kind}


def measurement_of(figure: Any) -> str:
    """Return the measurement a figure rests on, "" for any other value."""
    named = figure.get("measurement") if isinstance(figure, Mapping) else None
    return named if isinstance(named, str) else ""


def _plain(one: StandingRecord, names: Iterable[str]) -> dict[str, Any]:
    return {name: last_value(one.standing, name) for name in names}
