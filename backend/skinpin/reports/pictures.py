"""Details A and B of a defect's sheet, with their marks."""

from collections.abc import Mapping, Sequence
from typing import Any

from skinpin.reports.words import only, printable

Record = Mapping[str, Any]
WIDE = {"left": 118.0, "top": 1.5, "width": 54.0, "height": 40.5}
CLOSE = {"left": 0.0, "top": 44.0, "width": 96.0, "height": 72.0}


def pictures(record: Record) -> list[dict[str, Any]]:
    """Return details A (wide) and B (close), with their marks; a missing one is said to be so."""
    wide = _latest(record, ("wide",))
    close = _latest(record, ("close", "scale")) or _latest(record, ("wide", "after work"))
    why = str(only(record["values"], "no_photograph") or "")
    return [
        _picture(wide, "A", WIDE, "wide", why),
        _picture(close, "B", CLOSE, "close", why),
    ]


def _latest(record: Record, roles: Sequence[str]) -> Mapping[str, Any] | None:
    found = [each for each in record["photographs"] if each["role"] in roles]
    return max(found, key=lambda each: each["taken"], default=None)


def _picture(
    photograph: Mapping[str, Any] | None,
    letter: str,
    box: Mapping[str, float],
    role: str,
    why: str,
) -> dict[str, Any]:
    if photograph is None or photograph.get("file") is None:
        gone = (
            "is not on this server yet" if photograph else f"not taken{': ' + why if why else ''}"
        )
        return {**box, "letter": letter, "file": None, "marks": [], "caption": "",
                "words": printable(f"Photograph, {role}: {gone}.")}  # fmt: skip
    role = "close, with rule" if photograph["role"] == "scale" else photograph["role"]
    caption = f"Detail {letter}: {role}, {photograph['taken'][:10]}, {photograph['by']}."
    if photograph["marks"] and letter == "B":
        caption += " Marks on the picture only."
    wide, high = _fitted(photograph, box)
    return {
        **box,
        "width": wide,
        "height": high,
        "letter": letter,
        "file": photograph["file"],
        "caption": printable(caption),
        "words": "",
        "marks": [
            _mark_on_picture(shape, wide / photograph["width_px"] / 10)
            for shape in photograph["marks"]
        ],
    }


def _fitted(photograph: Mapping[str, Any], box: Mapping[str, float]) -> tuple[float, float]:
    scale = min(box["width"] / photograph["width_px"], box["height"] / photograph["height_px"])
    return photograph["width_px"] * scale, photograph["height_px"] * scale


def _mark_on_picture(shape: Mapping[str, Any], mm: float) -> dict[str, Any]:
    points = [[round(x * mm, 2), round(y * mm, 2)] for x, y in shape["points"]]
    return {
        "kind": shape["kind"],
        "points": points,
        "label": printable(str(shape.get("label") or "")),
    }
