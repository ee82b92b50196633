"""The paper form: ready data in, a PDF of drawing sheets with empty fields out."""

import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import orjson

from skinpin.reports.border import border_svg
from skinpin.reports.words import printable
from skinpin.reports.zone_report import typeset

FORM = Path(__file__).parent / "template" / "paper.typ"


def paper_form_pdf(ready: Mapping[str, Any]) -> bytes:
    """Return the form as PDF: `columns` (name, label, needed) in order, `choices` by column."""
    with tempfile.TemporaryDirectory(prefix="skinpin-form-") as folder:
        root = Path(folder)
        shutil.copy(FORM, root / "zone.typ")  # the typesetter sets the sheet of that name
        told = {
            **ready,
            "airframe": printable(ready["airframe"]),
            "workshop": printable(ready["workshop"]),
            "border": border_svg(),
        }
        (root / "data.json").write_bytes(orjson.dumps(told))
        return typeset(root)
