"""Copies of photographs to give away: record, place and time are written into them.

Runs in a child process of its own, with limits: EXIF comes from anywhere, and its reader may fail
in any way or take all memory. What the camera wrote of its place and serial numbers is left out
unless it is asked for. Tag numbers: CIPA DC-008, Exif 2.32.
"""

import io
import json
import resource
import subprocess
import sys
from collections.abc import Mapping
from typing import Any, BinaryIO, NamedTuple

from PIL import Image

from skinpin.domain.errors import Refused
from skinpin.imaging.child import FORMATS, limit_process, upright
from skinpin.imaging.jpeg_parts import exif_of, with_exif

TIME_LIMIT_S = 30.0
QUALITY = 92
ORIENTATION, DESCRIPTION, SOFTWARE = 0x0112, 0x010E, 0x0131
WHEN = {"taken": (0x9003, 0x9011), "received": (0x9004, 0x9012)}
COMMENT, UNIQUE_ID = 0x9286, 0xA420
SERIALS = (0xA430, 0xA431, 0xA435, 0x927C)
"""Owner, serials of body and lens, and the maker's own notes, in which anything may stand."""
PERSONAL = (0x013B, 0x9C9D)


class Copy(NamedTuple):
    """A JPEG to give away, and whether its picture was coded anew."""

    content: bytes
    is_coded_anew: bool


def exported_copy(content: bytes, told: Mapping[str, Any]) -> Copy:
    """Return a copy of a photograph that says what it shows.

    Parameters
    ----------
    told
        `words` (one line), `comment`, `sha256` of the original; `taken` and `received` as
        {"wall", "offset"?}, either may be none; `with_place`, `with_serial`.

    Raises
    ------
    Refused
        `unreadable_picture`.
    """
    head = json.dumps(told).encode()
    try:
        done = subprocess.run(
            [sys.executable, "-m", "skinpin.imaging.copies"],
            input=head + b"\n" + content,
            capture_output=True,
            timeout=TIME_LIMIT_S,
            check=True,
        )
    except subprocess.SubprocessError as error:
        raise Refused(
            "unreadable_picture", "The photograph can't be copied: it is damaged.", ""
        ) from error
    return Copy(done.stdout[1:], done.stdout[:1] == b"1")


def copied(content: bytes, told: Mapping[str, Any]) -> Copy:
    """Return the copy; of a JPEG that can be taken apart the picture stays as it is coded."""
    try:
        return Copy(with_exif(content, _tiff(exif_of(content), content, told)), False)
    except ValueError:
        return Copy(_coded_anew(content, told), True)


def _tiff(before: bytes | None, content: bytes, told: Mapping[str, Any]) -> bytes:
    """Return the camera's EXIF with what is told put in and the rest that is asked for left out."""
    import piexif  # type: ignore[import-untyped]

    try:
        tags = piexif.load(b"Exif\0\0" + before) if before else {}
        _clean(tags, told)
        _put(tags, told)
        block: bytes = piexif.dump(tags)
    except Exception:  # its reader fails in many ways on damaged tags, memory among them
        tags = {"0th": {ORIENTATION: _orientation(content)}, "Exif": {}}
        _put(tags, told)
        block = piexif.dump(tags)
    return block.removeprefix(b"Exif\0\0")


def _clean(tags: dict[str, Any], told: Mapping[str, Any]) -> None:
    if not told["with_place"]:
        tags.pop("GPS", None)
    if not told["with_serial"]:
        for name, each in (("Exif", SERIALS), ("0th", PERSONAL)):
            for tag in each:
                tags.get(name, {}).pop(tag, None)
    # A small picture in the EXIF shows what was there before somebody cut it.
    for name in ("1st", "thumbnail"):
        tags.pop(name, None)


def _put(tags: dict[str, Any], told: Mapping[str, Any]) -> None:
    first, more = tags.setdefault("0th", {}), tags.setdefault("Exif", {})
    first[DESCRIPTION] = told["words"].encode("ascii", "replace")
    first[SOFTWARE] = b"Skinpin, exported copy"
    more[UNIQUE_ID] = told["sha256"][:32].encode()
    more[COMMENT] = b"UNICODE\0" + told["comment"].encode("utf-16-be")
    for name, (at, offset_at) in WHEN.items():
        moment = told[name]
        if moment is None:
            continue
        day, _, clock = moment["wall"].partition("T")
        # The workshop's clock is told in minutes; EXIF knows no time without seconds.
        clock = f"{clock}:00" if len(clock) == 5 else clock[:8]
        more[at] = f"{day.replace('-', ':')} {clock}".encode()
        if moment.get("offset"):
            more[offset_at] = moment["offset"].encode()


def _orientation(content: bytes) -> int:
    with Image.open(io.BytesIO(content), formats=FORMATS) as image:
        turned = image.getexif().get(ORIENTATION, 1)
    return turned if turned in range(1, 9) else 1


def _coded_anew(content: bytes, told: Mapping[str, Any]) -> bytes:
    import piexif

    out = io.BytesIO()
    tags: dict[str, Any] = {"0th": {ORIENTATION: 1}, "Exif": {}}
    _put(tags, told)
    upright(content).save(out, "JPEG", quality=QUALITY, exif=piexif.dump(tags))
    return out.getvalue()


def serve(messages: BinaryIO, answers: BinaryIO) -> None:
    """Answer one message: what is told as a JSON line, then the bytes of the photograph."""
    told = json.loads(messages.readline())
    made = copied(messages.read(), told)
    answers.write((b"1" if made.is_coded_anew else b"0") + made.content)


if __name__ == "__main__":
    limit_process()
    resource.setrlimit(resource.RLIMIT_CPU, (int(TIME_LIMIT_S), int(TIME_LIMIT_S)))
    serve(sys.stdin.buffer, sys.stdout.buffer)
