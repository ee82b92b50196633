"""An SVG is looked through before anything draws it."""

import pytest
from skinpin.imaging.svg_scan import MOST_BYTES, SvgRefusedError, scan

from tests.imaging.sheets import svg

INLINE = "data:image/png;base64,iVBORw0KGgo="


def refusal(content):
    with pytest.raises(SvgRefusedError) as refused:
        scan(content)
    return str(refused.value)


@pytest.mark.parametrize(
    ("head", "size"),
    [
        ('viewBox="0 0 400 100"', (400, 100)),
        ('viewBox="-5,-5 400,1e2"', (400, 100)),
        ('width="210mm" height="297mm"', (210 * 96 / 25.4, 297 * 96 / 25.4)),
        ('width="800" viewBox="0 0 400 100"', (800, 200)),
        ('width="100%" height="100%" viewBox="0 0 400 100"', (400, 100)),
    ],
)
def test_an_svg_has_the_size_it_says_else_that_of_its_view_box(head, size):
    found = scan(svg(head=head))
    assert (found.width_px, found.height_px) == pytest.approx(size)


@pytest.mark.parametrize(
    "inside",
    [
        '<use xlink:href="#a"/>',
        f'<image href="{INLINE}"/>',
        '<rect fill="url(#hatch)" style="stroke:url( \'#b\' )"/>',
        "<style>.a { fill: url(#hatch) }</style>",
        '<g aria-label="a\\b" id="url(x)"><title>C:\\b</title></g>',
        '<pattern id="p"><path fill="url(#p)"/></pattern><path fill="url(#p)"/>',
        "<title>On the left &amp; right</title>",
    ],
)
def test_what_stays_within_it_is_let_through(inside):
    assert inside in scan(svg(inside)).text


@pytest.mark.parametrize(
    ("inside", "why"),
    [
        ('<image href="file:///etc/passwd"/>', "outside it"),
        ('<image xlink:href="http://127.0.0.1/a.png"/>', "outside it"),
        ('<image href="a.png"/>', "outside it"),
        ('<image href="data:image/svg+xml;base64,AAAA"/>', "outside it"),
        ('<use href="other.svg#a"/>', "outside it"),
        ('<rect fill="url(http://127.0.0.1/a)"/>', "outside it"),
        ("<rect style=\"fill:url('x.svg#a')\"/>", "outside it"),
        ("<style>rect { fill: URL(x) }</style>", "outside it"),
        ("<style>@import 'x.css';</style>", "style"),
        ("<style>rect { fill: u\\72l(x) }</style>", "style"),
        ('<rect fill="u\\72l(x)"/>', "style"),
        ('<rect style="fill:u\\72l(x)"/>', "style"),
        ("<script>1</script>", "script"),
        ('<rect onclick="1"/>', "script"),
        ("<foreignObject/>", "foreignObject"),
    ],
)
def test_what_leads_out_of_it_is_refused_with_a_sentence(inside, why):
    said = refusal(svg(inside))
    assert why in said
    assert said.endswith(".")


@pytest.mark.parametrize(
    ("content", "why"),
    [
        (svg(before='<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">]>'), "entities"),
        (svg(before='<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/passwd">]>'), "entities"),
        (svg(before='<?xml-stylesheet href="a.css"?>'), "style sheet"),
        (svg(head=""), "how large"),
        (svg(head='viewBox="0 0 0 5"'), "how large"),
        (svg(head='width="1e9" height="1"'), "how large"),
        (svg()[:-4], "cut short"),
        (b"<html/>", "no SVG"),
        (svg().decode().encode("utf-16"), "written in UTF-16: save it as UTF-8"),
        (svg().decode().encode("utf-16-be"), "written in UTF-16"),
        (svg().decode().encode("utf-16-le"), "written in UTF-16"),
        (svg("<title>\u00e9</title>").decode().encode("latin-1"), "not written in UTF-8"),
        (svg("<g>" * 300 + "</g>" * 300), "in each other"),
        (svg("<g/>" * 200_001), "elements"),
        (svg(" " * MOST_BYTES), "MB"),
    ],
    ids=lambda one: one if isinstance(one, str) else "file",
)
def test_what_could_swell_is_refused_with_a_sentence(content, why):
    assert why in refusal(content)


def test_uses_of_uses_are_counted_before_they_are_drawn():
    uses = [f'<use href="#a{at}"/>' * 10 for at in range(1, 10)]
    rows = [f'<g id="a{at}">{some}</g>' for at, some in enumerate(uses)]
    assert "elements" in refusal(svg("".join(rows) + '<g id="a9"><path/></g>'))
    assert "within itself" in refusal(svg('<g id="a"><use href="#a"/></g>'))


@pytest.mark.parametrize(
    ("word", "by"),
    [
        ("mask", '<path mask="url(#{0})"/>'),
        ("pattern", '<path fill="url(#{0})"/>'),
        ("pattern", "<g stroke=\"url( '#{0}' )\"><path/></g>"),
        ("marker", "<path style='marker-end : url(\"#{0}\")'/>"),
        ("filter", '<path filter="url(#{0})"/>'),
        ("clipPath", '<g clip-path="url(#{0})"/>'),
        ("mask", '<path class="x {0}"/>'),
    ],
)
def test_what_is_drawn_wherever_it_is_named_is_counted(word, by):
    some = "".join(
        f'<{word} id="a{at}">{by.format(f"a{at - 1}") * 10}</{word}>' for at in range(1, 9)
    )
    rules = "".join(f".a{at} {{ mask: url(#a{at}) }}" for at in range(9))
    tail = f'<{word} id="a0"><path/></{word}>'
    last = by.format("a8")
    assert "draws more than" in refusal(svg(f"<style>{rules}</style>{some}{tail}{last}"))
    once = f"<style>{rules}</style>{tail}{by.format('a0') * 1000}"
    assert scan(svg(once)).width_px == 400


def test_a_marker_is_counted_at_every_point_of_a_line():
    marker = '<marker id="m">' + "<path/>" * 100 + "</marker>"
    line = '<path marker-{}="url(#m)" d="M' + "1 2 " * 5000 + '"/>'
    assert "draws more than" in refusal(svg(marker + line.format("mid")))
    assert scan(svg(marker + line.format("end"))).width_px == 400


def test_shades_of_many_steps_are_no_drawings():
    shade = '<linearGradient id="s">' + "<stop/>" * 100 + "</linearGradient>"
    assert scan(svg(shade + '<path fill="url(#s)"/>' * 20_000)).width_px == 400


def test_a_plain_document_type_is_no_entity():
    before = '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/svg11.dtd">'
    assert scan(svg(before=before)).width_px == 400
