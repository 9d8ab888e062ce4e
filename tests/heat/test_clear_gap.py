import dataclasses

from hypothesis import given
from hypothesis import strategies as st

from platewright.foundation.sources import Source, Standing
from platewright.heat.clear_gap import clear_space
from platewright.model.part import Mount, Part

PART = Part(
    part="transformer",
    width=145,
    height=125,
    depth=132,
    mount=Mount.SCREWS,
    clear_top=50,
    clear_bottom=0,
    heat=70,
    source="data sheet",
)
HEAT = st.floats(0.0, 2000.0)


def test_stated_room_is_the_parts_own() -> None:
    space = clear_space(PART)
    assert space.top.room == 50
    assert space.top.stated
    assert space.top.source == Source("data of the part", "data sheet", Standing.JOB)


def test_zero_is_stated_as_none() -> None:
    space = clear_space(PART)
    assert space.bottom.room == 0
    assert space.bottom.stated


def test_blank_is_assumed_from_heat() -> None:
    # practice for more than 50 W: 40–50 mm beside, the larger taken
    space = clear_space(PART)
    assert space.left == space.right
    assert space.left.room == 50
    assert not space.left.stated
    assert space.left.source.standing is Standing.PRACTICE
    assert "70 W" in space.left.reason


def test_above_is_not_beside() -> None:
    space = clear_space(dataclasses.replace(PART, clear_top=None, clear_bottom=None, heat=30))
    assert (space.top.room, space.bottom.room, space.left.room) == (50, 50, 25)


def test_unknown_heat_is_said_and_not_taken_for_cold() -> None:
    space = clear_space(dataclasses.replace(PART, heat=None))
    assert space.left.room == 0
    assert not space.left.stated
    assert "heat is not stated" in space.left.reason
    assert space.top.stated


@given(heat=HEAT, more=HEAT)
def test_more_heat_never_needs_less_room(heat: float, more: float) -> None:
    blank = dataclasses.replace(PART, clear_top=None, clear_bottom=None)
    cool = clear_space(dataclasses.replace(blank, heat=heat))
    hot = clear_space(dataclasses.replace(blank, heat=heat + more))
    for side in ("left", "right", "top", "bottom"):
        assert getattr(hot, side).room >= getattr(cool, side).room
