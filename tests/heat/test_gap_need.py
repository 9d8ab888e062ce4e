"""The gap that keeps a duct from being over its limit for sure."""

from __future__ import annotations

import numpy as np
import pytest

from platewright.heat.gap_need import (
    LARGEST,
    Body,
    gap_needed,
    gap_not_over,
    usual_wall,
    wall_at,
    wall_band,
)
from platewright.model.heat import Banded

BODY = Body(
    width=80.0, height=125.0, depth=130.0, loss=60.0, plate_conduction=0.25, emissivity=0.9
)  # fmt: skip
AIR = Banded(40.0, 6.0)
SIDES = ("left", "right", "top", "bottom")


def _low(side: str, gap: float) -> float:
    wall = wall_at(BODY, side, np.array([gap]), AIR.value, usual_wall())
    return float((wall - wall_band(wall, np.array(AIR.value), np.array(AIR.band)))[0])


@pytest.mark.parametrize("side", SIDES)
def test_at_the_gap_the_band_reaches_the_limit_and_nearer_it_does_not(side: str) -> None:
    limit = 55.0
    gap = gap_not_over(BODY, side, air=AIR, limit=limit)
    assert gap is not None
    assert 8.0 < gap < LARGEST
    assert _low(side, gap) <= limit
    assert _low(side, 0.9 * gap) > limit


@pytest.mark.parametrize("side", SIDES)
def test_it_is_less_than_what_keeps_the_estimate_itself_at_the_limit(side: str) -> None:
    gap = gap_not_over(BODY, side, air=AIR, limit=60.0)
    needed = gap_needed(BODY, side, air=AIR.value, limit=60.0)
    assert gap is not None
    assert needed is not None
    assert gap < needed


def test_right_and_left_are_alike() -> None:
    left, right = (gap_not_over(BODY, side, air=AIR, limit=55.0) for side in ("left", "right"))
    assert left == right


def test_no_gap_where_the_air_alone_is_over_the_limit() -> None:
    assert gap_not_over(BODY, "left", air=Banded(70.0, 6.0), limit=60.0) is None


def test_the_least_gap_that_the_formulas_hold_for_where_even_that_is_enough() -> None:
    assert gap_not_over(BODY, "left", air=AIR, limit=90.0) == pytest.approx(8.0)
