"""The page that restores a book on a bare machine: printed today, kept with the backup disk."""

from pathlib import Path

from skinpin.domain.errors import Refused
from skinpin.services.workshop import Workshop
from skinpin.storage.backups import BackupFolder
from skinpin.storage.log import find_book

PAGE = """\
RESTORING THE BOOK ON A BARE MACHINE

Book {book}
Newest backup when this page was printed: {name}
in the folder {backups}

10  A computer with Linux or macOS, Python 3.11 or newer; Node 20.19 or newer
    to build. Skinpin's own folder, and the disk with the backups.
20  In Skinpin's folder, install and build; end it again with Ctrl-C:
        python3 run.py serve --data scratch
30  Put the newest backup into a folder that is not there yet:
        .venv/bin/skinpin restore --data book --backups FOLDER_OF_BACKUPS
    It compares every table, record and photograph and prints what it found.
    A line that says 'expected' is a difference: keep both, go no further.
40  Read everything once more; it must say that the book is whole:
        .venv/bin/skinpin check-book --data book
50  Look whether this computer is fit to keep it:
        .venv/bin/skinpin check-setup --data book --backups FOLDER_OF_BACKUPS
60  Serve it under the same name and port as before; to tablets another
    address is another app:
        python3 run.py serve --data book
70  Sign in; passcodes are those of the backup. On each tablet: SEND NOW. It
    sends again whatever the backup lacks; nothing is doubled.
80  A tablet enrolled after the backup is not known: give it a new code. A
    tablet that can't reach the server writes a file: see TAKE IN A FILE.
90  Rehearse once, and print this page anew:
        .venv/bin/skinpin rehearse --data book --backups FOLDER_OF_BACKUPS

Done by ____________________  on ______________  book whole: yes / no
"""


def restore_page(workshop: Workshop, backups: Path) -> str:
    """Return the page as text of at most 80 letters a line, with what is known of the book."""
    with workshop.reading() as connection:
        book = find_book(connection)
    if book is None:
        raise Refused("no_book", "There is no book here yet.", "Set it up on the first screen.")
    names = BackupFolder(backups).names()
    name = names[-1] if names else "none yet: run 'skinpin backup'"
    return PAGE.format(book=book.id, name=name, backups=backups)
