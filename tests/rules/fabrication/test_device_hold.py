"""Clamping force of a device's upper screw against what it must bear; worked by hand.

Box 40 × 80 × 60 on two M5 in a row 40 mm above its lower edge: 2500 N each at 2.5 N·m.
n kg: 3 · n · 9.807 · (30 / 40 / 2 + 1 / 2 / 0.15) + 25 N = 109.10 · n + 25.
"""

import pytest

from platewright.model.part import Mount

from ..builders import device, hole, panel, part, told, verdict

RULE = "fabrication.device-hold"
LIMIT = (2500 - 25) / 109.099


def hung(mass, *, torque=2.5, size="M5"):
    screwed = part("screwed", mount=Mount.SCREWS, screw=size, mount_torque=torque, mass=mass)
    return panel(
        parts=[screwed],
        devices=[(device("-T1", part="screwed"), (100, 100))],
        layout={
            "holes": {
                "H1": hole(110, 140, "-T1", size=size, drill=4.2),
                "H2": hole(130, 140, "-T1", size=size, drill=4.2),
            }
        },
    )


@pytest.mark.parametrize(
    ("mass", "wanted"), [(LIMIT * 0.999, "PASS"), (LIMIT * 1.001, "CAUTION"), (0.3, "PASS")]
)
def test_just_inside_and_just_outside(mass, wanted):
    assert verdict(RULE, hung(mass)) == wanted


def test_exactly_at_the_limit():
    (found,) = told(RULE, hung(10))
    assert found.limit == pytest.approx(109.099 * 10 + 25, rel=1e-4)
    at = hung(10, torque=found.limit * 0.2 * 0.005)
    assert verdict(RULE, at) == "PASS"


def test_what_is_not_stated_is_undecided():
    assert verdict(RULE, hung(None)) == "UNDECIDED"
    assert verdict(RULE, hung(1.0, torque=None, size="M8")) == "UNDECIDED"
