"""Runs trials by name, or all, and prints one JSON object a line."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator

from tests.trials import (
    again,
    faults,
    file,
    first_pull,
    grading,
    hostile,
    joining,
    keys,
    kills,
    load,
    measuring,
    pairs,
    parts,
    photographs,
    pull,
    registration,
    report,
    second_database,
    start,
)
from tests.trials.record import Measured

TRIALS: dict[str, Callable[[], Iterator[Measured]]] = {
    "joining": joining.measure,
    "file": file.measure,
    "pull": pull.measure,
    "first-pull": first_pull.measure,
    "photographs": photographs.measure,
    "parts": parts.measure,
    "grading": grading.measure,
    "pairs": pairs.measure,
    "report": report.measure,
    "start": start.measure,
    "keys": keys.measure,
    "load": load.measure,
    "again": again.measure,
    "faults": faults.measure,
    "kills": kills.measure,
    "hostile": hostile.measure,
    "measuring": measuring.measure,
    "registration": registration.measure,
    "second-database": second_database.measure,
}


def main(names: list[str]) -> int:
    """Run the trials; exit code 1 where a goal was missed, 2 for an unknown name."""
    unknown = [name for name in names if name not in TRIALS]
    if unknown:
        print(f"There is no trial {unknown[0]}. Choose from: {', '.join(TRIALS)}.", file=sys.stderr)
        return 2
    all_met = True
    for name in names or list(TRIALS):
        for measured in TRIALS[name]():
            print(measured.line(), flush=True)
            all_met = all_met and measured.met
    return 0 if all_met else 1


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
