"""Correlations against two general-purpose libraries (``ht``, ``fluids``)."""

import fluids.atmosphere
import ht
import pytest
from hypothesis import given
from hypothesis import strategies as st

from platewright.heat import films
from platewright.heat.air import air_at, pressure_at

RA = st.floats(1e4, 1e9)
PR = st.floats(0.68, 0.73)


@given(ra=st.floats(1.0, 1e12), pr=PR)
def test_vertical_is_that_of_the_library(ra: float, pr: float) -> None:
    assert films.vertical(ra, pr) == pytest.approx(
        ht.Nu_vertical_plate_Churchill(Pr=pr, Gr=ra / pr), rel=1e-9
    )


@given(ra=RA, pr=PR)
def test_rod_is_that_of_the_library(ra: float, pr: float) -> None:
    assert films.rod(ra, pr) == pytest.approx(
        ht.Nu_horizontal_cylinder_Churchill_Chu(Pr=pr, Gr=ra / pr), rel=1e-9
    )


@given(ra=st.one_of(st.floats(1e4, 3e6), st.floats(3.2e7, 1e10)), pr=PR)
def test_facing_up_is_that_of_the_library_outside_the_blend(ra: float, pr: float) -> None:
    wanted = ht.Nu_horizontal_plate_McAdams(Pr=pr, Gr=ra / pr, buoyancy=True)
    assert films.facing_up(ra) == pytest.approx(wanted, rel=1e-9)


@given(ra=st.floats(1e5, 1e10), pr=PR)
def test_facing_down_is_that_of_the_library(ra: float, pr: float) -> None:
    wanted = ht.Nu_horizontal_plate_McAdams(Pr=pr, Gr=ra / pr, buoyancy=False)
    assert films.facing_down(ra) == pytest.approx(wanted, rel=1e-9)


@given(ra=st.floats(1.1e4, 9e6), pr=PR, slender=st.floats(2.0, 79.0))
def test_sealed_gap_is_that_of_the_library(ra: float, pr: float, slender: float) -> None:
    wanted = ht.Nu_Nusselt_vertical_Thess(Pr=pr, Gr=ra / pr, H=slender, L=1.0)
    assert films.sealed_gap(ra, pr, slender) == pytest.approx(max(1.0, wanted), rel=1e-9)


@given(re=st.floats(1e3, 4e5), pr=PR)
def test_forced_laminar_is_that_of_the_library(re: float, pr: float) -> None:
    wanted = ht.conv_external.Nu_horizontal_plate_laminar_Baehr(re, pr)
    assert films.forced_laminar(re, pr) == pytest.approx(wanted, rel=1e-9)


@given(ra=st.floats(1e4, 1e10))
def test_facing_up_never_jumps(ra: float) -> None:
    assert films.facing_up(ra * 1.001) == pytest.approx(films.facing_up(ra), rel=2e-3)
    assert films.facing_up(ra * 1.001) >= films.facing_up(ra)


def test_mixed_flow_adds_or_subtracts_cubes() -> None:
    assert films.mixed(3.0, 4.0) == pytest.approx(91 ** (1 / 3))
    assert films.mixed(3.0, 4.0, against=True) == pytest.approx(37 ** (1 / 3))


@pytest.mark.parametrize("altitude", [0.0, 500.0, 1500.0, 3000.0, 5000.0])
def test_pressure_is_that_of_the_standard_atmosphere(altitude: float) -> None:
    assert pressure_at(altitude) == pytest.approx(
        fluids.atmosphere.ATMOSPHERE_1976(altitude).P, rel=1e-3
    )


@pytest.mark.parametrize("kelvins", [250.0, 293.15, 313.15, 350.0, 400.0])
def test_air_is_that_of_the_standard_atmosphere(kelvins: float) -> None:
    mine = air_at(kelvins, 101325.0)
    atmosphere = fluids.atmosphere.ATMOSPHERE_1976
    assert mine.viscosity == pytest.approx(atmosphere.viscosity(kelvins), rel=2e-3)
    assert mine.conductivity == pytest.approx(atmosphere.thermal_conductivity(kelvins), rel=1e-2)
    assert mine.density == pytest.approx(atmosphere.density(kelvins, 101325.0), rel=1e-4)
    assert 0.68 < mine.prandtl < 0.73
