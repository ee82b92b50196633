"""Verdicts as they are kept."""

import orjson

from skinpin.domain.verdicts import COUNTS, Verdict


def write_verdict(verdict: Verdict) -> str:
    """Return a verdict as text; an empty one is a capture that counts."""
    return "" if verdict == COUNTS else orjson.dumps(tuple(verdict)).decode()


def read_verdict(text: str) -> Verdict:
    """Return a verdict kept as text.

    >>> read_verdict(write_verdict(Verdict("waits", "act", "Waiting.", ("a", "b"))))[:4]
    ('waits', 'act', 'Waiting.', ('a', 'b'))
    """
    if not text:
        return COUNTS
    result, code, reason, waits_for, *rest = orjson.loads(text)
    return Verdict(result, code, reason, tuple(waits_for), *rest)
