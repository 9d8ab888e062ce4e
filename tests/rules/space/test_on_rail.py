"""A rail device whose rail centre lies 40 above its lower edge."""

import pytest

from platewright.model.part import Mount

from ..builders import boxes, panel, rail, told, verdict

RULE = "space.on-rail"


def hung(y=100.0, *, x=100.0, length=200.0, rail_x=50.0, centre=40.0):
    return panel(
        **boxes((x, y), mount=Mount.RAIL, rail_center=centre),
        layout={"rails": {"R1": rail(rail_x, 140, length)}},
    )


@pytest.mark.parametrize(
    ("y", "wanted"),
    [
        (100, "PASS"),
        (100.5, "PASS"),
        (99.5, "PASS"),
        (100.49, "PASS"),
        (100.51, "FAIL"),
        (99.49, "FAIL"),
    ],
)
def test_axis(y, wanted):
    assert verdict(RULE, hung(y)) == wanted


@pytest.mark.parametrize(("x", "wanted"), [(100, "PASS"), (99.9, "PASS"), (100.1, "FAIL")])
def test_left_end_of_the_rail(x, wanted):
    assert verdict(RULE, hung(rail_x=x)) == wanted


@pytest.mark.parametrize(("length", "wanted"), [(90, "PASS"), (90.1, "PASS"), (89.9, "FAIL")])
def test_right_end_of_the_rail(length, wanted):
    assert verdict(RULE, hung(length=length)) == wanted


def test_no_rail_at_all():
    (found,) = told(RULE, hung(400.0))
    assert found.verdict == "FAIL"
    assert "440.0 mm" in found.cure


def test_the_cure_puts_it_on_the_axis():
    (found,) = told(RULE, hung(95.0))
    assert found.cure.startswith("Move -A1 5.0 mm up")


def test_a_rail_centre_not_stated_is_undecided():
    assert verdict(RULE, hung(centre=None)) == "UNDECIDED"


def test_screw_mounted_devices_need_none():
    assert verdict(RULE, panel(**boxes((100, 100)))) == "NOT_APPLICABLE"


def test_the_nearest_of_two_rails_counts_and_covers_do_not():
    here = panel(
        **boxes((100, 100), mount=Mount.RAIL, rail_center=40.0, cover_left=60.0, cover_top=90.0),
        layout={"rails": {"R1": rail(100, 110, 40), "R2": rail(100, 140, 40)}},
    )
    (found,) = told(RULE, here)
    assert found.verdict == "PASS"
    far = {"R1": rail(100, 110, 40), "R2": rail(100, 260, 40)}
    here = panel(
        **boxes((100, 100), mount=Mount.RAIL, rail_center=40.0, cover_top=90.0),
        layout={"rails": far},
    )
    assert told(RULE, here)[0].measured == 30.0


def test_a_rail_under_a_cover_only_is_no_rail_under_the_device():
    here = panel(
        **boxes((100, 100), mount=Mount.RAIL, rail_center=40.0, cover_top=90.0),
        layout={"rails": {"R1": rail(50, 200, 300)}},
    )
    assert "no rail runs under -A1" in told(RULE, here)[0].message
