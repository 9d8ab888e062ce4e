"""Depth 60, door 200 in front of the plate."""

import pytest

from platewright.model.part import Mount

from ..builders import boxes, panel, rail, settings, told, verdict

RULE = "space.depth"


@pytest.mark.parametrize(("depth", "wanted"), [(200, "PASS"), (199.9, "PASS"), (200.1, "FAIL")])
def test_body(depth, wanted):
    assert verdict(RULE, panel(**boxes((1, 1), depth=depth))) == wanted


@pytest.mark.parametrize(("cover", "wanted"), [(140, "PASS"), (139.9, "PASS"), (140.1, "FAIL")])
def test_cover_in_front(cover, wanted):
    assert verdict(RULE, panel(**boxes((1, 1), cover_front=cover))) == wanted


@pytest.mark.parametrize(("depth", "wanted"), [(185, "PASS"), (184.9, "PASS"), (185.1, "FAIL")])
def test_the_gap_of_the_job(depth, wanted):
    job = settings(limits={"door_gap": 15.0})
    here = panel(**boxes((1, 1), depth=depth), job=job)
    assert verdict(RULE, here) == wanted
    assert told(RULE, here)[0].source.clause == "limits.door_gap"


def on_rail(depth, profile):
    return panel(
        **boxes((100, 100), depth=depth, mount=Mount.RAIL, rail_center=40.0),
        layout={"rails": {"R1": rail(50, 140, 200, profile=profile)}},
    )


@pytest.mark.parametrize(
    ("depth", "profile", "wanted"),
    [
        (200.0, "TH35-7.5", "PASS"),
        (200.1, "TH35-7.5", "FAIL"),
        (192.5, "TH35-15", "PASS"),
        (192.4, "TH35-15", "PASS"),
        (192.6, "TH35-15", "FAIL"),
        (60.0, "home-made", "UNDECIDED"),
    ],
)
def test_a_high_rail_adds(depth, profile, wanted):
    assert verdict(RULE, on_rail(depth, profile)) == wanted
