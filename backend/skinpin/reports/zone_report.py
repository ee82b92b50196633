"""The zone report: ready data in, a PDF out."""

import json
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from skinpin.domain.errors import Refused
from skinpin.reports.front import front
from skinpin.reports.marks import mark_shapes
from skinpin.reports.sheets import defect_sheet
from skinpin.reports.words import printable

TEMPLATE = Path(__file__).parent / "template"
TIME_LIMIT_S = 120
_NO_SHEET = ("Same as", "Raised in error")


def zone_report_data(ready: Mapping[str, Any]) -> dict[str, Any]:
    """Return all that the template reads, as one JSON value.

    Parameters
    ----------
    ready
        `zone`, `title`, `rules` (of this zone), `definition`, `standard` (name, issue, rows),
        `airframe`, `workshop`, `date`, `epoch`, `seq`, `version`, `safety`, `surveys`,
        `coverage`, `numbers` (all of the book) and `records`, nose to tail, each with `row`,
        `place`, `place_short`, `place_long`, `values`, `photographs`, `history`, `stamps`,
        `found_on`, `sha256` and `same` (sightings of the same defect).
    """
    sheets = [record for record in ready["records"] if record["row"]["state"] not in _NO_SHEET]
    return {
        "sheet": _sheet(ready),
        "front": front(ready),
        "defects": [
            defect_sheet(record, ready["definition"], ready["standard"]) for record in sheets
        ],
        "marks": mark_shapes(),
    }


def _sheet(ready: Mapping[str, Any]) -> dict[str, Any]:
    standard = ready["standard"]
    return {
        "airframe": printable(ready["airframe"]),
        "workshop": printable(ready["workshop"]),
        "standard": printable(f"{standard['name']} issue {standard['issue']}"),
        "zone": ready["zone"],
        "title": printable(ready["title"]),
        "date": ready["date"],
        "issue": "ISSUE 1",
        "issue_state": "DRAFT, NOT ISSUED",
        "safety": ready["safety"],
        "cutoff": [
            f"Data up to entry {ready['seq']} of this book",
            f"Book {str(ready['epoch'])[:8]} · Skinpin {ready['version']}",
        ],
    }


def zone_report_pdf(ready: Mapping[str, Any], pictures: Mapping[str, Path]) -> bytes:
    """Return the zone report as PDF.

    Parameters
    ----------
    pictures
        File names as the records' photographs name them, and where each lies.
    """
    with tempfile.TemporaryDirectory(prefix="skinpin-report-") as folder:
        root = Path(folder)
        shutil.copytree(TEMPLATE, root, dirs_exist_ok=True)
        data = json.dumps(zone_report_data(ready), ensure_ascii=False)
        (root / "data.json").write_text(data, encoding="utf-8")
        for name, path in pictures.items():
            shutil.copyfile(path, root / Path(name).name)
        return _typeset(root)


def _typeset(root: Path) -> bytes:
    words = [sys.executable, "-m", "skinpin.reports.typesetter", str(root)]
    try:
        done = subprocess.run(words, capture_output=True, timeout=TIME_LIMIT_S)
    except subprocess.TimeoutExpired as error:
        raise _failed(f"it took over {TIME_LIMIT_S} s") from error
    if done.returncode != 0 or not done.stdout.startswith(b"%PDF"):
        said = done.stderr.decode(errors="replace").strip().splitlines()
        raise _failed(said[-1][:300] if said else f"exit code {done.returncode}")
    return done.stdout


def _failed(reason: str) -> Refused:
    return Refused(
        "report_failed",
        f"The report could not be typeset: {reason}.",
        "Ask for one zone at a time; if it goes on, send this sentence to who keeps the server.",
    )
