import pytest
from hypothesis import given
from hypothesis import strategies as st

from platewright.wiring.bend_radius import bend_radius


@pytest.mark.parametrize(
    ("outer_diameter", "radius"), [(8.0, 32.0), (8.001, 40.005), (12.0, 60.0), (12.001, 72.006)]
)
def test_the_factor_steps_above_its_limit(outer_diameter: float, radius: float) -> None:
    # EN 50565-1: 4 · D to 8 mm, 5 · D to 12 mm, 6 · D above
    assert bend_radius(outer_diameter) == pytest.approx(radius)


@given(thin=st.floats(0.5, 40.0), more=st.floats(0.0, 10.0))
def test_a_thicker_wire_never_bends_tighter(thin: float, more: float) -> None:
    assert bend_radius(thin + more) >= bend_radius(thin)
