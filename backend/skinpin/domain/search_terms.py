"""The terms of a search, read from what was typed; the longest that means something wins."""

import re
from collections.abc import Callable, Iterable, Mapping
from typing import NamedTuple

from skinpin.domain.errors import Refused
from skinpin.domain.figures import OPEN
from skinpin.domain.kinds import GROUPS, KINDS
from skinpin.domain.moves import state_words
from skinpin.domain.numbers import read_number, tag_holds, write_number
from skinpin.domain.permissions import STATES
from skinpin.domain.place import Definition
from skinpin.domain.search_places import JOINS, Places
from skinpin.domain.search_rows import Sought, plain

Holds = Callable[[Sought], bool]
MOST_WORDS = 8
"""No phrase that means something is longer."""
SPACE = r"\x00-\x20\x7f-\xa0\u2000-\u200f\u2028\u2029\u3000\ufeff"
TOKEN = re.compile(rf'"([^"]*)"|([^{SPACE}"]+)')
GRADE = re.compile(r"(?:g(?=[0-4]$)|(?:grade)?(>=|<=|≥|≤|>|<|=))([0-9]{1,3})")
SIGN = re.compile(r"(?:grade)?(>=|<=|≥|≤|>|<|=)")
OF_GRADE = re.compile(r"[0-4]")
FIGURE = re.compile(r"[0-9]{1,3}")
DAY = r"(?:19|20)[0-9]{2}(?:-[0-9]{2}(?:-[0-9]{2})?)?"
DATES = re.compile(rf"({DAY})|({DAY})?\.\.({DAY})?")
SHORT = re.compile(r"([abdefghjklmnqrtuvwxyz]{1,2})(/?)([1-9][0-9]{0,2})")
TAG = re.compile(r"[0-9A-Z]+?([ABDEFGHJKLMNQRTUVWXYZ]{1,2}[0-9]{4})[0-9A-Z*]")
COMPARE: Mapping[str, Callable[[int, int], bool]] = {
    ">=": lambda a, b: a >= b,
    "≥": lambda a, b: a >= b,
    "<=": lambda a, b: a <= b,
    "≤": lambda a, b: a <= b,
    ">": lambda a, b: a > b,
    "<": lambda a, b: a < b,
    "=": lambda a, b: a == b,
}


class Term(NamedTuple):
    """One term: whether it holds of a row, and whether it asks for what was raised in error."""

    holds: Holds
    asks_error: bool = False


class Vocabulary:
    """The phrases that mean something: places of a definition, kinds, states, people."""

    def __init__(self, definition: Definition | None, people: Mapping[str, str]) -> None:
        self.constructor = plain(str(definition["constructor"])) if definition else None
        self.phrases: dict[str, list[Term]] = {}
        self.places = Places(definition)
        for phrase, holds in self.places.phrases():
            self._add(phrase, Term(holds))
        for phrase, term in (*_state_terms(), *_kind_terms(), *_people_terms(people)):
            self._add(phrase, term)
        self.kinds = {phrase.lower(): term for phrase, term in _kind_terms()}

    def _add(self, phrase: str, term: Term) -> None:
        self.phrases.setdefault(phrase.lower(), []).append(term)

    def terms(self, words: str) -> list[Term]:
        """Return the terms of what was typed."""
        tokens = [
            (quoted or bare, found.group(1) is not None)
            for found in TOKEN.finditer(words.replace("\N{MINUS SIGN}", "-"))
            for quoted, bare in [found.groups("")]
        ]
        made: list[Term] = []
        at = 0
        while at < len(tokens):
            text, is_quoted = tokens[at]
            bare = [] if is_quoted else _bare(tokens[at : at + MOST_WORDS])
            term, used = self._term(bare) or (_word(text), 1)
            made += [term] if term else []
            at += used
        return made

    def _term(self, tokens: list[str]) -> tuple[Term, int] | None:
        """Return the longest term at the beginning of tokens, and how many it takes."""
        for count in range(len(tokens), 0, -1):
            known = self.phrases.get(" ".join(tokens[:count]))
            if known:
                return _any_of(known), count
            read = self._read(tokens[:count])
            if read:
                return read, count
        return None

    def _read(self, tokens: list[str]) -> Term | None:
        """Return a term that has a form of its own."""
        text, joined = " ".join(tokens), "".join(tokens)
        if len(tokens) == 1:
            known = _number(text) or _tag(text, self.constructor) or _dates(text) or _grade(text)
            return known or self._range(text) or _short_number(text)
        kind = self.kinds.get(" ".join(tokens[:-1]))
        if kind and OF_GRADE.fullmatch(tokens[-1]):
            return _both_of(kind, _compared("=", int(tokens[-1])))
        if len(tokens) == 2 and tokens[0] in ("stage", "zone"):
            return _on_stage(text) if tokens[0] == "stage" else _in_zone(tokens[1])
        if len(tokens) == 2 and tokens[0] == "grade" and FIGURE.fullmatch(tokens[1]):
            return _compared("=", int(tokens[1]))
        if len(tokens) > 3:
            return None
        if tokens[0] == "grade" or SIGN.fullmatch(tokens[0]):
            return _grade(joined)
        return self._range(joined) if tokens[1] in JOINS else _number(text)

    def _range(self, text: str) -> Term | None:
        found = self.places.between(text)
        return _any_of([Term(holds) for holds in found]) if found else None


def _on_stage(stage: str) -> Term:
    return Term(lambda sought: (sought.row["stage"] or "").lower() == stage)


def _in_zone(zone: str) -> Term:
    return Term(lambda sought: zone in sought.row["zones"])


def _bare(tokens: Iterable[tuple[str, bool]]) -> list[str]:
    """Return the tokens up to the first that was quoted, in small letters."""
    made: list[str] = []
    for text, is_quoted in tokens:
        if is_quoted:
            break
        made.append(text.lower())
    return made


def _any_of(terms: list[Term]) -> Term:
    asks_error = any(term.asks_error for term in terms)
    return Term(lambda sought: any(term.holds(sought) for term in terms), asks_error)


def _both_of(one: Term, other: Term) -> Term:
    return Term(lambda sought: one.holds(sought) and other.holds(sought))


def _word(text: str) -> Term | None:
    """Return a term that looks for words by their beginnings; signs alone say nothing."""
    wanted = plain(text)
    return Term(lambda sought: f" {wanted}" in sought.text) if wanted else None


def _number(text: str) -> Term | None:
    try:
        number = write_number(*read_number(text))
    except Refused:
        return None
    return Term(
        lambda sought: number == sought.row["number"] or number in sought.row["also_numbers"],
        asks_error=True,
    )


def _short_number(text: str) -> Term | None:
    """Return the term of a number whose noughts were left out: A9, A/9.

    Without its stroke it is a word too.
    """
    found = SHORT.fullmatch(text)
    number = _number(f"{found[1]}/{found[3]:0>4}") if found else None
    word = _word(text)
    return _any_of([number, word]) if found and number and word and not found[2] else number


def _tag(text: str, constructor: str | None) -> Term | None:
    """Return the term of a tag whose check character is right and whose airframe is this one."""
    upper = text.upper()
    found = TAG.fullmatch(upper)
    if not found or not tag_holds(upper) or upper[: found.start(1)].lower() != constructor:
        return None
    return _number(found[1])


def _dates(text: str) -> Term | None:
    """Return the term of a day, a month, a year, or a range of them that may be open."""
    found = DATES.fullmatch(text)
    if found is None or text == "..":
        return None
    first, last = found[1] or found[2] or "", found[1] or found[3] or ""
    return Term(lambda sought: _is_between(sought.row["raised_on"], first, last))


def _is_between(day: object, first: str, last: str) -> bool:
    if not isinstance(day, str):
        return False
    return first <= day and (not last or day[: len(last)] <= last)


def _grade(text: str) -> Term | None:
    found = GRADE.fullmatch(text)
    return _compared(found[1] or "=", int(found[2])) if found else None


def _compared(sign: str, grade: int) -> Term:
    """Return the term of a grade; what is not graded has none, *at least 2* counts as 2."""
    holds = COMPARE[sign]
    return Term(
        lambda sought: sought.row["grade"] is not None and holds(sought.row["grade"], grade)
    )


def _state_terms() -> Iterable[tuple[str, Term]]:
    for state in STATES:
        term = Term(_has_state(state), state == "Raised in error")
        yield from ((phrase, term) for phrase in {state, state_words(state)})
    yield "open", Term(lambda sought: sought.row["state"] in OPEN)
    yield "two values", Term(_has_two_values)


def _has_two_values(sought: Sought) -> bool:
    row = sought.row
    return bool(row.get("two_values")) or len(row.get("states", ())) > 1


def _has_state(state: str) -> Holds:
    return lambda sought: bool(sought.row["state"] == state)


def _kind_terms() -> Iterable[tuple[str, Term]]:
    for kind, row in KINDS.items():
        yield from ((phrase, Term(_has_kind(kind))) for phrase in {kind, row["label"].lower()})
    for group, label in GROUPS.items():
        yield from ((phrase, Term(_has_group(group))) for phrase in {group, label.lower()})


def _has_kind(kind: str) -> Holds:
    return lambda sought: bool(sought.row["kind"] == kind)


def _has_group(group: str) -> Holds:
    return lambda sought: sought.group == group


def _people_terms(people: Mapping[str, str]) -> Iterable[tuple[str, Term]]:
    return ((name, Term(_was_raised_by(person))) for person, name in people.items() if name)


def _was_raised_by(person: str) -> Holds:
    return lambda sought: bool(sought.row["raised_by"] == person)
