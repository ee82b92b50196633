"""Pictures drawn beside each other: all are there, and what was there is left alone."""

import os

import pytest
from skinpin_demo import darkroom
from skinpin_demo.darkroom import draw_all
from skinpin_demo.photographs.damage import Damage
from skinpin_demo.photographs.picture import Shot, cached, jpeg


def shot(number):
    return Shot(number, "F6+2.0P", "close", "2025-03-08T10:42:00", Damage("dent", 2.0, 1.0))


def test_what_processes_draw_is_what_would_be_drawn_here(tmp_path):
    before = dict(os.environ)
    draw_all([shot("A/0091"), shot("A/0092")], tmp_path)
    assert cached(shot("A/0091"), tmp_path).read_bytes() == jpeg(shot("A/0091"))
    assert cached(shot("A/0092"), tmp_path).exists()
    assert dict(os.environ) == before


def test_nothing_is_started_where_every_picture_is_in_the_cache(tmp_path, monkeypatch):
    path = cached(shot("A/0093"), tmp_path)
    path.parent.mkdir(parents=True)
    path.write_bytes(b"drawn before")
    monkeypatch.setattr(darkroom, "ProcessPoolExecutor", lambda **given: pytest.fail("started"))
    draw_all([shot("A/0093")], tmp_path)
    assert path.read_bytes() == b"drawn before"
