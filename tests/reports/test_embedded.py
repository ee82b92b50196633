"""A JPEG wrapped as a page keeps its bytes and its size."""

import io

import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image
from skinpin.reports.embedded import embedded_name, embedded_picture


def jpeg(mode, size, **how):
    out = io.BytesIO()
    Image.new(mode, size, 90).save(out, "JPEG", **how)
    return out.getvalue()


@pytest.mark.parametrize("mode", ["L", "RGB"])
@pytest.mark.parametrize("progressive", [False, True])
def test_the_page_is_as_large_as_the_picture_and_holds_its_bytes(mode, progressive):
    content = jpeg(mode, (37, 23), progressive=progressive)
    page = embedded_picture(content)
    assert content in page
    with pypdfium2.PdfDocument(page) as document:
        assert document[0].get_size() == (37, 23)
        middle = document[0].render(scale=1).to_pil().convert("L").getpixel((18, 11))
    assert abs(middle - Image.open(io.BytesIO(content)).convert("L").getpixel((18, 11))) <= 3


def test_four_colours_and_other_kinds_are_left_to_the_typesetter():
    assert embedded_picture(jpeg("CMYK", (8, 8))) is None
    out = io.BytesIO()
    Image.new("RGB", (8, 8)).save(out, "PNG")
    assert embedded_picture(out.getvalue()) is None


@settings(deadline=None, print_blob=True)
@given(data=st.binary(max_size=60), cut=st.integers(0, 700), whole=st.booleans())
def test_what_is_cut_short_or_no_picture_never_breaks(data, cut, whole):
    start = jpeg("RGB", (9, 9))[:cut] if whole else b"\xff\xd8" + data
    page = embedded_picture(start)
    assert page is None or page.startswith(b"%PDF")


def test_the_file_beside_the_template_is_a_page():
    assert embedded_name("photographs/close.jpg") == "close.pdf"
