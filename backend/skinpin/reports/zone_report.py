"""The zone report: ready data in, a PDF out."""

import ctypes
import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import orjson

from skinpin.domain.errors import Refused
from skinpin.reports.back import back
from skinpin.reports.border import border_svg
from skinpin.reports.embedded import embedded_name, embedded_picture
from skinpin.reports.front import front
from skinpin.reports.lettering import TITLE_MM, fitting_size
from skinpin.reports.marks import mark_pictures
from skinpin.reports.running import Running
from skinpin.reports.sheets import defect_sheet
from skinpin.reports.svg import as_pictures
from skinpin.reports.typesetter import MADE
from skinpin.reports.words import printable

TEMPLATE = Path(__file__).parent / "template"
TIME_LIMIT_S = 120
SPARING = {"MALLOC_ARENA_MAX": "2", "MALLOC_TRIM_THRESHOLD_": "65536"}
"""What the child is told of memory: fewer pools, and what is free goes back to the system."""
_STANDARD_MM = 25.0
_NO_SHEET = ("Same as", "Raised in error")


def zone_report_data(ready: Mapping[str, Any]) -> dict[str, Any]:
    """Return all that the template reads, as one JSON value.

    Parameters
    ----------
    ready
        `zone`, `title`, `rules` (of this zone), `definition`, `standard` (name, issue, rows),
        `drawings` (files of the pictures of views by SHA-256),
        `airframe`, `workshop`, `date`, `epoch`, `version`, `safety`, `limits`, `surveys`,
        `coverage`, `instruments` (by name: title, range, due), `cutoff` (seq, at, zone), `rested`
        (count, sha256), `as_at` (the day in words, where it is not today) and `records`,
        nose to tail, each with `row`, `place`, `place_short`, `place_long`,
        `values`, `measured` (by field: value, by, tablet, date), `observations` (of a crack),
        `rivet_lines`, `photographs`, `history`, `stamps`,
        `found_on`, `sha256` and `same` (sightings of the same defect).
    """
    first = front(ready)
    # A draft is nobody's finding yet: it is named on the first sheet and stands nowhere else.
    raised = [record for record in ready["records"] if record["row"]["state"] != "Draft"]
    ready = {**ready, "records": raised}
    sheets = [record for record in raised if record["row"]["state"] not in _NO_SHEET]
    views: dict[str, str] = {}
    defects = [defect_sheet(record, ready, views) for record in sheets]
    sheet = _sheet(ready)
    for each in (*defects, sheet):
        each["title_size"] = fitting_size(each["title"], TITLE_MM, (11, 9.5, 8.3))
    told = {
        "sheet": sheet,
        "front": first,
        "defects": defects,
        "back": back(ready, [first, defects]),
        "marks": mark_pictures(),
        "views": views,
        "border": border_svg(),
    }
    drawn: dict[str, Any] = as_pictures(told)
    return drawn


def _sheet(ready: Mapping[str, Any]) -> dict[str, Any]:
    standard = ready["standard"]
    named = f"{standard['name']} issue {standard['issue']}" if standard["rows"] else "none yet"
    return {
        "airframe": printable(ready["airframe"]),
        "workshop": printable(ready["workshop"]),
        "standard": printable(named),
        "sizes": {
            "airframe": fitting_size(ready["airframe"], 44.6, (11, 9, 8.3)),
            "workshop": fitting_size(ready["workshop"], 44.6, (10, 9, 8.3)),
            "standard": fitting_size(named, _STANDARD_MM, (9.5, 8.3, 7)),
        },
        "zone": ready["zone"],
        "title": printable(ready["title"]),
        "date": ready["date"],
        "issue": "ISSUE 1",
        "issue_state": "DRAFT, NOT ISSUED",
        "as_at": f" – as at {ready['as_at']}" if ready.get("as_at") else "",
        "safety": ready["safety"],
        "cutoff": [
            f"Data up to entry {ready['cutoff']['seq']}, {ready['cutoff']['at']}",
            f"Record hash {ready['rested']['sha256'][:16]} · Skinpin {ready['version']}",
        ],
    }


def zone_report_pdf(
    ready: Mapping[str, Any], pictures: Mapping[str, Path], running: Running | None = None
) -> bytes:
    """Return the zone report as PDF.

    Parameters
    ----------
    pictures
        File names as the records' photographs name them, and where each lies.
    running
        What may end the typesetting from outside.
    """
    with tempfile.TemporaryDirectory(prefix="skinpin-report-") as folder:
        root = Path(folder)
        set_out(root, zone_report_data(ready), pictures)
        return typeset(root, running or Running())


def set_out(root: Path, told: Mapping[str, Any], pictures: Mapping[str, Path]) -> None:
    """Write template, data and pictures into a folder, ready to be typeset."""
    shutil.copytree(TEMPLATE, root, dirs_exist_ok=True)
    names = {name: _put_picture(root, name, path) for name, path in pictures.items()}
    for defect in told["defects"]:
        for picture in defect["layout"]["pictures"]:
            picture["file"] = names.get(picture["file"])
        ground = defect["layout"]["ground"]
        if ground:
            ground["file"] = names[ground["file"]]
    (root / "data.json").write_bytes(orjson.dumps(told))


def _put_picture(root: Path, name: str, path: Path) -> str:
    content = path.read_bytes()
    page = embedded_picture(content)
    file = embedded_name(name) if page else Path(name).name
    (root / file).write_bytes(page or content)
    return file


def typeset(root: Path, running: Running | None = None) -> bytes:
    """Typeset a folder that was set out, in a child process that can be ended."""
    give_back_memory()
    words = [sys.executable, "-m", "skinpin.reports.typesetter", str(root)]
    with (
        subprocess.Popen(
            words, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, env={**os.environ, **SPARING}
        ) as child,
        (running or Running()).ends(child.kill),
    ):
        try:
            _, said_bytes = child.communicate(timeout=TIME_LIMIT_S)
        except subprocess.TimeoutExpired as error:
            child.kill()
            raise _failed(f"it took over {TIME_LIMIT_S} s") from error
    made = root / MADE
    if child.returncode != 0 or not made.exists():
        said = said_bytes.decode(errors="replace").strip().splitlines()
        raise _failed(said[-1][:300] if said else f"exit code {child.returncode}")
    return made.read_bytes()


def give_back_memory() -> None:
    """Hand what the gathering freed back to the system, before the child takes its own.

    The C library keeps freed pages for later, some 25 MB after 200 defects; one without
    `malloc_trim` (macOS, musl) decides for itself.
    """
    trim = getattr(ctypes.CDLL(None), "malloc_trim", None)
    if trim is not None:
        trim(0)


def sheets_of(pdf: bytes) -> int:
    """Return how many sheets a report has, 0 where that can't be read."""
    found = re.search(rb"/Type/Pages/Count ([0-9]+)", pdf)
    return int(found[1]) if found else 0


def _failed(reason: str) -> Refused:
    return Refused(
        "report_failed",
        f"The report could not be typeset: {reason}.",
        "Ask for one zone at a time; if it goes on, send this sentence to who keeps the server.",
    )
