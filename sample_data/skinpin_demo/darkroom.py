"""Draws the pictures of the demo on every processor there is, those in the cache left alone."""

import os
from collections.abc import Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from multiprocessing import get_context
from pathlib import Path

from skinpin_demo.photographs.picture import Shot, cached, photograph

# Fields of some megabytes come and go; handing each back to the system took a third of the time.
_KEEP_MEMORY = {"MALLOC_MMAP_THRESHOLD_": "1000000000", "MALLOC_TRIM_THRESHOLD_": "4000000000"}


def draw_all(shots: Iterable[Shot], cache: Path) -> None:
    """Draw the pictures that are not in the cache yet."""
    missing = [shot for shot in shots if not cached(shot, cache).exists()]
    if not missing:
        return
    workers = ProcessPoolExecutor(mp_context=get_context("spawn"))
    with _environment(_KEEP_MEMORY), workers:
        list(workers.map(photograph, missing, [cache] * len(missing), chunksize=4))


@contextmanager
def _environment(words: dict[str, str]) -> Iterator[None]:
    """Set words of the environment for processes started meanwhile."""
    before = {name: os.environ.get(name) for name in words}
    os.environ.update(words)
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                del os.environ[name]
            else:
                os.environ[name] = value
