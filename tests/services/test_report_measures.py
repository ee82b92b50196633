"""Which lengths of a crack are observations."""

from skinpin.services.report_measures import gone_of

FIGURE = {"value": "0.6", "unit": "in", "method": "photograph", "measurement": "m1"}
STRUCK = {**FIGURE, "scale_withdrawn": True}


def test_an_observation_goes_with_the_scale_of_its_photograph_and_comes_back_with_it():
    assert gone_of([FIGURE, STRUCK]) == {"m1"}
    assert gone_of([FIGURE, STRUCK, FIGURE]) == set()
    assert gone_of([FIGURE, STRUCK, FIGURE, STRUCK]) == {"m1"}


def test_lengths_that_came_from_no_photograph_change_nothing():
    rule = {"value": "0.7", "unit": "in", "method": "steel rule"}
    assert gone_of([FIGURE, STRUCK, rule, None, "not measured"]) == {"m1"}
    assert gone_of([rule, {**rule, "scale_withdrawn": True}]) == set()
