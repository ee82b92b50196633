"""The installed command: skinpin VERB --data DIR. Exit 0 done, 1 refused, 2 usage."""

import argparse
import gc
import getpass
import os
import socket
import sys
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

import uvicorn
from sqlalchemy.exc import OperationalError

from skinpin.app import build_app, open_workshop
from skinpin.cli_documents import (
    card_arguments,
    export_arguments,
    report_arguments,
    run_card,
    run_export,
    run_report,
)
from skinpin.cli_joining import run_take_in, take_in_arguments
from skinpin.cli_keeping import (
    backups_argument,
    no_arguments,
    restore_arguments,
    run_backup,
    run_check_book,
    run_check_setup,
    run_rehearse,
    run_restore,
    run_transfer,
    transfer_arguments,
)
from skinpin.cli_paper import form_arguments, import_arguments, run_form, run_import
from skinpin.domain.errors import Refused
from skinpin.domain.fields import ROLES
from skinpin.services.full_disk import full_disk
from skinpin.services.nightly import Nightly
from skinpin.services.people import add_person, only_lead, people_here, person_named, set_passcode
from skinpin.services.set_up import is_empty
from skinpin.services.workshop import Workshop
from skinpin.settings import read_settings

PORT = 8703
KEEP_ALIVE_S = 75
EMPTY = (
    "The book is empty: the first screen asks for workshop, time zone, unit and first lead; "
    "an airframe may come later."
)


class Verb(NamedTuple):
    """A verb: what help says, its arguments, what it does."""

    help: str
    add_arguments: Callable[[argparse.ArgumentParser], None]
    run: Callable[[argparse.Namespace], None]


def main(words: Sequence[str] | None = None) -> None:
    """Run one verb; a refusal is one sentence and exit code 1."""
    given = _parser().parse_args(words)
    try:
        given.run(given)
    except Refused as refused:
        _refuse(refused)
    except (OSError, OperationalError) as error:
        if told := full_disk(error):
            _refuse(told)
        raise


def _refuse(refused: Refused) -> None:
    print(f"{refused.message} {refused.hint}".strip(), file=sys.stderr)
    sys.exit(1)


def opened(given: argparse.Namespace) -> Workshop:
    """Open the book a command line names."""
    return open_workshop(read_settings(given.data))


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="skinpin", description=__doc__)
    verbs = parser.add_subparsers(title="verbs", required=True)
    for name, verb in VERBS.items():
        one = verbs.add_parser(name, help=verb.help, description=verb.help)
        one.add_argument("--data", type=Path, default=Path("book"), help="folder of the book")
        verb.add_arguments(one)
        one.set_defaults(run=verb.run)
    return parser


def _serve_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--port", type=int, default=PORT, help=f"port, {PORT} if left out")
    parser.add_argument("--host", default="127.0.0.1", help="address to listen at")


def _serve(given: argparse.Namespace) -> None:
    with _listen(given.host, given.port) as listener:
        settings = read_settings(given.data)
        app = build_app(settings, [_in_address(given.host)])
        address = f"http://{_in_address(given.host)}:{given.port}"
        print(f"Skinpin serves the book in {given.data} at {address}", flush=True)
        if is_empty(app.state.workshop):
            print(EMPTY, flush=True)
        _spare_garbage_collection()
        config = uvicorn.Config(
            app,
            log_level="warning",
            proxy_headers=False,
            server_header=False,
            timeout_keep_alive=KEEP_ALIVE_S,
        )
        nightly = Nightly(app.state.workshop, settings.backups)
        nightly.start()
        # The server hands Ctrl-C on once it has ended in order: it is no fault to be traced.
        with suppress(KeyboardInterrupt):
            uvicorn.Server(config).run(sockets=[listener])
        nightly.stop()


def _spare_garbage_collection() -> None:
    """Let a push of a thousand entries go by without walking all that start-up has made."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 50)


def _in_address(host: str) -> str:
    return f"[{host}]" if ":" in host else host


def _listen(host: str, port: int) -> socket.socket:
    """Take the port before anything is opened, so that a taken one is one clear sentence."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    # Named in full: the event loop sends small answers at once only on sockets that say TCP.
    listener = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind((host, port))
    except (OSError, OverflowError) as error:
        listener.close()
        raise Refused(
            "port_taken",
            f"Port {port} of {host} can't be used: {error}.",
            "End the other program or choose another --port.",
        ) from error
    return listener


def _people_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("what", choices=("list", "add", "passcode"), nargs="?", default="list")
    parser.add_argument("--name", help="whose name")
    parser.add_argument("--role", choices=ROLES, help="role of a new person")
    parser.add_argument("--stamp-number", default="", help="stamp number of a new person")
    parser.add_argument("--lead", default="", help="name of the lead this is done for")


def _people(given: argparse.Namespace) -> None:
    workshop = opened(given)
    try:
        if given.what == "list":
            for one in people_here(workshop, with_unlock=False):
                role = (one["role"] or "no role").replace("_", " ")
                print(f"{one['name']}\t{role}\t{one['stamp_number'] or '-'}")
            return
        if not given.name or (given.what == "add" and not given.role):
            raise Refused("usage", "A name (and for 'add' a role) is needed.", "--name, --role")
        lead = only_lead(workshop, given.lead)
        if given.what == "add":
            add_person(workshop, lead, given.name, given.role, given.stamp_number, _ask_passcode())
        else:
            set_passcode(workshop, lead, person_named(workshop, given.name), _ask_passcode())
        print(f"{given.name}: done")
    finally:
        workshop.close()


def _ask_passcode() -> str:
    """Ask without showing it; a script hands it in by a pipe, never as an argument."""
    if os.isatty(sys.stdin.fileno()):
        return getpass.getpass("Passcode: ")
    return sys.stdin.readline().rstrip("\n")


VERBS: dict[str, Verb] = {
    "serve": Verb("serve a book to browsers", _serve_arguments, _serve),
    "people": Verb("list people, add one, set a passcode", _people_arguments, _people),
    "report": Verb("write the report of a zone as PDF", report_arguments, run_report),
    "export": Verb("write the book as CSV, XLSX or JSON lines", export_arguments, run_export),
    "take-in": Verb("take in what a tablet wrote", take_in_arguments, run_take_in),
    "paper-form": Verb("write the form for the day of no tablets", form_arguments, run_form),
    "scale-card": Verb("write the scale card to print", card_arguments, run_card),
    "import": Verb("read an earlier paper register in", import_arguments, run_import),
    "backup": Verb("make a backup; work may go on meanwhile", backups_argument, run_backup),
    "restore": Verb("put a backup into an empty folder", restore_arguments, run_restore),
    "rehearse": Verb("restore into a scratch book, compare", backups_argument, run_rehearse),
    "check-setup": Verb("look whether this computer is fit", backups_argument, run_check_setup),
    "check-book": Verb("name what is missing or changed", no_arguments, run_check_book),
    "transfer": Verb("copy to another database or store", transfer_arguments, run_transfer),
}

if __name__ == "__main__":
    main()
