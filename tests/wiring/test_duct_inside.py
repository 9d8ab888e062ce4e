import pytest
from hypothesis import given
from hypothesis import strategies as st

from platewright.foundation.errors import CannotPlan
from platewright.wiring.duct_inside import duct_inside

LENGTH = st.floats(10.0, 300.0)


def test_stated_area_is_used_as_it_is() -> None:
    assert duct_inside(width=40, height=60, stated=1900.0) == (1900.0, False)


def test_worked_by_hand() -> None:
    assert duct_inside(width=40, height=60, stated=None) == (37 * 55.5, True)


@given(width=LENGTH, height=LENGTH)
def test_inside_is_smaller_than_outside(width: float, height: float) -> None:
    inside, assumed = duct_inside(width=width, height=height, stated=None)
    assert assumed
    assert 0 < inside < width * height


@pytest.mark.parametrize(("width", "height"), [(3, 60), (40, 4.5), (2, 2)])
def test_a_duct_of_walls_only_is_refused(width: float, height: float) -> None:
    with pytest.raises(CannotPlan, match="no room"):
        duct_inside(width=width, height=height, stated=None)
