"""What a bad line costs: photographs sent by the tablet's own sender to a real server.

A share of the parts breaks, each at a uniform point: its connection is cut after that many bytes.
Counted are the bytes of bodies that left the sender, over the bytes of the photographs.
"""

from __future__ import annotations

import json
from collections.abc import Iterator

from tests.trials.browser import browser_part
from tests.trials.own_server import own_server
from tests.trials.record import Measured

COUNT, SIZE_BYTES, BROKEN, SEED = 200, 2_500_000, 0.3, 20251103
PEER = "counted over the same breaks: the whole photograph again from its start"


def measure() -> Iterator[Measured]:
    """Send the photographs once; the breaks come again with the seed."""
    with own_server() as tablet:
        given = {"port": tablet.port, "token": tablet.token, "count": COUNT}
        given |= {"size_bytes": SIZE_BYTES, "share": BROKEN, "seed": SEED}
        told = browser_part("parts", TRIAL_GIVEN=json.dumps(given))
    all_bytes = COUNT * SIZE_BYTES
    what = f"{COUNT} photographs of {SIZE_BYTES // 1000} kB, {told['breaks']} parts broken"
    unit = f"times the bytes, {what}, seed {SEED}"
    own, peer = told["sent_bytes"] / all_bytes, told["whole_bytes"] / all_bytes
    yield Measured("parts", own, unit, PEER, peer, "<= 1.3")
