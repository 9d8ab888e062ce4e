"""Room for tools: the worked example of the trade reference, and what must hold in general."""

import pytest

from platewright.fabricate.access import (
    Driver,
    Standing,
    driver_for,
    drivers,
    is_barred,
    meets_drill,
    standing_duct,
)
from platewright.model.geometry import Box, Point
from platewright.model.job import DisplayUnit
from platewright.model.layout import Duct, Run
from platewright.tables.tools import drill_length, tool

HOLE = Point(0.0, 0.0)


def wall(away, height, tag="D1"):
    return Standing(tag=tag, boxes=(Box(away, -200, away + 2, 200),), height=height)


def met(away, height, drill=4.2):
    things = [wall(away, height)]
    return meets_drill(HOLE, drill=drill, thickness=2.0, standing=things, unit=DisplayUnit.MM)


def test_a_4_2_drill_beside_a_duct_60_high():
    """Trade reference 5.5: 4.2 drill, 50 mm out of the chuck; 15 mm away fails, 40 mm away is ok."""
    assert drill_length(4.2) - tool("grip") == 50
    (fault,) = met(15, 60)
    assert fault.tag == "D1"
    assert "chuck" in fault.words
    assert not met(40, 60)


def test_what_is_lower_than_the_chuck_does_no_harm():
    """Ok where the drill stands out 5 mm more than the wall is high, in a 2 mm plate."""
    assert not met(15, 45)
    assert met(15, 45.1)


def test_the_drill_itself_needs_air():
    assert not met(5.2, 10)
    assert met(5.0, 10)


def test_the_body_of_the_drill_comes_behind_the_chuck():
    """45 + 40 mm: higher than that the gearbox passes by, 30 + 3 mm wide."""
    assert not met(28, 85)
    assert "body" in met(28, 86)[0].words
    assert not met(33, 500)


@pytest.mark.parametrize("away", [1, 5, 10, 20, 30, 40])
@pytest.mark.parametrize("height", [5, 30, 60, 90, 200])
def test_higher_and_nearer_is_never_better(away, height):
    if met(away, height):
        assert met(away, height + 20)
        assert met(away * 0.5, height)


def test_a_screw_inside_a_duct_is_reached_between_its_walls():
    """25 mm duct: 12.5 mm to the outside of each wall, a blade of 10 mm goes in."""
    duct = standing_duct(
        "D1", Duct(x=-100, y=-12.5, length=200, width=25, height=80, run=Run.ACROSS)
    )
    assert driver_for(HOLE, [duct]) == Driver(blade=10, length=100)
    assert is_barred(HOLE, drill=4.2, thickness=2, thing=duct)


@pytest.mark.parametrize(
    ("away", "height", "driver"),
    [
        (15, 90, (10, 100)),
        (15, 120, (10, 150)),
        (15, 207, (10, 300)),
        (5.5, 20, (6.35, 100)),
        (5.0, 153, (6.35, 300)),
        (15, 301, None),
        (4.5, 20, None),
    ],
)
def test_the_blade_gets_longer_or_slimmer_until_it_is_clear(away, height, driver):
    """Blade 10 or 6.35 mm with 1.5 mm of air, handle 40 mm above it."""
    found = driver_for(HOLE, [wall(away, height)])
    assert found == (None if driver is None else Driver(blade=driver[0], length=driver[1]))


def test_every_screwdriver_reaches_on_a_bare_plate():
    assert driver_for(HOLE, []) == drivers()[0]


def test_the_words_are_in_the_unit_of_the_job():
    """4.2 drill in a 2 mm plate: its chuck is 45 mm above, 1.77 in; 60 mm of wall are 2.36 in."""
    (mm,) = met(15, 60)
    assert "the chuck, 45 mm above the plate, would touch D1, 60 mm high and 15 mm away" in mm.words
    things = [wall(15, 60)]
    (inch,) = meets_drill(HOLE, drill=4.2, thickness=2, standing=things, unit=DisplayUnit.INCH)
    assert "the chuck, 1.77 in above the plate, would touch D1, 2.36 in high" in inch.words
    assert "0.59 in away" in inch.words  # 15 / 25.4 = 0.5906
    assert "mm" not in inch.words
    assert " above the plate" not in met(5, 10)[0].words  # the drill itself begins at the plate
