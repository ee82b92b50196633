"""How wide and high words come out, against the font itself and against each other."""

from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import ImageFont
from skinpin.reports.lettering import FONTS, PT_MM, block_mm, fitting_size, lines_of, width_mm

words = st.lists(st.text("abcdefgiW/.0", min_size=1, max_size=9), min_size=1, max_size=12)


def test_a_width_is_that_of_the_font_at_its_size():
    face = ImageFont.truetype(str(FONTS / "DejaVuSansCondensed.ttf"), 2048)
    wide = face.getlength("Zone 111") / 2048 * 10 * PT_MM
    assert abs(width_mm("Zone 111", 10) - wide) < 0.15
    assert width_mm("Zone 111", 10, bold=True) > width_mm("Zone 111", 10)


@settings(deadline=None, print_blob=True)
@given(some=words, wide=st.floats(20, 120))
def test_lines_hold_all_words_and_a_wider_column_needs_no_more(some, wide):
    told = " ".join(some)
    count = lines_of(told, 10, wide)
    assert count * wide >= width_mm(told, 10) - count * width_mm(" ", 10)
    assert lines_of(told, 10, wide + 15) <= count <= len(some)


def test_paragraphs_and_break_points_are_kept():
    assert lines_of("one\ntwo", 10, 170) == 2
    long = "\u200b".join(["corrodedcorro"] * 6)
    assert 1 < lines_of(long, 10, 60) <= 4


def test_the_first_size_that_fits_is_taken_and_the_last_where_none_does():
    assert fitting_size("Zone 111", 77, (11, 8.3)) == 11
    assert fitting_size("Zone 111 " * 6, 77, (11, 8.3)) == 8.3


def test_a_block_is_a_capital_and_a_step_for_each_further_line():
    one, two, three = (block_mm(count, 10) for count in (1, 2, 3))
    assert abs((three - two) - (two - one)) < 1e-9
    assert block_mm(0, 10) == 0
