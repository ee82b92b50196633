"""The defect book as a workbook: numbers are numbers, dates are dates, text is never a formula."""

import io
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import Any, NamedTuple

from xlsxwriter import Workbook  # type: ignore[import-untyped]
from xlsxwriter.worksheet import Worksheet  # type: ignore[import-untyped]

from skinpin.domain.figures import day_number
from skinpin.domain.quantities import FIGURE, places_of
from skinpin.reports.columns import DATES, NUMBERS, described
from skinpin.reports.defects_csv import COLUMNS, defect_cells

MOST_LETTERS = 32_767
MOST_EXACT_DIGITS = 15
CUT = " … cut here; it is whole in the CSV and the JSON lines"
_WIDEST, _NARROWEST = 48, 8


class About(NamedTuple):
    """What a workbook says of itself: lines of a label and words, and the safety wording."""

    lines: Sequence[tuple[str, str]]
    safety: str


def defects_xlsx(records: Iterable[Mapping[str, Any]], about: About) -> bytes:
    """Return the defect book as an XLSX workbook, one row a record.

    Parameters
    ----------
    records
        As `defects_csv` takes them.
    """
    out = io.BytesIO()
    settings = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False,
                "strings_to_numbers": False, "constant_memory": False}  # fmt: skip
    with Workbook(out, settings) as book:
        # A fixed day of making: the same records give the same bytes.
        book.set_properties({"title": "Defect book", "created": date(2000, 1, 1)})
        _Sheet(book, book.add_worksheet("Defects")).write(list(map(defect_cells, records)))
        _about(book, book.add_worksheet("About"), about)
    return out.getvalue()


class _Sheet:
    """Writes cells, each by its sort."""

    def __init__(self, book: Workbook, sheet: Worksheet) -> None:
        self._book, self._sheet = book, sheet
        self._head = book.add_format({"bold": True, "bottom": 2, "text_wrap": False})
        self._text = book.add_format({"num_format": "@", "valign": "top"})
        self._day = book.add_format({"num_format": "yyyy-mm-dd", "valign": "top"})
        self._figures: dict[int, Any] = {}

    def write(self, rows: Sequence[Mapping[str, str]]) -> None:
        """Write the head, frozen, and a row for each record."""
        for at, column in enumerate(COLUMNS):
            self._sheet.write_string(0, at, column, self._head)
            longest = max([len(column), *(len(row[column]) for row in rows)])
            self._sheet.set_column(at, at, min(max(longest + 1, _NARROWEST), _WIDEST))
        for line, row in enumerate(rows, start=1):
            for at, column in enumerate(COLUMNS):
                self._cell(line, at, column, row[column])
        self._sheet.freeze_panes(1, 1)
        self._sheet.autofilter(0, 0, len(rows), len(COLUMNS) - 1)

    def _cell(self, line: int, at: int, column: str, text: str) -> None:
        if text == "":
            return
        if column in NUMBERS and is_exact(text):
            self._sheet.write_number(line, at, float(text), self._figure(places_of(text)))
        elif column in DATES and (day := day_number(text)) is not None:
            self._sheet.write_datetime(line, at, date.fromordinal(day), self._day)
        else:
            self._sheet.write_string(line, at, fitting(text), self._text)

    def _figure(self, places: int) -> Any:
        """Return the format that shows as many decimals as were typed."""
        if places not in self._figures:
            shown = "0" if places == 0 else f"0.{'0' * places}"
            made = self._book.add_format({"num_format": shown, "valign": "top"})
            self._figures[places] = made
        return self._figures[places]


def is_exact(text: str) -> bool:
    """Say whether a figure as typed is kept whole by a number of a spreadsheet."""
    if not FIGURE.fullmatch(text):
        return False
    return len(text.replace("-", "").replace(".", "").lstrip("0")) <= MOST_EXACT_DIGITS


def fitting(text: str) -> str:
    """Return text that a cell can hold; what is cut off is said."""
    if len(text.encode("utf-16-le")) // 2 <= MOST_LETTERS:
        return text
    room = MOST_LETTERS - len(CUT)
    return text.encode("utf-16-le")[: 2 * room].decode("utf-16-le", errors="ignore") + CUT


def _about(book: Workbook, sheet: Worksheet, about: About) -> None:
    bold = book.add_format({"bold": True})
    wrapped = book.add_format({"text_wrap": True, "valign": "top"})
    sheet.set_column(0, 0, 24)
    sheet.set_column(1, 1, 10)
    sheet.set_column(2, 2, 90)
    lines = [("Safety", about.safety), *about.lines]
    for at, (label, words) in enumerate(lines):
        sheet.write_string(at, 0, label, bold)
        sheet.write_string(at, 2, words, wrapped)
    first = len(lines) + 1
    for at, words in enumerate(("column", "sort", "what it holds")):
        sheet.write_string(first, at, words, bold)
    for line, row in enumerate(described(), start=first + 1):
        for at, words in enumerate(row):
            sheet.write_string(line, at, words)
