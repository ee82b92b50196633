"""The one error of the verbs: a sentence for the person who typed the command."""

from __future__ import annotations


class Refused(Exception):
    """What failed, what was expected and what to do, in one sentence or two."""
