"""A foot in the middle of a body of 40 × 80 at 100, 100: its hole belongs at 120, 140."""

import pytest

from platewright.model.part import HoleForm

from ..builders import boxes, hole, panel, told, verdict

RULE = "fabrication.holes-of-device"
ONE = {"hole_pattern_width": 0.0, "hole_pattern_height": 0.0, "screw": "M5"}
FOUR = {"hole_pattern_width": 30.0, "hole_pattern_height": 60.0, "screw": "M5"}


@pytest.mark.parametrize(
    ("x", "y", "wanted"),
    [
        (120.0, 140.0, "PASS"),
        (120.5, 140.0, "PASS"),
        (120.49, 140.0, "PASS"),
        (120.51, 140.0, "FAIL"),
        (120.3, 140.4, "PASS"),  # 0.5 by 3-4-5
        (120.31, 140.4, "FAIL"),
    ],
)
def test_off_by(x, y, wanted):
    here = panel(
        **boxes((100, 100), cover_left=9.0, cover_bottom=9.0, **ONE),
        layout={"holes": {"H1": hole(x, y, "-A1")}},
    )
    assert verdict(RULE, here) == wanted


def corners(skip=None, holds="-A1"):
    places = [(105, 110), (135, 110), (105, 170), (135, 170)]
    return {f"H{n}": hole(*place, holds) for n, place in enumerate(places, start=1) if n != skip}


def test_four_feet():
    here = panel(**boxes((100, 100), **FOUR), layout={"holes": corners()})
    assert verdict(RULE, here) == "PASS"


def test_one_missing_of_four():
    (found,) = told(RULE, panel(**boxes((100, 100), **FOUR), layout={"holes": corners(skip=3)}))
    assert found.verdict == "FAIL"
    assert "(105.0, 170.0)" in found.message
    assert found.measured == 30.0


def test_holes_of_another_device_do_not_count():
    here = panel(**boxes((100, 100), **FOUR), layout={"holes": corners(holds="-A2")})
    assert [found.verdict for found in told(RULE, here)] == ["FAIL"] * 4


def test_an_unstated_pattern_is_told_elsewhere():
    assert verdict(RULE, panel(**boxes((100, 100)))) == "NOT_APPLICABLE"


OPEN = FOUR | {"hole_form": HoleForm.OPEN_SLOT, "slot_length": 9.0}
SLOTS = FOUR | {"hole_form": HoleForm.SLOT, "slot_length": 9.0}  # M5: play of (9 − 5) / 2 = 2


@pytest.mark.parametrize(
    ("right", "up", "wanted"),
    [
        (2.5, 0.0, "PASS"),
        (2.4, 0.0, "PASS"),
        (2.6, 0.0, "FAIL"),
        (0.0, 2.5, "PASS"),
        (0.0, 2.6, "FAIL"),
        (2.0, 2.0, "FAIL"),  # a slot gives way along one direction only
    ],
)
@pytest.mark.parametrize("feet", [SLOTS, OPEN])
def test_slots_give_play_along_one_way(right, up, wanted, feet):
    here = panel(**boxes((100 + right, 100 + up), **feet), layout={"holes": corners()})
    assert verdict(RULE, here) == wanted


def test_a_keyhole_gives_none():
    """Its slot is as wide as the screw, and the head sits at its end."""
    feet = FOUR | {"hole_form": HoleForm.KEYHOLE, "slot_length": 9.0}
    assert verdict(RULE, panel(**boxes((101, 100), **feet), layout={"holes": corners()})) == "FAIL"
