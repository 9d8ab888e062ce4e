import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from platewright.wiring.duct_fill import duct_fill, outer_area

DIAMETERS = st.lists(st.floats(1.0, 30.0), max_size=60)
INSIDE = st.floats(100.0, 20000.0)


def test_an_empty_duct_is_empty() -> None:
    assert duct_fill([], inside=2000.0) == 0.0


def test_one_wire_as_wide_as_a_square_duct_fills_pi_quarters() -> None:
    assert duct_fill([20.0], inside=400.0) == pytest.approx(math.pi / 4)


@given(diameters=DIAMETERS, one_more=st.floats(1.0, 30.0), inside=INSIDE)
def test_one_more_wire_always_fills_more(
    diameters: list[float], one_more: float, inside: float
) -> None:
    fill = duct_fill(diameters, inside=inside)
    fuller = duct_fill([*diameters, one_more], inside=inside)
    assert fuller > fill
    assert fuller - fill == pytest.approx(outer_area(one_more) / inside, rel=1e-6)


@given(diameters=DIAMETERS, inside=INSIDE)
def test_order_changes_nothing(diameters: list[float], inside: float) -> None:
    assert duct_fill(diameters, inside=inside) == duct_fill(sorted(diameters), inside=inside)


@given(diameters=DIAMETERS, inside=INSIDE)
def test_twice_the_duct_is_half_as_full(diameters: list[float], inside: float) -> None:
    half = duct_fill(diameters, inside=2 * inside)
    assert 2 * half == pytest.approx(duct_fill(diameters, inside=inside))
