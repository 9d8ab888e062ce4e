"""Two devices of 40 × 80, each with a screw at the other's body."""

import pytest

from ..builders import boxes, hole, panel, told, verdict

RULE = "fabrication.build-order"


def crossed(gap):
    """Two devices side by side; each is screwed ``gap`` mm beside the other's body."""
    layout = {
        "holes": {"H1": hole(140 + 10 - gap, 140, "-A1"), "H2": hole(140 + gap, 140, "-A2")},
    }
    return panel(**boxes((100, 100), (150, 100)), layout=layout)


@pytest.mark.parametrize(("gap", "wanted"), [(4.0, "CAUTION"), (4.6, "CAUTION"), (5.0, "PASS")])
def test_a_blade_of_6_35_with_1_5_mm_of_air_goes_in_or_not(gap, wanted):
    """Half the blade and the air: 4.7 mm from the screw's middle to the other's body."""
    assert verdict(RULE, crossed(gap)) == wanted


def test_the_circle_is_told():
    (found,) = told(RULE, crossed(4.0))
    assert "-A2 would bar the screwdriver at H1 of -A1" in found.message
    assert "-A1 would bar the screwdriver at H2 of -A2" in found.message


def test_a_plate_without_holes_says_nothing():
    assert verdict(RULE, panel(**boxes((100, 100)))) == "NOT_APPLICABLE"
