"""The verbs that keep a book: back up, restore, rehearse, check."""

import argparse
import os
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from skinpin.app import open_workshop
from skinpin.domain.errors import Refused
from skinpin.services.backup import back_up
from skinpin.services.check_book import check_book
from skinpin.services.check_nightly import note_whole_check
from skinpin.services.check_setup import check_setup
from skinpin.services.rehearse import rehearse
from skinpin.services.restore import Compared, restore
from skinpin.services.restore_page import restore_page
from skinpin.services.transfer import transfer
from skinpin.services.workshop import Workshop
from skinpin.settings import Settings, read_settings


def backups_argument(parser: argparse.ArgumentParser) -> None:
    """Ask for the folder of backups."""
    parser.add_argument("--backups", type=Path, help="folder of the backups, best on another disk")


def restore_arguments(parser: argparse.ArgumentParser) -> None:
    """Ask for the folder and which backup."""
    backups_argument(parser)
    parser.add_argument("--backup", default="", help="name of one backup, the newest if left out")
    said = "print the page that restores a bare machine, and restore nothing"
    parser.add_argument("--page", action="store_true", help=said)


def no_arguments(parser: argparse.ArgumentParser) -> None:
    """Ask for nothing but --data."""


def run_backup(given: argparse.Namespace) -> None:
    """Make a backup."""
    with _opened(given) as (settings, workshop):
        made = back_up(workshop, settings.backups, _tell("photographs"))
    print(f"{made.folder}: {made.entries} entries, {made.photographs} photographs ", end="")
    print(f"({made.copied} copied now)")
    if made.lacking:
        print("\n".join(f"The photograph {one} is missing or damaged." for one in made.lacking))
        sys.exit(1)


def run_restore(given: argparse.Namespace) -> None:
    """Put a backup back into an empty folder."""
    with _opened(given) as (settings, workshop):
        if given.page:
            print(restore_page(workshop, settings.backups))
            return
        found = restore(workshop, settings.backups, given.backup, _tell("photographs"))
    _tell_compared(
        found,
        f"The book in {given.data} differs from what was backed up.",
        "Keep both and look for the difference with 'skinpin check-book'.",
    )


def run_rehearse(given: argparse.Namespace) -> None:
    """Rehearse the restore of the newest backup and print the page."""
    with _opened(given) as (settings, workshop):
        found = rehearse(workshop, settings.backups)
    print(found.page())
    if not found.agrees:
        sys.exit(1)


def transfer_arguments(parser: argparse.ArgumentParser) -> None:
    """Ask where the copy is to lie."""
    parser.add_argument("--to", type=Path, required=True, help="data folder of the copy")
    parser.add_argument("--to-database", default="", help="as SKINPIN_DATABASE names one")
    parser.add_argument("--to-photographs", default="", help="as SKINPIN_PHOTOGRAPHS names them")


def run_transfer(given: argparse.Namespace) -> None:
    """Copy the book to another database and another place of photographs."""
    places = {"DATABASE": given.to_database, "PHOTOGRAPHS": given.to_photographs}
    named = {f"SKINPIN_{name}": place for name, place in places.items()}
    target = open_workshop(read_settings(given.to, {**os.environ, **named}))
    try:
        with _opened(given) as (_, workshop):
            found = transfer(workshop, target, _tell("photographs"))
    finally:
        target.close()
    _tell_compared(
        found,
        f"The copy in {given.to} differs from the book in {given.data}.",
        "No book was kept there. Go on with this one, and try again.",
    )
    print("Serve only one of the two from now on: the copy is the same book.")


def run_check_book(given: argparse.Namespace) -> None:
    """Read everything again and name what is missing or changed."""
    with _opened(given) as (settings, workshop):
        sentences = check_book(workshop)
        note_whole_check(workshop, settings.backups, sentences)
    if not sentences:
        print(f"The book in {given.data} is whole.")
        return
    print("\n".join(sentences))
    sys.exit(1)


def run_check_setup(given: argparse.Namespace) -> None:
    """Look whether this computer is fit to keep the book, one line each."""
    with _opened(given) as (settings, workshop):
        found = check_setup(workshop, settings.data, settings.backups)
    print("\n".join(one.line() for one in found))
    if not all(one.fit for one in found):
        sys.exit(1)


@contextmanager
def _opened(given: argparse.Namespace) -> Iterator[tuple[Settings, Workshop]]:
    settings = read_settings(given.data)
    if getattr(given, "backups", None):
        settings = settings.with_backups(given.backups)
    workshop = open_workshop(settings)
    try:
        yield settings, workshop
    finally:
        workshop.close()


def _tell(what: str) -> Callable[[int, int], None]:
    def tell(done: int, of: int) -> None:
        if sys.stderr.isatty():
            print(f"\r{done} of {of} {what}", end="\n" if done == of else "", file=sys.stderr)

    return tell


def _tell_compared(found: Sequence[Compared], message: str, hint: str) -> None:
    """Print what was compared; refuse where anything differs."""
    for one in found:
        print(f"{one.what}: {one.found}" + ("" if one.agrees else f", expected {one.expected}"))
    if not all(one.agrees for one in found):
        raise Refused("restore_differs", message, hint)
