"""Two devices of 40 × 80 side by side: touching, apart, overlapping."""

import pytest

from platewright.model.finding import Verdict

from ..builders import boxes, device, panel, part, told, verdict

RULE = "space.device-overlap"


@pytest.mark.parametrize(
    ("x", "wanted"), [(140.0, "PASS"), (140.01, "PASS"), (139.99, "FAIL"), (100.0, "FAIL")]
)
def test_bodies(x, wanted):
    assert verdict(RULE, panel(**boxes((100, 100), (x, 100)))) == wanted


@pytest.mark.parametrize(("x", "wanted"), [(145.0, "PASS"), (145.01, "PASS"), (144.99, "FAIL")])
def test_covers_count(x, wanted):
    assert verdict(RULE, panel(**boxes((100, 100), (x, 100), cover_right=5.0))) == wanted


def test_the_finding_measures_points_and_cures():
    (found,) = told(RULE, panel(**boxes((100, 100), (130, 100))))
    assert (found.measured, found.limit, found.unit) == (10.0, 0.0, "mm")
    assert (found.place.left, found.place.right) == (130.0, 140.0)
    assert found.cure == "Move -A1 10.0 mm left, or -A2 10.0 mm right"


def test_following_the_cure_cures():
    assert verdict(RULE, panel(**boxes((90, 100), (130, 100)))) is Verdict.PASS


def linked(y, **fields):
    upper, lower = device("-Q1"), device("-Q2", hangs_under="-Q1")
    return panel(
        parts=[part(cover_top=10.0, cover_bottom=10.0, **fields)],
        devices=[(upper, (100, 200)), (lower, (100, y))],
    )


@pytest.mark.parametrize(("y", "wanted"), [(120.0, "PASS"), (119.99, "PASS"), (120.01, "FAIL")])
def test_linked_partners_may_touch_body_to_body(y, wanted):
    assert verdict(RULE, linked(y)) == wanted


def test_every_pair_is_told():
    found = told(RULE, panel(**boxes((100, 100), (110, 100), (120, 100))))
    assert [(one.subject, one.measured) for one in found] == [
        ("-A1", 30.0),
        ("-A1", 20.0),
        ("-A2", 30.0),
    ]


def test_partners_are_measured_body_to_body():
    (found,) = told(RULE, linked(125.0))
    assert (found.subject, found.measured) == ("-Q1", 5.0)
    (well,) = told(RULE, linked(120.0))
    assert well.subject == ""
