"""Sizes: rounded up, made for the upper end of the band, the smallest enclosure found."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from platewright.heat.measures import IN_VAIN, UNNEEDED, measures, ways
from platewright.heat.sizing import LARGEST, held_inside, larger_enclosure, rounded_up
from platewright.heat.walls import Box3
from platewright.model.heat import Needs
from platewright.model.job import DisplayUnit

BOX = Box3(width=0.6, height=0.8, depth=0.25)


@given(
    outside=st.floats(-10, 60), wanted=st.floats(0, 70), share=st.floats(0.05, 0.3),
    least=st.floats(0.5, 2.0),
)  # fmt: skip
def test_band_of_the_held_inside_ends_at_what_is_wanted(outside, wanted, share, least):
    held = held_inside(outside, wanted, share, least)
    assert held + max(least, share * abs(held - outside)) == pytest.approx(wanted, abs=1e-9)


@pytest.mark.parametrize(
    ("size", "step", "rounded"),
    [(0.0, 5.0, 5.0), (0.2, 5.0, 5.0), (5.0, 5.0, 5.0), (5.01, 5.0, 10.0), (1.3, 0.5, 1.5)],
)
def test_sizes_are_rounded_up_and_never_none(size, step, rounded):
    assert rounded_up(size, step) == rounded


@given(enough=st.floats(0.5, 2.4))
def test_the_smallest_enclosure_that_is_enough_is_found(enough):
    tried = []

    def is_enough(box):
        tried.append(box)
        return box.height >= enough

    found = larger_enclosure(BOX, is_enough)
    if enough > LARGEST * BOX.height:
        assert found is None or found[1] / 1000 >= enough
        return
    width, height, depth = (length / 1000 for length in found)
    assert height >= enough - 1e-9
    assert height - 0.05 < max(enough, BOX.height)
    assert width >= BOX.width
    assert depth == BOX.depth
    assert len(tried) < 10


def needs(**fields):
    usual = dict.fromkeys(("fan", "cooling", "exchanger", "heater", "larger", "dew_point"))
    return Needs(**(usual | fields))


def test_each_measure_is_told_or_why_there_is_none():
    told = dict(
        measures(needs(fan=45.0, cooling=40.0, exchanger=None, heater=12.0), DisplayUnit.MM)
    )
    assert told["Filter fan, blowing freely"] == "45 m³/h"
    assert told["Air-to-air exchanger"] == IN_VAIN
    assert told["Cooling unit, useful power"] == "40 W"
    assert told["Heater against condensation"] == "12 W"
    assert "none up to" in told["Or this enclosure without any"]
    cool = dict(measures(needs(fan=0.0, cooling=0.0, exchanger=0.0), DisplayUnit.MM))
    assert cool["Filter fan, blowing freely"] == UNNEEDED
    assert cool["Or this enclosure without any"] == UNNEEDED
    assert "air.coldest_degc" in cool["Heater against condensation"]


def test_a_cure_names_no_measure_of_size_nought():
    assert ways(needs(fan=0.0, cooling=0.0, exchanger=0.0), DisplayUnit.MM) == ["less loss"]
    assert "a filter fan of 45 m³/h (blowing freely)" in ways(needs(fan=45.0), DisplayUnit.MM)


def test_an_enclosure_is_told_in_the_unit_of_the_job():
    """24 x 30 x 10 in are 609.6 x 762 x 254 mm."""
    large = needs(larger=(609.6, 762.0, 254.0))
    for unit, size in (
        (DisplayUnit.MM, "610 × 762 × 254 mm"),
        (DisplayUnit.INCH, "24.0 × 30.0 × 10.0 in"),
    ):
        assert dict(measures(large, unit))["Or this enclosure without any"] == size
        assert f"an enclosure of {size}" in ways(large, unit)
