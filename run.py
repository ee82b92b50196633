#!/usr/bin/env python3
"""Verbs for people and for CI: demo, serve, test, check, trials, screenshots, lock."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from runs import checking, locking, measuring, serving, testing
from runs.refusal import Refused


def read_arguments(words: list[str]) -> argparse.Namespace:
    """Return the verb and its options."""
    parser = argparse.ArgumentParser(prog="run.py", description=__doc__)
    verbs = parser.add_subparsers(dest="verb", required=True, metavar="VERB")
    add_serving(verbs, "demo", ".demo", serving.demo, "serve the demo book")
    add_serving(verbs, "serve", "book", serving.serve, "serve a book of your own")
    check = verbs.add_parser("check", help="format, lint, types, import map, docs, licences")
    check.add_argument("--mend", action="store_true", help="mend what a tool can mend first")
    check.set_defaults(act=lambda chosen: checking.check(chosen.mend))
    test = verbs.add_parser("test", help="every test")
    test.add_argument("suites", nargs="*", metavar="SUITE", help=", ".join(testing.SUITES))
    test.set_defaults(act=lambda chosen: testing.test(chosen.suites))
    trials = verbs.add_parser("trials", help="measurements, one JSON object a line")
    trials.add_argument("names", nargs="*", metavar="NAME")
    trials.set_defaults(act=lambda chosen: measuring.trials(chosen.names))
    shots = verbs.add_parser("screenshots", help="pictures of every screen in both lights")
    shots.set_defaults(act=lambda chosen: testing.screenshots())
    lock = verbs.add_parser("lock", help="write the lock files and THIRD-PARTY.md again")
    lock.set_defaults(act=lambda chosen: locking.lock())
    return parser.parse_args(words)


def add_serving(verbs, name, folder, act, summary) -> None:  # type: ignore[no-untyped-def]
    """Add one of the two verbs that serve a book."""
    verb = verbs.add_parser(name, help=summary)
    verb.add_argument("--port", type=int, default=8703)
    verb.add_argument("--data", type=Path, default=Path(folder), help="folder of the book")
    verb.set_defaults(act=lambda chosen: act(chosen.data, chosen.port))


def main(words: list[str]) -> int:
    """Run one verb; a refusal is one sentence and exit code 1."""
    try:
        chosen = read_arguments(words)
        return int(chosen.act(chosen))
    except Refused as refusal:
        print(refusal, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
