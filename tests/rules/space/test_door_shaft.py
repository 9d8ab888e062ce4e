"""The shaft of a switch against what hangs in the door: plain distances.

Enclosure and plate of the builders; the handle takes 70 mm, so 35 from its axis.
"""

import pytest

from platewright.model.device import Place

from ..builders import device, panel, part, settings, told, verdict

RULE = "space.door-shaft"


def before(x, *, handle=70.0, shaft=0.0):
    """A switch of 40 × 80 at (100, 150): its shaft at (120, 190). A button of 30 × 40 at x."""
    button = device("-S1", part="button", place=Place.DOOR, door_x=x, door_y=170.0)
    return panel(
        parts=[
            part(shaft_x=shaft, shaft_y=0.0, handle_diameter=handle),
            part("button", width=30.0, height=40.0, depth=50.0),
        ],
        devices=[(device("-Q1"), (100, 150)), (button, None)],
        job=settings(),
    )


@pytest.mark.parametrize(("x", "wanted"), [(155.1, "PASS"), (155.0, "PASS"), (154.9, "FAIL")])
def test_at_the_limit_and_beside(x, wanted):
    assert verdict(RULE, before(x)) == wanted


def test_an_assumed_handle_only_cautions():
    """80 mm by shop practice: 40 from the axis."""
    assert verdict(RULE, before(159.9, handle=None)) == "CAUTION"
    assert verdict(RULE, before(160.1, handle=None)) == "PASS"


def test_a_shaft_beside_the_door_is_found():
    assert any("misses the door" in f.message for f in told(RULE, before(300, shaft=5000.0)))


def test_no_shaft_stated_is_not_looked_at():
    given = before(155)
    parts = {"box": part(), "button": given.job.parts["button"]}
    import dataclasses

    job = dataclasses.replace(given.job, parts=parts)
    assert verdict(RULE, dataclasses.replace(given, job=job)) == "NOT_APPLICABLE"
