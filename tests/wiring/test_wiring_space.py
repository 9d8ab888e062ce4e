from hypothesis import given
from hypothesis import strategies as st

from platewright.foundation.sources import Standing
from platewright.model.part import Mount, Part
from platewright.model.wire import SizeSystem, WireSize
from platewright.wiring.wiring_space import wiring_space

PART = Part(
    part="starter",
    width=45,
    height=100,
    depth=90,
    mount=Mount.RAIL,
    terminals_top=("1", "3", "5"),
    terminals_bottom=("2", "4"),
)
TOP_ONLY = Part(
    part="bar", width=100, height=12, depth=30, mount=Mount.SCREWS, terminals_top=("1", "2")
)


def awg(number: str) -> WireSize:
    return WireSize(number, SizeSystem.AWG)


def mm2(number: str) -> WireSize:
    return WireSize(number, SizeSystem.MM2)


SIZES = st.sampled_from([awg(n) for n in ("18", "14", "10", "6", "2", "1/0", "4/0")])


def test_the_largest_wire_of_a_side_decides() -> None:
    space = wiring_space(PART, {"1": (awg("14"),), "5": (awg("18"), awg("10")), "2": (mm2("1.5"),)})
    assert space.top is not None
    assert space.bottom is not None
    # practice of both collections, the larger: 12–10 AWG 40 mm, up to 1.5 mm² 20 mm
    assert (space.top.room, space.bottom.room) == (40, 20)
    assert "10 AWG" in space.top.reason
    assert space.top.stated
    assert space.top.source.standing is Standing.PRACTICE


def test_gauges_are_compared_by_copper() -> None:
    # 14 AWG is 2.08 mm²: more than 1.5 mm² although 14 is the larger number than 10
    space = wiring_space(PART, {"1": (mm2("1.5"), awg("14")), "2": (awg("6"), mm2("10"))})
    assert space.top is not None
    assert space.bottom is not None
    assert "14 AWG" in space.top.reason
    assert "6 AWG" in space.bottom.reason


def test_terminals_without_listed_wires_are_an_assumption() -> None:
    space = wiring_space(PART, {"1": (awg("14"),), "elsewhere": (awg("4/0"),), "4": ()})
    assert space.bottom is not None
    assert not space.bottom.stated
    assert space.bottom.room == 20
    assert "no listed wire" in space.bottom.reason


def test_no_terminals_no_room() -> None:
    space = wiring_space(TOP_ONLY, {})
    assert space.bottom is None
    assert space.top is not None


@given(sizes=st.lists(SIZES, min_size=1, max_size=6), one_more=SIZES)
def test_one_more_wire_never_needs_less_room(sizes: list[WireSize], one_more: WireSize) -> None:
    before = wiring_space(PART, {"1": tuple(sizes)}).top
    after = wiring_space(PART, {"1": tuple(sizes), "3": (one_more,)}).top
    assert before is not None
    assert after is not None
    assert after.room >= before.room
