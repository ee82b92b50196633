"""The verbs that write documents: a zone's report, the defect book to take away, a scale card."""

import argparse
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from skinpin.app import open_workshop
from skinpin.domain.errors import Refused
from skinpin.services.export import export_records
from skinpin.services.outgoing import write_document
from skinpin.services.photograph_copies import Asked, export_photographs
from skinpin.services.report import entries_of_report, report_telling
from skinpin.services.scale_card import scale_card
from skinpin.services.workshop import Workshop
from skinpin.settings import read_settings


def report_arguments(parser: argparse.ArgumentParser) -> None:
    """Ask for the zone and the files."""
    parser.add_argument("--zone", required=True, help="zone number, as 111")
    parser.add_argument("--out", type=Path, help="PDF to write")
    parser.add_argument("--entries", type=Path, help="file for the entries of the record hash")
    _airframe_argument(parser)
    _day_argument(parser)


def export_arguments(parser: argparse.ArgumentParser) -> None:
    """Ask for the file, and for one zone if wanted."""
    said = "file to write, ending in .csv, .xlsx or .jsonl"
    parser.add_argument("--out", type=Path, help=said)
    said = "empty folder for copies of the photographs, with record, place and time in each"
    parser.add_argument("--photographs", type=Path, help=said)
    said = "leave in them where the camera says it was"
    parser.add_argument("--with-place", action="store_true", help=said)
    said = "leave in them the camera's serial numbers and its maker's notes"
    parser.add_argument("--with-serial", action="store_true", help=said)
    parser.add_argument("--zone", default="", help="one zone alone, as 111")
    _airframe_argument(parser)
    _day_argument(parser)


def card_arguments(parser: argparse.ArgumentParser) -> None:
    """Ask for the file, and for the name of the card."""
    parser.add_argument("--out", type=Path, required=True, help="PDF to write")
    said = "name of the card, as SC-2: one for each printer"
    parser.add_argument("--card", default="SC-1", help=said)


def _day_argument(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--as-at", default="", help="a day, as 2025-10-01: as the book stood then")


def _airframe_argument(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--airframe", default="", help="constructor's number, where several are")


def run_report(given: argparse.Namespace) -> None:
    """Write the report of a zone, or the entries it rests on, or both."""
    if given.out is None and given.entries is None:
        raise Refused("usage", "Nothing is to be written.", "Name a file: --out, --entries.")
    tell = _tell if sys.stderr.isatty() else None
    with _opened(given) as workshop:
        if given.out is not None:
            made = report_telling(workshop, given.zone, given.airframe, tell, given.as_at)
            _write(given.out, made.pdf)
            print(f"Record hash {made.record_sha256}, of {made.entries} entries")
        if given.entries is not None:
            lines = entries_of_report(workshop, given.zone, given.airframe, given.as_at)
            _write(given.entries, lines.encode())


def run_export(given: argparse.Namespace) -> None:
    """Write the defect book in the kind that the file's ending names, or photographs, or both."""
    if given.out is None and given.photographs is None:
        raise Refused("usage", "Nothing is to be written.", "Name a file: --out, --photographs.")
    with _opened(given) as workshop:
        if given.out is not None:
            ending = given.out.suffix.removeprefix(".").lower()
            made = export_records(workshop, ending, given.airframe, given.zone, given.as_at)
            _write(given.out, made.content)
            print(f"{made.records} records, SHA-256 {made.sha256}")
        if given.photographs is not None:
            _copy_photographs(workshop, given)


def _copy_photographs(workshop: Workshop, given: argparse.Namespace) -> None:
    asked = Asked(given.zone, given.airframe, given.with_place, given.with_serial)
    made = export_photographs(workshop, given.photographs, asked)
    for name in made.lacking:
        print(f"{name}: not here, or it can't be read", file=sys.stderr)
    print(f"{given.photographs}: {made.written} copies, {made.coded_anew} of them coded anew")


def run_card(given: argparse.Namespace) -> None:
    """Write the sheet of a scale card."""
    with _opened(given) as workshop:
        _write(given.out, scale_card(workshop, given.card))


@contextmanager
def _opened(given: argparse.Namespace) -> Iterator[Workshop]:
    workshop = open_workshop(read_settings(given.data))
    try:
        yield workshop
    finally:
        workshop.close()


def _tell(words: str) -> None:
    """Show how far it is in one line of a terminal, wiped by the next."""
    print(f"\x1b[K{words} …", end="\r", file=sys.stderr, flush=True)


def _write(out: Path, content: bytes) -> None:
    write_document(out, content)
    print(f"{out}: written")
