"""Chains: what a writer writes one after the other, and whether it is all there unchanged."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from .canonical import sha256_hex
from .clock import Clock, tick
from .entry import Entry, make_entry, to_line, wrong_shape


class Draft(NamedTuple):
    """What a person wants written about one record."""

    record: str
    kind: str
    set: dict[str, Any]
    seen: Mapping[str, Sequence[str]] = {}
    relies: Sequence[str] = ()
    why: str | None = None
    signed: bool = False


class Chain(NamedTuple):
    """A writer's clock, and the number and SHA-256 of its last entry."""

    clock: Clock
    n: int
    prev: str | None


Sign = Callable[[bytes], dict[str, str]]


def write_act(
    chain: Chain, now_ms: int, drafts: Sequence[Draft], *, act: str, by: str, device: str,
    wall: str, schema: int, sign: Sign | None = None,
) -> tuple[Chain, list[tuple[Entry, bytes]]]:  # fmt: skip
    """Return the chain after an act, and the act's entries with their lines."""
    if len({draft.record for draft in drafts}) != len(drafts):
        raise wrong_shape("An act holds at most one entry a record; put the fields together.")
    written = []
    for draft in drafts:
        clock, stamp = tick(chain.clock, now_ms)
        entry = make_entry(
            id=stamp, n=chain.n + 1, prev=chain.prev, act=(act, len(drafts)), by=by, device=device,
            wall=wall, schema=schema, record=draft.record, kind=draft.kind, set=draft.set,
            seen={f: list(ids) for f, ids in draft.seen.items() if ids},
            relies=list(draft.relies), why=draft.why,
        )  # fmt: skip
        if draft.signed and sign:
            entry = make_entry(**{**entry._asdict(), "sig": sign(to_line(entry))})
        line = to_line(entry)
        written.append((entry, line))
        chain = Chain(clock, entry.n, sha256_hex(line))
    return chain, written


class Link(NamedTuple):
    """What a chain check needs of an entry; of a refused one prev and device are unknown."""

    id: str
    n: int
    prev: str | None
    sha256: str
    device: str | None = None


class ChainFault(NamedTuple):
    """A place where a writer's entries do not follow each other."""

    what: str  # changed, gap, no_start, same_n, wrong_prev
    writer: str
    n: int
    id: str


class Chains(NamedTuple):
    """Faults of all chains, and the forks: groups of first entries that name one entry."""

    faults: list[ChainFault]
    forks: list[list[str]]


def link(entry: Entry, sha256: str) -> Link:
    """Return the link of an entry whose line has this SHA-256."""
    return Link(entry.id, entry.n, entry.prev, sha256, entry.device)


def chain_faults(
    links: Iterable[Link], refused: Iterable[Link] = (), kept: Mapping[str, str] | None = None
) -> Chains:
    """Return where chains have gaps, changes and forks.

    Refused entries stand in as links; `kept` holds the SHA-256 each id had on arrival.
    """
    links, refused = list(links), list(refused)
    writers, starts = defaultdict(list), defaultdict(list)
    for one in sorted({*links, *refused}, key=lambda one: (one.n, one.id, one.sha256)):
        writers[one.id[-8:]].append(one)
        if one.n == 1 and one.prev:
            starts[one.prev].append(one.id)
    everywhere = {one.sha256 for one in (*links, *refused)}
    faults = [_fault("changed", one) for one in links if _is_changed(one, kept or {})]
    for chain in writers.values():
        faults += _writer_faults(chain, everywhere)
    return Chains(sorted(faults), sorted(ids for ids in starts.values() if len(ids) > 1))


def _fault(what: str, one: Link) -> ChainFault:
    return ChainFault(what, one.id[-8:], one.n, one.id)


def _is_changed(one: Link, kept: Mapping[str, str]) -> bool:
    return kept.get(one.id, one.sha256) != one.sha256


def _writer_faults(chain: list[Link], everywhere: set[str]) -> Iterator[ChainFault]:
    at: dict[int, set[str]] = defaultdict(set)
    for one in chain:
        if at[one.n]:
            yield _fault("same_n", one)
        at[one.n].add(one.sha256)
        before = at.get(one.n - 1)
        if one.n > 1 and not before:
            yield _fault("gap", one)
        elif one.prev:
            if before and one.prev not in before:
                yield _fault("wrong_prev", one)
            elif one.n == 1 and one.prev not in everywhere:
                yield _fault("no_start", one)


def reached(links: Iterable[Link], ends: Iterable[str]) -> set[str]:
    """Return the ids of the ends and of everything before them in their chains."""
    links = list(links)
    by_id, by_sha256 = {one.id: one for one in links}, {one.sha256: one for one in links}
    found: set[str] = set()
    for end in ends:
        one = by_id.get(end)
        while one and one.id not in found:
            found.add(one.id)
            one = by_sha256.get(one.prev or "")
    return found
