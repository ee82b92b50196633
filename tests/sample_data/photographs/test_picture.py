"""Photographs drawn by code: size, date, seed, and a rule that is true."""

import io

import numpy as np
import piexif
import pytest
from PIL import Image
from skinpin_demo.photographs import picture
from skinpin_demo.photographs.damage import Damage
from skinpin_demo.photographs.kinds import KINDS
from skinpin_demo.photographs.picture import Shot, jpeg, length_points, photograph, ring_points
from skinpin_demo.photographs.rule import TOP_PX, zero_px

PITTING = Damage("pitting", 5.5, 2.0)


def shot(number="A/0002", role="close", damage=PITTING):
    return Shot(number, "F6+2.0P_K-B1", role, "2025-03-08T10:42:00", damage)


def opened(content):
    return Image.open(io.BytesIO(content))


def test_the_file_name_states_pixels_an_inch():
    assert shot().file_name == "A0002_F6+2.0P_K-B1_close_2025-03-08_180ppi.jpg"


def test_the_jpeg_is_1600_by_1200_and_bears_its_date():
    content = jpeg(shot())
    assert opened(content).size == (1600, 1200)
    exif = piexif.load(content)
    assert exif["Exif"][piexif.ExifIFD.DateTimeOriginal] == b"2025:03:08 10:42:00"


@pytest.mark.parametrize("role", ["wide", "close"])
def test_the_inch_lines_of_the_rule_are_truly_an_inch_apart(role):
    one = shot(role=role)
    light = np.asarray(opened(jpeg(one)).convert("L"), dtype=float)
    deep = light[TOP_PX + 38 : TOP_PX + 44].mean(axis=0)
    dark = [x for x in range(1, 1599) if deep[x] < 110 and deep[x] == deep[x - 1 : x + 2].min()]
    inches = [x for x in dark if zero_px() - 2 <= x < 1440]
    steps = {b - a for a, b in zip(inches, inches[1:], strict=False) if b - a > 3}
    assert abs(inches[0] - zero_px()) <= 1
    assert all(abs(step - one.ppi) <= 2 for step in steps)
    assert len(inches) > 5


def test_another_number_is_another_picture_and_the_same_number_the_same():
    assert jpeg(shot()) == jpeg(shot())
    assert jpeg(shot()) != jpeg(shot("A/0001"))


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_can_be_drawn_and_shows(kind):
    one = shot(damage=Damage(kind, 2.0, 1.0, run=3))
    light = np.asarray(opened(jpeg(one)).convert("L"), dtype=float)
    assert light[300:740, 400:1200].std() > 2
    assert 20 < light.mean() < 200


def test_ring_and_length_lie_about_the_damage_inside_the_picture():
    points = ring_points(shot())
    assert all(0 < x < 16000 and 0 < y < 12000 for x, y in points)
    (left, y), (right, _) = length_points(shot())
    assert (right - left) / 10 == 5.5 * 180
    assert min(x for x, _ in points) < left
    assert max(x for x, _ in points) > right
    assert points[0][1] == points[1][1] == y
    assert 0 < points[2][1] < y


def test_a_photograph_is_drawn_once_and_then_taken_from_the_cache(tmp_path, monkeypatch):
    first = photograph(shot(), tmp_path)
    monkeypatch.setattr(picture, "drawn", lambda one: pytest.fail("drawn again"))
    assert photograph(shot(), tmp_path) == first
    assert list(tmp_path.rglob("*.part")) == []
