"""Reads a file that a tablet wrote: a ZIP that holds one bag of RFC 8493, and nothing else.

Nothing is unpacked: names are held against the few that may be there, and bytes are only hashed.
"""

import hashlib
import re
import struct
import zipfile
import zlib
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from errno import EINVAL
from pathlib import Path
from typing import NamedTuple

from skinpin.domain.errors import Refused
from skinpin.storage.bag_tags import (
    BAGIT,
    INFO,
    MANIFEST,
    SIGNATURE,
    TAG_MANIFEST,
    not_a_bag,
    read_bagit,
    read_info,
    read_manifest,
)

MAX_BAG_BYTES = 4_294_967_295
MAX_MEMBERS = 20_000
MAX_PHOTOGRAPH_BYTES = 64 * 1024 * 1024
MAX_ENTRIES_BYTES = 8 * 1024 * 1024
MAX_TAG_BYTES = 4 * 1024 * 1024
MAX_RATIO = 50
"""Canonical lines pack to a tenth and photographs not at all; more is made to burst."""
PART_BYTES = 1024 * 1024
BASE = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,79}")
ENTRIES = re.compile(r"data/entries-[0-9]{4}\.jsonl")
PHOTOGRAPH = re.compile(r"data/photographs/([0-9a-f]{64})(?:\.[a-z0-9]{1,8})?")
FOLDERS = {"", "data/", "data/photographs/"}
TAGS = (BAGIT, INFO, MANIFEST, TAG_MANIFEST, SIGNATURE)
_END = struct.Struct("<4s4H2LH")
_LOCATOR_BYTES = 20  # of the end of a ZIP64, which would name another list
_BROKEN = (
    *(zipfile.BadZipFile, zlib.error, struct.error, EOFError),
    *(NotImplementedError, RuntimeError, ValueError, IndexError),
)
Progress = Callable[[int, int], None]


class Bag(NamedTuple):
    """A bag whose layout and hashes hold; `signed` are the bytes that `signature` is over.

    `entries` and `photographs` name members, in the order of their names.
    """

    info: dict[str, str]
    signed: bytes
    signature: str
    entries: list[str]
    photographs: dict[str, str]
    members: dict[str, zipfile.ZipInfo]


@contextmanager
def open_bag(path: Path, progress: Progress = lambda done, of: None) -> Iterator["OpenBag"]:
    """Open a file and check all of it; a faulty one is refused with a sentence."""
    _check_end(path)
    with ExitStack() as stack:
        try:
            zipped = stack.enter_context(zipfile.ZipFile(path))
            opened = OpenBag(zipped, path.stat().st_size, progress)
        except OSError as error:
            if error.errno != EINVAL:
                raise
            raise not_a_bag("The file can't be read as a ZIP.") from error
        except _BROKEN as error:
            raise not_a_bag(f"The file can't be read as a ZIP: {_said(error)}.") from error
        yield opened


class OpenBag:
    """A bag that is open; every member was read through once and its hash holds."""

    def __init__(self, zipped: zipfile.ZipFile, size_bytes: int, progress: Progress) -> None:
        self._zipped = zipped
        members = _members(zipped, size_bytes)
        text = {name: self._whole(members[name], MAX_TAG_BYTES) for name in TAGS}
        read_bagit(text[BAGIT])
        info, manifest = read_info(text[INFO]), read_manifest(MANIFEST, text[MANIFEST])
        payload = {name for name in members if name.startswith("data/")}
        _check_listed(MANIFEST, set(manifest), payload)
        tags = read_manifest(TAG_MANIFEST, text[TAG_MANIFEST])
        _check_listed(TAG_MANIFEST, set(tags), {BAGIT, INFO, MANIFEST})
        for name, sha256 in tags.items():
            _check_hash(name, hashlib.sha256(text[name]).hexdigest(), sha256)
        sizes = [members[name].file_size for name in payload]
        if info.get("Payload-Oxum") != f"{sum(sizes)}.{len(sizes)}":
            raise not_a_bag("Payload-Oxum does not give the size and number of the files in data.")
        self._check_payload(members, manifest, progress)
        signature = text[SIGNATURE].decode("ascii", "replace").strip()
        self.bag = Bag(
            info,
            text[TAG_MANIFEST],
            signature,
            sorted(name for name in payload if ENTRIES.fullmatch(name)),
            {found[1]: name for name in sorted(payload) if (found := PHOTOGRAPH.fullmatch(name))},
            members,
        )

    def read(self, name: str) -> bytes:
        """Return the bytes of a member of moderate size."""
        return self._whole(self.bag.members[name], MAX_ENTRIES_BYTES)

    def parts(self, name: str) -> Iterator[bytes]:
        """Return the bytes of a member bit by bit."""
        return self._parts(self.bag.members[name])

    def _whole(self, member: zipfile.ZipInfo, most: int) -> bytes:
        if member.file_size > most:
            raise not_a_bag(f"'{_short(member)}' is larger than such a file can be.")
        return b"".join(self._parts(member))

    def _parts(self, member: zipfile.ZipInfo) -> Iterator[bytes]:
        with self._zipped.open(member) as file:
            while part := file.read(PART_BYTES):
                yield part

    def _check_payload(
        self, members: dict[str, zipfile.ZipInfo], manifest: dict[str, str], progress: Progress
    ) -> None:
        for done, (name, sha256) in enumerate(manifest.items(), 1):
            found = hashlib.sha256()
            for part in self._parts(members[name]):
                found.update(part)
            _check_hash(name, found.hexdigest(), sha256)
            named = PHOTOGRAPH.fullmatch(name)
            if named and named[1] != sha256:
                raise not_a_bag(f"The photograph {named[1]} is named by another hash than its own.")
            progress(done, len(manifest))


def _check_end(path: Path) -> None:
    """Read the end of the file first, so that no list longer than allowed is ever read in."""
    size_bytes = path.stat().st_size
    if size_bytes > MAX_BAG_BYTES:
        raise Refused("too_large", f"The file has {size_bytes} bytes; the limit is 4 GB.", "")
    with path.open("rb") as file:
        file.seek(max(size_bytes - _END.size - _LOCATOR_BYTES, 0))
        end = file.read()
    locator, last = end[: -_END.size], end[-_END.size :]
    if len(last) < _END.size or last[:4] != b"PK\x05\x06":
        raise not_a_bag("The file is no ZIP, was cut short, or has something after its end.")
    if locator[:4] == b"PK\x06\x07":
        raise not_a_bag("The ZIP has a second list of its files.")
    _, disk, disk_of_list, here, count, list_bytes, at, comment = _END.unpack(last)
    if (disk, disk_of_list, here, comment) != (0, 0, count, 0):
        raise not_a_bag("The end of the ZIP is not as it is written here.")
    if count > MAX_MEMBERS or list_bytes > count * 512:
        raise not_a_bag(f"The ZIP lists {count} files; at most {MAX_MEMBERS} are expected.")
    if at + list_bytes + _END.size != size_bytes:
        raise not_a_bag("The ZIP has something before its begin, or was cut short.")


def _members(zipped: zipfile.ZipFile, size_bytes: int) -> dict[str, zipfile.ZipInfo]:
    """Return the files by their names within the bag, or refuse what does not belong in one."""
    every = zipped.infolist()
    if not every:
        raise not_a_bag("The ZIP is empty.")
    base = every[0].orig_filename.partition("/")[0]
    if not BASE.fullmatch(base):
        raise not_a_bag("The ZIP does not hold one folder with the bag in it.")
    members: dict[str, zipfile.ZipInfo] = {}
    for one in every:
        folder, slash, name = one.orig_filename.partition("/")
        if folder != base or not slash:
            raise not_a_bag(f"'{_short(one)}' lies outside the folder '{base}'.")
        if name in FOLDERS and one.file_size == 0:
            continue
        if name in members:
            raise not_a_bag(f"'{_short(one)}' is there twice.")
        _check_member(one, name)
        members[name] = one
    lacking = [name for name in TAGS if name not in members]
    if lacking:
        raise not_a_bag(f"The file {lacking[0]} is missing.")
    if sum(one.compress_size for one in every) > size_bytes:
        raise not_a_bag("Files of the ZIP lie over one another.")
    if sum(one.file_size for one in every) > MAX_BAG_BYTES:
        raise not_a_bag("Unpacked the files would have more than 4 GB.")
    return members


def _check_member(one: zipfile.ZipInfo, name: str) -> None:
    most = (
        MAX_TAG_BYTES if name in TAGS
        else MAX_ENTRIES_BYTES if ENTRIES.fullmatch(name)
        else MAX_PHOTOGRAPH_BYTES if PHOTOGRAPH.fullmatch(name)
        else None
    )  # fmt: skip
    if most is None:
        raise not_a_bag(f"'{_short(one)}' does not belong into a tablet's file.")
    if one.flag_bits & 0x1 or one.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
        raise not_a_bag(f"'{_short(one)}' is encrypted or packed in a way that is not read here.")
    if one.file_size > most or one.file_size > max(one.compress_size, 1024) * MAX_RATIO:
        raise not_a_bag(f"'{_short(one)}' would unpack to {one.file_size} bytes.")


def _check_listed(where: str, listed: set[str], here: set[str]) -> None:
    odd = sorted(listed ^ here)
    if odd:
        what = "is listed but missing" if odd[0] in listed else "is there but not listed"
        raise not_a_bag(f"'{odd[0][:120]}' {what} in {where}.")


def _check_hash(name: str, found: str, expected: str) -> None:
    if found != expected:
        raise Refused(
            "wrong_sha256",
            f"'{name}' has the SHA-256 {found}, not {expected}.",
            "The file was damaged or changed. Nothing was stored; write it again on the tablet.",
        )


def _short(member: zipfile.ZipInfo) -> str:
    return ascii(member.orig_filename[:120])[1:-1]


def _said(error: Exception) -> str:
    return ascii(str(error)[:160])[1:-1].rstrip(".") or type(error).__name__
