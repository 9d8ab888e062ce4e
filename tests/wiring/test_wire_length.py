import pytest
from hypothesis import given
from hypothesis import strategies as st

from platewright.wiring.wire_length import cut_length

RUN = st.floats(0.0, 20000.0)


@given(run=RUN, to_door=st.booleans())
def test_never_shorter_than_the_way_with_its_ends(run: float, to_door: bool) -> None:
    cut = cut_length(run, to_door=to_door)
    assert cut >= 1.03 * run + 80 - 1e-6
    assert cut < 1.03 * run + 80 + 300 * to_door + 10 + 1e-6
    assert cut % 10 == 0


@given(run=RUN, more=RUN)
def test_a_longer_way_never_needs_less(run: float, more: float) -> None:
    assert cut_length(run + more) >= cut_length(run)


@pytest.mark.parametrize(("run", "cut"), [(0, 80), (1000, 1110), (1000.01, 1120), (1009, 1120)])
def test_rounded_up_to_ten_but_not_beyond(run: float, cut: float) -> None:
    # by hand: 1000 · 1.03 + 80 = 1110 exactly; 1000.01 · 1.03 + 80 = 1110.0103
    assert cut_length(run) == cut


def test_a_door_wire_gets_a_hinge_loop() -> None:
    assert cut_length(1000, to_door=True) == cut_length(1000) + 300
