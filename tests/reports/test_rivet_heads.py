"""Heads of rivets: a shape a state, none alike in black."""

from xml.etree import ElementTree

from skinpin.domain.rivet_line_states import STATES
from skinpin.reports.rivet_heads import head_svg


def test_every_state_has_a_head_of_its_own():
    heads = {state: head_svg(state, 0, 0, 32) for state in STATES}
    assert len(set(heads.values())) == len(STATES)
    unknown = head_svg("?", 0, 0, 32)
    assert unknown not in heads.values()


def test_a_head_is_put_about_its_point_at_its_size():
    group = ElementTree.fromstring(head_svg("S", 20, 6.2, 4.4))
    assert group.attrib["transform"] == "translate(17.8 4) scale(0.1375)"
