"""The verbs about paper: the form to print, an earlier register read in."""

import argparse
import sys
from pathlib import Path

from skinpin.app import open_workshop
from skinpin.domain.errors import Refused
from skinpin.services.outgoing import write_document
from skinpin.services.paper import import_register
from skinpin.services.paper_form import paper_form
from skinpin.services.people import only_lead
from skinpin.settings import read_settings


def form_arguments(parser: argparse.ArgumentParser) -> None:
    """Ask for the file."""
    parser.add_argument("--out", type=Path, required=True, help="PDF to write")
    _airframe(parser)


def import_arguments(parser: argparse.ArgumentParser) -> None:
    """Ask for the register and for whom it is read in."""
    parser.add_argument("file", type=Path, help="CSV in UTF-8, headings in the first line")
    parser.add_argument("--lead", default="", help="name of the lead this is done for")
    parser.add_argument("--register", default="", help="name of the register, where there are two")
    _airframe(parser)


def run_form(given: argparse.Namespace) -> None:
    """Write the form as PDF."""
    workshop = open_workshop(read_settings(given.data))
    try:
        pdf = paper_form(workshop, given.airframe)
    finally:
        workshop.close()
    write_document(given.out, pdf)
    print(f"{given.out}: written")


def run_import(given: argparse.Namespace) -> None:
    """Read a register in, or print every trouble with its line and column and store nothing."""
    try:
        content = given.file.read_bytes()
    except OSError as error:
        said = f"{given.file} can't be read: {error.strerror}."
        raise Refused("no_such_file", said, "Give a CSV file.") from error
    workshop = open_workshop(read_settings(given.data))
    try:
        lead = only_lead(workshop, given.lead)
        told = import_register(workshop, lead, content, given.airframe, given.register)
    finally:
        workshop.close()
    for one in told.troubles:
        column = f", {one.column}" if one.column else ""
        print(f"line {one.line}{column}: {one.message}", file=sys.stderr)
    if told.troubles:
        print(f"{len(told.troubles)} faults; nothing was stored.", file=sys.stderr)
        sys.exit(1)
    print(f"{told.records} lines: {told.stored} new, {told.here} here already")


def _airframe(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--airframe", default="", help="constructor's number, where several are")
