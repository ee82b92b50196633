"""Details A and B of a defect's sheet, with their marks."""

from collections.abc import Mapping, Sequence
from typing import Any

from skinpin.domain.photo_measure import AID
from skinpin.domain.same_view_words import fit_words, is_good
from skinpin.reports.lettering import lines_of
from skinpin.reports.picture_marks import Ground, is_marked
from skinpin.reports.words import only, printable

Record = Mapping[str, Any]
Photograph = Mapping[str, Any]
WIDE = {"left": 118.0, "top": 1.5, "width": 54.0, "height": 40.5}
CLOSE = {"left": 0.0, "top": 44.0, "width": 96.0, "height": 72.0}
CLOSE_SMALLER = {"left": 0.0, "top": 44.0, "width": 72.0, "height": 54.0}
CLOSE_SMALL = {"left": 0.0, "top": 44.0, "width": 56.0, "height": 42.0}
CLOSE_SMALLEST = {"left": 0.0, "top": 44.0, "width": 48.0, "height": 36.0}
CAPTION_LINE_MM = 3.5
_CAPTION_PT = 8.3
_ONE_ONLY = "The only photograph of this record, so shown once."
_MOST_PX = 100_000


def pictures(record: Record, nearer: Mapping[str, float] = CLOSE) -> list[dict[str, Any]]:
    """Return details A (wide) and B (close); the only photograph is B, a missing one is named."""
    why = str(only(record["values"], "no_photograph") or "")
    wide = _latest(record["photographs"], ("wide",))
    close = _close(record["photographs"], wide)
    if close is None and wide is not None:
        return [_picture(wide, "B", nearer, "wide", why, _ONE_ONLY)]
    return [
        _picture(wide, "A", WIDE, "wide", why),
        _picture(close, "B", nearer, "close", why),
    ]


def _close(photographs: Sequence[Photograph], wide: Photograph | None) -> Photograph | None:
    """Return the photograph for detail B: the nearest look there is, never detail A again."""
    rest = [each for each in photographs if each is not wide]
    named = _latest(rest, ("close", "scale")) or _latest(rest, ("after work",))
    return named or _latest(rest, [each["role"] for each in rest])


def _latest(photographs: Sequence[Photograph], roles: Sequence[str]) -> Photograph | None:
    found = [each for each in photographs if each["role"] in roles]
    return max(found, key=lambda each: str(each["taken"] or each.get("received")), default=None)


def _picture(
    photograph: Photograph | None,
    letter: str,
    box: Mapping[str, float],
    role: str,
    why: str,
    aside: str = "",
) -> dict[str, Any]:
    if photograph is None or photograph.get("file") is None:
        gone = (
            "is not on this server yet" if photograph else f"not taken{': ' + why if why else ''}"
        )
        words = printable(f"Photograph, {role}: {gone}.")
        return {**box, "letter": letter, "file": None, "marks": [], "ground": None, "caption": "",
                "caption_wide": box["width"], "mirrored": False, "words": words}  # fmt: skip
    ground = _ground(photograph, box)
    marked = ground is not None and is_marked(photograph["marks"], ground)
    return {
        **box,
        "width": ground.width_px * ground.mm if ground else box["width"],
        "height": ground.height_px * ground.mm if ground else box["height"],
        "letter": letter,
        "file": photograph["file"],
        "mirrored": _is_mirrored(photograph),
        "caption_wide": max(box["width"], CLOSE["width"]) if letter == "B" else box["width"],
        "caption": printable(_caption(photograph, letter, marked, aside)),
        "words": "",
        "ground": ground,
        "marks": photograph["marks"],
    }


def more_lines_mm(picture: Mapping[str, Any]) -> float:
    """Return what a caption takes beyond its first line; words break as late as they can."""
    return (
        lines_of(picture["caption"], _CAPTION_PT, picture["caption_wide"]) - 1
    ) * CAPTION_LINE_MM


def _caption(photograph: Photograph, letter: str, is_marked: bool, aside: str) -> str:
    role = "close, with rule" if photograph["role"] == "scale" else photograph["role"]
    mirror = "seen in a mirror, shown turned" if _is_mirrored(photograph) else ""
    taken = str(photograph["taken"] or "")[:10] or received_words(photograph) or "day not known"
    said = ", ".join(str(each) for each in (role, mirror, taken, photograph["by"]) if each)
    same_view = repeat_words(photograph)
    only_marks = "Marks on the picture only." if is_marked and letter == "B" else ""
    told = measured_words(photograph["marks"])
    parts = (f"Detail {letter}: {said}.", same_view, only_marks, told, aside)
    return " ".join(each for each in parts if each)


def measured_words(marks: Sequence[Any]) -> str:
    """Return of a picture that was measured its scale, and that it is a sorting aid only."""
    kinds = [one for one in marks if isinstance(one, Mapping)]
    if not any(one.get("kind") == "measured" for one in kinds):
        return ""
    scales = [str(one.get("label")) for one in kinds if one.get("kind") == "scale"]
    return f"{AID[0].upper()}{AID[1:]}, by {', '.join(scales)}."


def repeat_words(photograph: Photograph) -> str:
    """Say whose view a photograph repeats, and how it lies on that one."""
    repeats = photograph.get("repeats")
    if not repeats:
        return ""
    fit = repeats["fit"]
    whose = f"{repeats['number']}, {repeats['role']}".removeprefix(", ")
    how = fit_words(fit) or "not fitted"
    verdict = "" if is_good(fit) or not fit_words(fit) else ", not good enough to compare"
    return f"Same view as {whose} ({repeats['day'] or 'day not known'}), {how}{verdict}."


def received_words(photograph: Photograph) -> str:
    """Say when a photograph was handed over that bears no time of its camera."""
    received = photograph.get("received")
    return f"received {received}, camera gave no time" if received else ""


def _is_mirrored(photograph: Photograph) -> bool:
    return photograph.get("mirrored") is True


def _ground(photograph: Photograph, box: Mapping[str, float]) -> Ground | None:
    """Return how a picture fits its box; nothing where its size is not known."""
    wide, high = photograph["width_px"], photograph["height_px"]
    if not all(type(each) is int and 0 < each <= _MOST_PX for each in (wide, high)):
        return None
    mm = min(box["width"] / wide, box["height"] / high)
    return Ground(wide, high, mm, _is_mirrored(photograph))
