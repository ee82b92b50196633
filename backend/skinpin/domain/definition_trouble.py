"""What is wrong with a definition: where, a sentence, and whether it stands in the way."""

from typing import NamedTuple

REFUSED, SAID = "refused", "said"


class Trouble(NamedTuple):
    """One trouble of a definition.

    `at` is the path of what is meant, such as "structures/0/members/3"; one of weight "said" does
    not stand in the way of an issue.
    """

    at: str
    code: str
    message: str
    hint: str
    weight: str = REFUSED


def said(at: str, code: str, message: str, hint: str) -> Trouble:
    """Return a trouble that is only said."""
    return Trouble(at, code, message, hint, SAID)
