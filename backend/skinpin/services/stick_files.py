"""Takes in what a tablet wrote to a memory stick: checked as a whole, then stored once."""

import base64
import hashlib
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ec import (
    ECDSA,
    SECP256R1,
    EllipticCurvePublicNumbers,
)
from cryptography.hazmat.primitives.asymmetric.utils import encode_dss_signature
from cryptography.hazmat.primitives.hashes import SHA256
from skinpin_sync.canonical import RefusedLine
from skinpin_sync.chain import Draft
from skinpin_sync.exchange import judge, read_lines
from skinpin_sync.standing import Standing, field_values, seen_for
from sqlalchemy import Connection

from skinpin.domain.errors import Refused
from skinpin.services.devices import why_shut
from skinpin.services.people import Person, book_text, find_person
from skinpin.services.photographs import Upload
from skinpin.services.push import FAST, check_book, need_book, push, write_act_here
from skinpin.services.workday import workshop_day
from skinpin.services.workshop import Workshop
from skinpin.storage.bag_tags import not_a_bag
from skinpin.storage.bags import Bag, OpenBag, open_bag
from skinpin.storage.devices import Device, find_device_of
from skinpin.storage.log import held_lines
from skinpin.storage.records import find_records

TAKERS = ("lead", "clerk")
Progress = Callable[[str, int, int], None]


class Taken(NamedTuple):
    """What became of a file: of its entries and photographs, how many were new here.

    `turned` are the sentences of lines refused at the door, as an exchange would tell them.
    """

    letter: str | None
    sha256: str
    entries: int
    stored: int
    photographs: int
    photographs_stored: int
    turned: list[str]


def take_in(
    workshop: Workshop,
    by: str,
    path: Path,
    reason: str = "",
    progress: Progress = lambda words, done, of: None,
) -> Taken:
    """Check a tablet's file and store what is new in it, for a lead or a clerk.

    Whatever is wrong with the file is found before anything is stored, and who takes it in is
    written before the rest. Stopped half-way, the same file taken in again stores what lacks: each
    photograph and each part of the entries is stored whole, and by its hash or id only once.

    Raises
    ------
    Refused
        If this is no whole file of a tablet of this book, or the tablet is lost or ended and
        no lead gives a reason.
    """
    need_taker(workshop, by)
    with open_bag(path, lambda done, of: progress("files checked", done, of)) as opened:
        bag = opened.bag
        device = _check_sender(workshop, by, bag, reason)
        _note(workshop, by, device, _planned(workshop, opened), reason)
        new_files = 0
        for done, (sha256, name) in enumerate(bag.photographs.items(), 1):
            new_files += _keep_photograph(workshop, sha256, opened, name)
            progress("photographs", done, len(bag.photographs))
        entries = stored = 0
        turned: list[str] = []
        for done, name in enumerate(bag.entries, 1):
            results = push(workshop, bag.info["Skinpin-Book"], opened.read(name))["results"]
            entries += len(results)
            stored += sum(one["result"] == "stored" for one in results)
            turned += [one["reason"] for one in results if one["result"] == "refused"]
            progress("parts of the entries", done, len(bag.entries))
    counts = (entries, stored, len(bag.photographs), new_files)
    return Taken(device.letter, _file_sha256(bag), *counts, turned)


def need_taker(workshop: Workshop, person: str) -> Person:
    """Return the person, or refuse who books no tablets in."""
    with workshop.reading() as connection:
        found = find_person(connection, person, workshop_day(workshop, connection))
    if found is None or found.role not in TAKERS:
        role = ((found and found.role) or "somebody without a role").replace("_", " ")
        raise Refused(
            "not_allowed",
            f"A tablet's file is taken in by a lead or a clerk; it was asked by {role}.",
            "Ask a lead or a clerk.",
        )
    return found


def _check_sender(workshop: Workshop, by: str, bag: Bag, reason: str) -> Device:
    """Return the tablet that wrote and signed the file, or refuse."""
    tablet = bag.info.get("Skinpin-Tablet", "")
    with workshop.reading() as connection:
        check_book(need_book(connection), bag.info.get("Skinpin-Book", ""))
        found = find_device_of(connection, tablet)
        if found is None:
            raise Refused(
                "no_such_device",
                f"No tablet '{tablet[:64]}' was ever enrolled in this book.",
                "Nothing was stored. Look whether the file belongs to another workshop.",
            )
        device = found[0]
        standing = find_records(connection, [tablet])[tablet].standing
        _check_signature(bag, standing, device)
        why = why_shut(workshop, connection, found)
        if why:
            _check_confirmed(workshop, connection, by, why, reason)
    return device


def _check_signature(bag: Bag, standing: Standing, device: Device) -> None:
    keys = field_values(standing, "public_key").values()
    if not any(_is_signed(bag, key) for key in keys):
        raise Refused(
            "wrong_signature",
            f"The file is not signed by {_named(device)}, which it names as its writer.",
            "Nothing was stored. Write it again on the tablet, or ask who made it.",
        )
    if bag.info.get("Skinpin-Letter", "") != (device.letter or ""):
        raise not_a_bag("The file gives another letter than its tablet has.")


def _is_signed(bag: Bag, key: object) -> bool:
    """Say whether the signature, r then s of 32 bytes each, is over the tag manifest."""
    try:
        assert isinstance(key, dict)
        raw = _bytes(bag.signature, 64)
        x, y = (int.from_bytes(_bytes(key[name], 32), "big") for name in ("x", "y"))
        r, s = (int.from_bytes(half, "big") for half in (raw[:32], raw[32:]))
        public = EllipticCurvePublicNumbers(x, y, SECP256R1()).public_key()
        public.verify(encode_dss_signature(r, s), bag.signed, ECDSA(SHA256()))
    except (AssertionError, KeyError, TypeError, ValueError, InvalidSignature):
        return False
    return True


def _bytes(text: str, length: int) -> bytes:
    content = base64.b64decode(text + "=" * (-len(text) % 4), b"-_", validate=True)
    if len(content) != length:
        raise ValueError("of another length")
    return content


def _check_confirmed(
    workshop: Workshop, connection: Connection, by: str, why: str, reason: str
) -> None:
    if not reason.strip():
        raise Refused(
            "lost_tablet", why, "A lead may take its file in all the same, with a reason."
        )
    person = find_person(connection, by, workshop_day(workshop, connection))
    if person is None or person.role != "lead":
        raise Refused("not_allowed", f"{why} Its file is for a lead to take in.", "Ask a lead.")


def _planned(workshop: Workshop, opened: OpenBag) -> dict[str, Any]:
    """Return what is told of a file: how many of its entries and photographs are new here.

    Every line is read: a file that is cut short in the middle stores nothing.
    """
    count, new = 0, set[str | None]()
    for name in opened.bag.entries:
        try:
            reads = read_lines(opened.read(name), FAST)
        except RefusedLine as refused:
            raise not_a_bag(f"'{name}': {refused.message}") from refused
        with workshop.reading() as connection:
            held = held_lines(connection, [one.entry.id for one in reads if one.entry])
        results = judge(reads, {id: sha256 for id, (_, sha256) in held.items()})
        new |= {one.id for one in results if one.result == "stored"}
        count += len(reads)
    if str(count) != opened.bag.info.get("Skinpin-Entries"):
        raise not_a_bag(f"The file holds {count} entries, which is not the number it gives.")
    here = sum(workshop.folder.exists(sha256) for sha256 in opened.bag.photographs)
    new_files = len(opened.bag.photographs) - here
    return {"file": _file_sha256(opened.bag), "entries": len(new), "photographs": new_files}


def _file_sha256(bag: Bag) -> str:
    return hashlib.sha256(bag.signed).hexdigest()


def _keep_photograph(workshop: Workshop, sha256: str, opened: OpenBag, name: str) -> bool:
    upload = Upload(workshop, sha256)
    try:
        if not upload.is_here:
            for part in opened.parts(name):
                upload.write(part)
        return upload.finish()
    finally:
        upload.abandon()


def _note(workshop: Workshop, by: str, device: Device, told: dict[str, Any], reason: str) -> None:
    """Write into the book who takes a file in, what is new in it, and a lead's reason.

    It comes before what it tells of, so that no stop leaves the one without the other.
    """
    if not told["entries"] and not told["photographs"]:
        return
    with workshop.writing() as connection:
        person = find_person(connection, by, workshop_day(workshop, connection))
        seen = seen_for(find_records(connection, [device.record])[device.record].standing,
                        ["taken_in"])  # fmt: skip
        relies = [person.role_entry] if person and person.role_entry else []
        why = book_text(reason) or None
        draft = Draft(device.record, "tablet", {"taken_in": told}, seen, relies, why)
        write_act_here(workshop, connection, by, [draft])


def _named(device: Device) -> str:
    return f"tablet {device.letter}" if device.letter else "the desk"
