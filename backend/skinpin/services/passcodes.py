"""Passcodes: how they are kept and tried."""

import base64
import hashlib
from unicodedata import normalize

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

from skinpin.domain.errors import Refused
from skinpin.storage.secrets import Secret

ITERATIONS = 600_000
FREE_TRIES = 5
LONGEST_WAIT_S = 60
SHORTEST, LONGEST = 6, 128

_hasher = PasswordHasher()


def make_secret(person: str, passcode: str, salt: bytes) -> Secret:
    """Return what is kept of a passcode: for this server, and for a tablet without network."""
    passcode = spelling(passcode)
    if not SHORTEST <= len(passcode) <= LONGEST:
        raise Refused(
            "weak_passcode",
            f"The passcode has {len(passcode)} characters; {SHORTEST} to {LONGEST} are expected.",
            "Choose six figures or more, or a phrase.",
        )
    derived = hashlib.pbkdf2_hmac("sha256", passcode.encode(), salt, ITERATIONS)
    return Secret(person, _hasher.hash(passcode), _base64url(salt), ITERATIONS, _base64url(derived))


def is_passcode(secret: Secret | None, passcode: str) -> bool:
    """Say whether a passcode is right; takes as long for a person who has none."""
    try:
        known = secret.argon2 if secret else _nobody()
        return _hasher.verify(known, spelling(passcode)) and bool(secret)
    except (VerificationError, InvalidHashError):
        return False


def spelling(passcode: str) -> str:
    r"""Return the one spelling of a passcode: keyboards differ in how they write it.

    >>> spelling("cafe\u0301 \uff11\uff12") == "caf\xe9 12"
    True
    """
    return normalize("NFKC", passcode)


def wait_after_s(failures: int) -> int:
    """Return how long to wait after so many wrong tries in a row.

    >>> [wait_after_s(tries) for tries in (4, 5, 6, 9, 40)]
    [0, 1, 2, 16, 60]
    """
    if failures < FREE_TRIES:
        return 0
    return int(min(2 ** min(failures - FREE_TRIES, 30), LONGEST_WAIT_S))


_nobodys: list[str] = []


def _nobody() -> str:
    if not _nobodys:
        _nobodys.append(_hasher.hash("nobody has this passcode"))
    return _nobodys[0]


def _base64url(content: bytes) -> str:
    return base64.urlsafe_b64encode(content).rstrip(b"=").decode()
