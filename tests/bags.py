"""Writes the file of a memory stick as a tablet does, and faulty ones; not with the app's code."""

import base64
import hashlib
import io
import zipfile
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.utils import decode_dss_signature
from cryptography.hazmat.primitives.hashes import SHA256
from skinpin.services.enrolment import enrol, enrol_desk, give_code

from tests.benches import Bench, Tablet

BASE = "A-2025-11-03-0815"


def text_of(number: int | bytes) -> str:
    content = number.to_bytes(32, "big") if isinstance(number, int) else number
    return base64.urlsafe_b64encode(content).rstrip(b"=").decode()


@dataclass
class StickTablet:
    """A tablet that has its private key at hand, and writes files with it."""

    tablet: Tablet
    record: str
    letter: str | None
    key: ec.EllipticCurvePrivateKey = field(repr=False)

    def files(
        self, lines: Iterable[bytes], photographs: Iterable[bytes] = (), **info: str
    ) -> dict[str, bytes]:
        """Return the files of a bag by name; `info` replaces lines of bag-info.txt."""
        lines = list(lines)
        data = {"data/entries-0001.jsonl": b"".join(line + b"\n" for line in lines)}
        for one in photographs:
            data[f"data/photographs/{hashlib.sha256(one).hexdigest()}.jpg"] = one
        told = {
            "Bagging-Date": "2025-11-03",
            "Payload-Oxum": f"{sum(map(len, data.values()))}.{len(data)}",
            "Skinpin-Book": self.tablet.book,
            "Skinpin-Tablet": self.record,
            "Skinpin-Letter": self.letter or "",
            "Skinpin-Entries": str(len(lines)),
        } | {name.replace("_", "-"): value for name, value in info.items()}
        bag_info = "".join(f"{name}: {value}\n" for name, value in told.items() if value)
        return self.signed(data, bag_info.encode())

    def signed(self, data: Mapping[str, bytes], bag_info: bytes) -> dict[str, bytes]:
        """Return a bag's files with manifests and a signature that hold."""
        tags = {
            "bagit.txt": b"BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n",
            "bag-info.txt": bag_info,
            "manifest-sha256.txt": manifest(data),
        }
        listed = manifest(tags)
        r, s = decode_dss_signature(self.key.sign(listed, ec.ECDSA(SHA256())))
        signature = text_of(r.to_bytes(32, "big") + s.to_bytes(32, "big"))
        last = {"tagmanifest-sha256.txt": listed, "signature.txt": signature.encode() + b"\n"}
        return {**data, **tags, **last}


def manifest(files: Mapping[str, bytes]) -> bytes:
    return b"".join(
        f"{hashlib.sha256(content).hexdigest()}  {name}\n".encode()
        for name, content in files.items()
    )


def zipped(files: Mapping[str, bytes], base: str = BASE, how: int = zipfile.ZIP_STORED) -> bytes:
    """Return a ZIP of one folder with these files."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", how) as zip_:
        for name, content in files.items():
            zip_.writestr(f"{base}/{name}", content)
    return out.getvalue()


def stick_tablet(bench: Bench, writer: str = "tableta1", *, desk: bool = False) -> StickTablet:
    """Enrol a tablet (or a desk) whose private key is kept."""
    key = ec.generate_private_key(ec.SECP256R1())
    numbers = key.public_key().public_numbers()
    public = {"kty": "EC", "crv": "P-256", "x": text_of(numbers.x), "y": text_of(numbers.y)}
    workshop, lead = bench.workshop, bench.new.lead
    if desk:
        done = enrol_desk(workshop, lead, public)
    else:
        done = enrol(workshop, give_code(workshop, lead), public)
    tablet = Tablet(done.device, done.token, bench.new.book, lead, bench.role_entry, writer)
    return StickTablet(tablet, done.tablet, done.letter, key)
