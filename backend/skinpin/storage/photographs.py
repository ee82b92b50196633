"""The photograph folder: files named by the SHA-256 of their bytes, never written again."""

import hashlib
import re
from collections.abc import Collection
from concurrent.futures import ThreadPoolExecutor
from math import inf
from pathlib import Path
from typing import BinaryIO

from skinpin.domain.errors import Refused
from skinpin.storage.files import FileLayer

SHA256 = re.compile(r"[0-9a-f]{64}")
HEX = "0123456789abcdef"
PART_BYTES = 1024 * 1024
AHEAD_BYTES = 128 * 1024
UNHASHED_BYTES = 512 * 1024
MAX_FILE_BYTES = 64 * 1024 * 1024
RENDITION_SIZES_PX = (320, 1000, 1600)


def check_sha256(sha256: str) -> str:
    """Return a SHA-256 written as 64 lower-case hex digits, or refuse it."""
    if not SHA256.fullmatch(sha256):
        raise Refused(
            "wrong_shape",
            f"'{sha256[:80]}' is no SHA-256.",
            "Name a file by 64 hex digits in lower case.",
        )
    return sha256


class Arriving:
    """One file on its way in: bytes go to a temporary file beside the target."""

    def __init__(self, folder: "PhotographFolder", sha256: str, temporary: Path) -> None:
        self._folder, self._sha256, self._temporary = folder, sha256, temporary
        self._hash, self.size_bytes = hashlib.sha256(), 0
        self._unhashed, self._unhashed_bytes = list[bytes](), 0
        self._waiting_bytes, self._is_kept = 0, False
        self._file: BinaryIO | None = folder.layer.open_new(temporary)

    def write(self, part: bytes) -> None:
        """Take the next bytes, or refuse a file that grows past the limit."""
        assert self._file is not None
        self.size_bytes += len(part)
        if self.size_bytes > MAX_FILE_BYTES:
            raise too_large(self.size_bytes)
        self._folder.layer.write(self._file, part)
        self._waiting_bytes += len(part)
        if self._waiting_bytes > AHEAD_BYTES:
            self._folder.layer.begin_sync(self._file)
            self._waiting_bytes = 0
        self._unhashed.append(part)
        self._unhashed_bytes += len(part)
        if self._unhashed_bytes > UNHASHED_BYTES:
            self._hash_parts()

    def keep(self, *, is_sent: bool = False) -> None:
        """Give the file its name; on return no loss of power can take it away.

        `is_sent`: it came from where photographs are kept beyond this folder.
        """
        assert self._file is not None
        layer, target = self._folder.layer, self._folder.path(self._sha256)
        # The last bytes are hashed by another thread while the disk takes them.
        hashing = self._folder.hasher.submit(self._hash_parts)
        layer.sync(self._file)
        hashing.result()
        if (found := self._hash.hexdigest()) != self._sha256:
            raise Refused(
                "wrong_sha256",
                f"The bytes have the SHA-256 {found}, not {self._sha256}.",
                "Send the file again; it was damaged on the way.",
            )
        self._close()
        if not is_sent:
            self._folder.send_on(self._sha256, self._temporary)
        layer.rename(self._temporary, target)
        self._is_kept = True
        layer.sync_folder(target.parent)

    def _hash_parts(self) -> None:
        for part in self._unhashed:
            self._hash.update(part)
        self._unhashed, self._unhashed_bytes = [], 0

    def abandon(self) -> None:
        """Take the temporary file away, if the file was not kept."""
        self._close()
        if not self._is_kept:
            self._folder.layer.remove(self._temporary)

    def _close(self) -> None:
        if self._file is not None:
            self._file.close()
            self._file = None


class PhotographFolder:
    """Files by SHA-256, two levels of folders deep.

    The folders are all made at the start: a new one costs as much as the file put into it.
    """

    is_near = True
    """Whether it is said without a network's delay if a file is here."""

    def __init__(self, root: Path, layer: FileLayer | None = None) -> None:
        self.root, self.layer = root, layer or FileLayer()
        self._arrivals = root / "arriving"
        self.hasher = ThreadPoolExecutor(1, "hash")
        self.layer.make_folder(self._arrivals)
        self._made: set[Path] = set()
        self.layer.make_folders(root, HEX)
        for digit in HEX:
            self.layer.make_folders(root / digit, HEX)

    def path(self, sha256: str) -> Path:
        """Where a file lies, here or not."""
        return self.root / sha256[0] / sha256[1] / sha256

    def exists(self, sha256: str) -> bool:
        """Say whether a file is here, whole."""
        return self.layer.exists(self.path(sha256))

    def still_there(self, sha256s: Collection[str]) -> set[str]:
        """Return those of the files with a row that the folder has not lost."""
        return {one for one in sha256s if self.exists(one)}

    def hold(self, sha256: str) -> None:
        """Make the name of a file that is here durable: whoever gave it may have stopped before."""
        self.layer.sync_folder(self.path(sha256).parent)

    def send_on(self, sha256: str, file: Path) -> None:
        """Hand a whole file on to where photographs are kept beyond this folder: nowhere."""

    def open(self, sha256: str) -> BinaryIO:
        """Open a file that is here."""
        return self.layer.open(self.path(check_sha256(sha256)))

    def read(self, sha256: str) -> bytes:
        """Return the bytes of a file that is here."""
        with self.open(sha256) as file:
            return file.read()

    def is_whole(self, sha256: str) -> bool:
        """Say whether a file is here and its bytes still have their SHA-256."""
        if not self.exists(sha256):
            return False
        found = hashlib.sha256()
        with self.open(sha256) as file:
            while part := file.read(PART_BYTES):
                found.update(part)
        return found.hexdigest() == sha256

    def begin(self, sha256: str, token: str) -> Arriving:
        """Begin to take a file in; the token keeps two arrivals of one file apart."""
        return Arriving(self, check_sha256(sha256), self._arrivals / f"{sha256}.{token}")

    def put_if_absent(self, sha256: str, content: bytes, token: str) -> None:
        """Keep bytes under their SHA-256, unless they are here."""
        if self.exists(check_sha256(sha256)):
            self.hold(sha256)
            return
        arriving = self.begin(sha256, token)
        try:
            arriving.write(content)
            arriving.keep()
        finally:
            arriving.abandon()

    def sweep(self, before_s: float | None = None) -> int:
        """Remove what interrupted arrivals left behind; only at start, before any arrives.

        Where other servers share the folder, only what nobody wrote to since `before_s`.
        """
        paths = [self._arrivals / name for name in self.layer.names(self._arrivals)]
        left = [one for one in paths if before_s is None or self._changed_s(one) < before_s]
        for path in left:
            self.layer.remove(path)
        return len(left)

    def _changed_s(self, path: Path) -> float:
        try:
            return self.layer.changed_s(path)
        except FileNotFoundError:  # it was kept meanwhile
            return inf

    def rendition_path(self, sha256: str, size_px: int) -> Path:
        """Where a rendition is cached, here or not."""
        return self.root / "renditions" / str(size_px) / sha256[:2] / f"{sha256}.jpg"

    def cache_rendition(self, sha256: str, size_px: int, content: bytes, token: str) -> Path:
        """Keep a rendition; it may be lost and made again, but is never half there."""
        target = self.rendition_path(sha256, size_px)
        self._make(target.parent)
        temporary = self._arrivals / f"{sha256}.{size_px}.{token}"
        try:
            with self.layer.open_new(temporary) as file:
                self.layer.write(file, content)
                self.layer.sync(file)
            self.layer.rename(temporary, target)
        finally:
            self.layer.remove(temporary)
        return target

    def _make(self, folder: Path) -> None:
        if folder not in self._made:
            self.layer.make_folder(folder)
            self._made.add(folder)


def too_large(size_bytes: int) -> Refused:
    """Return the refusal of a file over the limit."""
    return Refused(
        "too_large",
        f"The file has {size_bytes} bytes or more; the limit is {MAX_FILE_BYTES}.",
        "Send a smaller copy.",
    )
