"""-K2 plugs into -K1 (right edge at 140); -Q3 hangs under -Q2 (lower edge at 200)."""

import pytest

from ..builders import device, panel, part, told, verdict

RULE = "space.partners"


def plugged(x, y=100.0):
    return panel(
        parts=[part()],
        devices=[(device("-K1"), (100, 100)), (device("-K2", plugs_into="-K1"), (x, y))],
    )


def hung(y, x=100.0):
    return panel(
        parts=[part()],
        devices=[(device("-Q2"), (100, 200)), (device("-Q3", hangs_under="-Q2"), (x, y))],
    )


@pytest.mark.parametrize(
    ("x", "wanted"), [(140, "PASS"), (140.5, "PASS"), (140.49, "PASS"), (140.51, "FAIL")]
)
def test_plugged(x, wanted):
    assert verdict(RULE, plugged(x)) == wanted


@pytest.mark.parametrize(
    ("y", "wanted"), [(120, "PASS"), (119.5, "PASS"), (119.51, "PASS"), (119.49, "FAIL")]
)
def test_hung(y, wanted):
    assert verdict(RULE, hung(y)) == wanted


@pytest.mark.parametrize("wrong", [plugged(60), plugged(140, 300), hung(280), hung(120, 300)])
def test_the_wrong_side_or_row(wrong):
    (found,) = told(RULE, wrong)
    assert found.verdict == "FAIL"
    assert "at once" in found.cure


def covered(y):
    covers = {"cover_top": 3.0, "cover_bottom": 4.0}
    return panel(
        parts=[part(**covers)],
        devices=[(device("-Q2"), (100, 200)), (device("-Q3", hangs_under="-Q2"), (100, y))],
    )


@pytest.mark.parametrize(("y", "wanted"), [(112.5, "PASS"), (112.6, "PASS"), (112.4, "FAIL")])
def test_covers_may_lie_between(y, wanted):
    # the lower body may end 3 + 4 + 0.5 below the upper one
    assert verdict(RULE, covered(y)) == wanted
