"""The verb that takes in what a tablet wrote to a memory stick."""

import argparse
import sys
from pathlib import Path

from skinpin.app import open_workshop
from skinpin.domain.errors import Refused
from skinpin.services.people import only_lead
from skinpin.services.stick_files import Taken, take_in
from skinpin.settings import read_settings


def take_in_arguments(parser: argparse.ArgumentParser) -> None:
    """Ask for the file, the lead it is done for, and a reason where one is needed."""
    parser.add_argument("file", type=Path, help="ZIP that a tablet wrote")
    parser.add_argument("--lead", default="", help="name of the lead this is done for")
    parser.add_argument("--reason", default="", help="why a lost tablet's file is taken in")


def run_take_in(given: argparse.Namespace) -> None:
    """Take a file in and say what was new in it."""
    if not given.file.is_file():
        raise Refused("no_such_file", f"There is no file {given.file}.", "Give the tablet's ZIP.")
    workshop = open_workshop(read_settings(given.data))
    try:
        lead = only_lead(workshop, given.lead)
        tell = _tell if sys.stderr.isatty() else lambda words, done, of: None
        taken = take_in(workshop, lead, given.file, given.reason, tell)
    finally:
        workshop.close()
    print(_words(taken))
    if taken.turned:
        print("\n".join(f"Refused: {one}" for one in taken.turned))
        sys.exit(1)


def _words(taken: Taken) -> str:
    who = f"Tablet {taken.letter}" if taken.letter else "Desk"
    here = taken.entries - taken.stored - len(taken.turned)
    return (
        f"{who}: entries {taken.stored} new, {here} here already; "
        f"photographs {taken.photographs_stored} new, "
        f"{taken.photographs - taken.photographs_stored} here already"
    )


def _tell(words: str, done: int, of: int) -> None:
    print(f"\x1b[K{done} of {of} {words}", end="\r", file=sys.stderr, flush=True)
