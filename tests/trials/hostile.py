"""2,000 damaged pictures for the decoder, and 100 questions of any kind for every operation."""

from __future__ import annotations

import sys
from collections.abc import Iterator

from tests.trials.kills import run
from tests.trials.record import Measured

PICTURES, EXAMPLES = 2000, 100


def measure() -> Iterator[Measured]:
    """Run CI's own tests with more examples; one that fails ends the trial."""
    pytest = [sys.executable, "-m", "pytest", "-p", "no:cacheprovider"]
    took_s = run([*pytest, "tests/imaging/test_mutated.py"], MUTATED=PICTURES)
    what = f"damaged pictures made or refused, {took_s:.0f} s"
    yield Measured("hostile", PICTURES, what, None, None, ">= 2000")
    took_s = run([*pytest, "tests/web/test_openapi.py"], OPENAPI_EXAMPLES=EXAMPLES)
    what = f"examples an operation without a fault, {took_s:.0f} s"
    yield Measured("hostile", EXAMPLES, what, None, None, ">= 100")
