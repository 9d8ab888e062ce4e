"""Rails and ducts as beams.

Sources: Roark's Formulas for Stress and Strain (centre load, even load, overhanging end); the
collection of trade values for rail sections worked out by hand; a finite difference solution of
the beam's own equation as a second way.
"""

import numpy as np
import pytest

from platewright.fabricate.beams import (
    duct_beam,
    end_sag,
    longest_end,
    longest_span,
    rail_beam,
    sag,
    sag_of_end,
    sag_of_push,
    sag_of_weight,
    weight_per_length,
)
from platewright.fabricate.sections import Plank, Section, duct_base, hat, of_planks
from platewright.model.layout import Run
from platewright.tables.rails import rail_profile


@pytest.mark.parametrize(
    ("name", "area", "whole", "slotted"),
    [
        ("TH35-7.5", 48.0, 358, 326),
        ("TH35-15", 93.0, 2758, 2497),
        ("TH35-15-2.3", 138.9, 4036, 3554),
    ],
)
def test_rail_sections(name: str, area: float, whole: float, slotted: float) -> None:
    """Thin hat, radii left out, one slot of 6.2 mm (worked by hand in the trade values)."""
    profile = rail_profile(name)
    assert profile is not None
    section, cut = hat(profile), hat(profile, slot=6.2)
    assert section is not None and cut is not None  # noqa: PT018
    assert section.area == pytest.approx(area, abs=0.05)
    assert section.second_moment == pytest.approx(whole, abs=0.6)
    assert cut.second_moment == pytest.approx(slotted, abs=0.6)


@pytest.mark.parametrize(
    ("name", "sags"),
    [
        ("TH35-7.5", (2.4, 8.2, 19.5, 38.0)),
        ("TH35-15", (0.32, 1.07, 2.54, 4.97)),
        ("TH35-15-2.3", (0.22, 0.75, 1.79, 3.49)),
    ],
)
def test_rails_bend_by_as_many_micrometres_a_newton(name: str, sags: tuple[float, ...]) -> None:
    beam = rail_beam(name)
    assert beam is not None
    for span, micrometres in zip((200, 300, 400, 500), sags, strict=True):
        found = sag_of_push(1, span=span, modulus=beam.modulus, section=beam.section)
        assert found * 1000 == pytest.approx(micrometres, rel=0.025)


def test_the_worked_rail() -> None:
    """TH35-7.5 slotted, 300 mm between screws, 20 N in the middle: 0.164 mm (3 %)."""
    beam = rail_beam("TH35-7.5")
    assert beam is not None
    assert sag(beam, 300) == pytest.approx(0.164, rel=0.03)


def bent(load: np.ndarray, stiffness: float, step: float) -> np.ndarray:
    """Solve E·I·y'''' = q, free to turn at both ends, by differences."""
    n = len(load)
    second = (np.eye(n, k=1) - 2 * np.eye(n) + np.eye(n, k=-1)) / step**2
    moment = np.linalg.solve(second, -load)
    return np.linalg.solve(second, -moment / stiffness)


def test_formulas_against_the_beam_equation() -> None:
    span, stiffness, n = 400.0, 2.4e7, 799
    step = span / (n + 1)
    section = Section(area=1.0, second_moment=stiffness / 3000)
    even = np.full(n, 0.03)
    middle = np.zeros(n)
    middle[n // 2] = 20 / step
    assert bent(even, stiffness, step).max() == pytest.approx(
        sag_of_weight(0.03, span=span, modulus=3000, section=section), rel=1e-3
    )
    assert bent(middle, stiffness, step).max() == pytest.approx(
        sag_of_push(20, span=span, modulus=3000, section=section), rel=1e-3
    )


def test_overhanging_end_against_its_two_parts() -> None:
    """A cantilever F·a³/3EI on top of the turn F·a·L/3EI at the screw times a."""
    section = Section(area=1.0, second_moment=326.0)
    a, span, push, modulus = 50.0, 300.0, 20.0, 210_000.0
    stiff = modulus * section.second_moment
    parts = push * a**3 / (3 * stiff) + push * a * span / (3 * stiff) * a
    assert sag_of_end(push, over=a, span=span, modulus=modulus, section=section) == pytest.approx(
        parts
    )


@pytest.mark.parametrize("width", [15, 25, 40, 60, 80])
def test_longest_span_bends_just_as_much_as_it_may(width: float) -> None:
    beam = duct_beam(width=width, run=Run.ACROSS, inside=20.0 * width)
    span = longest_span(beam, 1.0)
    assert sag(beam, span) == pytest.approx(1.0, rel=1e-9)
    over = longest_end(beam, span, 1.0)
    assert end_sag(beam, over, span) == pytest.approx(1.0, rel=1e-9)


def test_wider_ducts_span_more_and_upright_ones_bear_no_wires() -> None:
    narrow = duct_beam(width=25, run=Run.ACROSS, inside=1200)
    wide = duct_beam(width=60, run=Run.ACROSS, inside=1200)
    upright = duct_beam(width=25, run=Run.UPRIGHT, inside=1200)
    assert longest_span(narrow, 1.0) < longest_span(upright, 1.0) < longest_span(wide, 1.0)
    assert upright.weight == 0


def test_duct_base_is_a_strip_on_edge() -> None:
    """b·h³/12 of any handbook."""
    assert duct_base(width=40, base=1.5).second_moment == pytest.approx(1.5 * 40**3 / 12)


def test_slots_are_taken_out_of_the_base() -> None:
    """Two lines of 6 at 20 from the middle of 80 x 1.5, by parallel axes: 64 000 less 7254.

    In the middle they hardly matter: 1.5 · 6³ / 12 = 27.
    """
    two = duct_base(width=80, base=1.5, slot=6, lines=(-20, 20))
    assert two.second_moment == pytest.approx(64_000 - 2 * (1.5 * 6**3 / 12 + 1.5 * 6 * 20**2))
    assert two.area == pytest.approx(1.5 * (80 - 12))
    planks = of_planks(
        Plank(across=1.5, along=along, middle=middle)
        for along, middle in ((17, 8.5), (34, 40), (17, 71.5))
    )
    assert two.second_moment == pytest.approx(planks.second_moment)
    one = duct_base(width=80, base=1.5, slot=6)
    assert one.second_moment == pytest.approx(64_000 - 27)
    whole = duct_beam(width=80, run=Run.ACROSS, inside=5000)
    slotted = duct_beam(width=80, run=Run.ACROSS, inside=5000, slot=6, lines=(-20, 20))
    assert longest_span(slotted, 1.0) < longest_span(whole, 1.0)


def test_weight_of_wires() -> None:
    """100 mm² of copper at 8960 kg/m³ weigh 0.896 kg a metre, 8.79 N."""
    assert weight_per_length(100, 8960) * 1000 == pytest.approx(8.787, abs=0.001)


def test_a_rail_that_is_no_hat_is_no_beam() -> None:
    assert rail_beam("G32") is None
    assert rail_beam("TH99") is None
