"""Regions kept free that reach past a plate of 800 × 600."""

import pytest

from platewright.model.geometry import Box
from platewright.model.job import KeepOut

from ..builders import panel, settings, told, verdict

RULE = "data.keep-out"


def with_region(x: float, y: float, width: float, height: float):
    region = KeepOut(x=x, y=y, width=width, height=height, reason="stiffener")
    return panel(job=settings(plate={"keep_outs": (region,)}))


@pytest.mark.parametrize(
    ("x", "width", "wanted"),
    [
        (780.0, 20.0, "PASS"),  # up to the edge
        (780.0, 20.5, "PASS"),  # rounded
        (780.0, 20.6, "CAUTION"),
        (-0.5, 20.0, "PASS"),
        (-0.6, 20.0, "CAUTION"),
    ],
)
def test_across(x: float, width: float, wanted: str) -> None:
    assert verdict(RULE, with_region(x, 100.0, width, 50.0)) == wanted


@pytest.mark.parametrize(
    ("y", "height", "wanted"),
    [(550.0, 50.5, "PASS"), (550.0, 50.6, "CAUTION"), (-1.0, 9.0, "CAUTION")],
)
def test_upright(y: float, height: float, wanted: str) -> None:
    assert verdict(RULE, with_region(100.0, y, 50.0, height)) == wanted


def test_it_says_which_by_how_much_and_what_to_write() -> None:
    (reading,) = told(RULE, with_region(780.0, 570.0, 40.0, 50.0))
    assert reading.subject == "plate.keep_outs[1]"
    for words in ("(stiffener)", "20.0 mm past the right edge", "20.0 mm past the upper edge",
                  "800 × 600 mm"):  # fmt: skip
        assert words in reading.message
    assert "width_mm and height_mm" in reading.cure
    assert "x_mm = 780, y_mm = 570, width_mm = 20, height_mm = 30" in reading.cure
    assert reading.place == Box(780.0, 570.0, 800.0, 600.0)


def test_no_region_is_nothing_to_look_at() -> None:
    assert verdict(RULE, panel()) == "NOT_APPLICABLE"
