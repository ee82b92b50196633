"""Reads a bag as RFC 8493 has it, knowing nothing of Skinpin: complete and valid, or a sentence.

Sections: 2.1.1 declaration, 2.1.2 payload, 2.1.3 payload manifest, 2.2.1 tag manifest, 2.2.2
metadata with Payload-Oxum, 3 complete and valid.
"""

import hashlib
import json
import sys
import zipfile
from pathlib import Path


def lines(content: bytes) -> list[str]:
    return content.decode("utf-8").splitlines()


def manifest(content: bytes) -> dict[str, str]:
    """Section 2.1.3: checksum, whitespace, path; %0A, %0D and %25 stand for LF, CR and %."""
    listed = {}
    for line in lines(content):
        checksum, path = line.split(None, 1)
        for spelt, meant in (("%0A", "\n"), ("%0D", "\r"), ("%25", "%")):
            path = path.replace(spelt, meant)
        assert path not in listed, f"2.1.3: {path} is listed twice"
        listed[path] = checksum.lower()
    return listed


def read_bag(files: dict[str, bytes]) -> dict[str, str]:
    """Return the metadata of a bag given by the names of its files within the base directory."""
    version, encoding = lines(files["bagit.txt"])
    assert version == "BagIt-Version: 1.0", "2.1.1"
    assert encoding == "Tag-File-Character-Encoding: UTF-8", "2.1.1"
    payload = {name: content for name, content in files.items() if name.startswith("data/")}
    listed = manifest(files["manifest-sha256.txt"])
    assert set(listed) == set(payload), "2.1.3: the payload manifest lists every payload file"
    tags = manifest(files["tagmanifest-sha256.txt"])
    assert "manifest-sha256.txt" in tags, "2.2.1: every payload manifest is listed"
    assert not any(name.startswith("tagmanifest-") for name in tags), "2.2.1"
    assert not any(name.startswith("data/") for name in tags), "2.2.1: tag files alone"
    for name, checksum in {**listed, **tags}.items():
        assert hashlib.sha256(files[name]).hexdigest() == checksum, f"3: {name} is not valid"
    info = dict(line.split(": ", 1) for line in lines(files["bag-info.txt"]))
    octets = sum(map(len, payload.values()))
    assert info["Payload-Oxum"] == f"{octets}.{len(payload)}", "2.2.2"
    return info


def unzipped(path: Path) -> tuple[str, dict[str, bytes]]:
    """Return the one base directory of a ZIP and the files in it; every CRC is checked."""
    with zipfile.ZipFile(path) as zipped:
        assert zipped.testzip() is None
        found = {one.filename: zipped.read(one) for one in zipped.infolist()}
    [base] = {name.partition("/")[0] for name in found}
    return base, {name.partition("/")[2]: content for name, content in found.items()}


if __name__ == "__main__":
    base, files = unzipped(Path(sys.argv[1]))
    print(json.dumps({"base": base, "info": read_bag(files), "files": sorted(files)}))
