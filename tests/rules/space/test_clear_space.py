"""Rooms beyond the cover, on each side, to devices and ducts."""

import pytest

from platewright.model.finding import Verdict
from platewright.model.layout import Run

from ..builders import boxes, clear, device, duct, need, panel, part, told, verdict

RULE = "space.clear-space"


def pair(x, y=100.0, *, one=None, other=None, **fields):
    needs = {"-A1": one or clear(), "-A2": other or clear()}
    return panel(**boxes((100, 100), (x, y), **fields), clear=needs)


@pytest.mark.parametrize(("x", "wanted"), [(155.0, "PASS"), (155.01, "PASS"), (154.99, "FAIL")])
def test_right(x, wanted):
    assert verdict(RULE, pair(x, one=clear(right=need(15)))) == wanted


@pytest.mark.parametrize(("x", "wanted"), [(45.0, "PASS"), (44.99, "PASS"), (45.01, "FAIL")])
def test_left(x, wanted):
    assert verdict(RULE, pair(x, one=clear(left=need(15)))) == wanted


@pytest.mark.parametrize(("y", "wanted"), [(195.0, "PASS"), (195.01, "PASS"), (194.99, "FAIL")])
def test_top(y, wanted):
    assert verdict(RULE, pair(100, y, one=clear(top=need(15)))) == wanted


@pytest.mark.parametrize(("y", "wanted"), [(5.0, "PASS"), (4.99, "PASS"), (5.01, "FAIL")])
def test_bottom(y, wanted):
    assert verdict(RULE, pair(100, y, one=clear(bottom=need(15)))) == wanted


@pytest.mark.parametrize(("x", "wanted"), [(165.0, "PASS"), (165.01, "PASS"), (164.99, "FAIL")])
def test_counted_beyond_covers_of_both(x, wanted):
    here = pair(x, one=clear(right=need(15)), cover_right=4.0, cover_left=6.0)
    assert verdict(RULE, here) == wanted


@pytest.mark.parametrize(("x", "wanted"), [(160.0, "PASS"), (160.01, "PASS"), (159.99, "FAIL")])
def test_the_larger_of_two_needs_counts_not_their_sum(x, wanted):
    here = pair(x, one=clear(right=need(15)), other=clear(left=need(20)))
    assert verdict(RULE, here) == wanted


@pytest.mark.parametrize(("y", "wanted"), [(60.0 - 30, "PASS"), (29.99, "PASS"), (30.01, "FAIL")])
def test_ducts_stand_in_the_way(y, wanted):
    here = panel(
        **boxes((100, 100)),
        clear={"-A1": clear(bottom=need(30))},
        layout={"ducts": {"U1": duct(0, y, 500)}},
    )
    assert verdict(RULE, here) == wanted


def test_an_assumed_room_is_a_caution_that_says_so():
    found = told(RULE, pair(150, one=clear(right=need(15, stated=False, reason="heat"))))[0]
    assert found.verdict is Verdict.CAUTION
    assert "(heat, assumed)" in found.message
    assert "state the clear space" in found.cure
    assert (found.measured, found.limit) == (10.0, 15.0)


def test_every_thing_in_the_way_is_told():
    here = panel(**boxes((100, 100), (145, 100), (145, 170)), clear={"-A1": clear(right=need(15))})
    texts = [found.message for found in told(RULE, here) if found.verdict is Verdict.FAIL]
    assert len(texts) == 2


def test_what_stands_only_diagonally_is_not_in_the_strip():
    assert verdict(RULE, pair(141, 181, one=clear(right=need(15), top=need(15)))) == "PASS"


@pytest.mark.parametrize("link", ["plugs_into", "hangs_under"])
def test_partners_are_exempt(link):
    one, other = device("-A1"), device("-A2", **{link: "-A1"})
    here = panel(
        parts=[part()],
        devices=[(one, (100, 100)), (other, (140, 100))],
        clear={"-A1": clear(right=need(15)), "-A2": clear(left=need(15))},
    )
    assert verdict(RULE, here) == "PASS"


def test_an_overlap_is_a_negative_distance():
    found = told(RULE, pair(135, one=clear(right=need(15))))[0]
    assert found.measured == -5.0
    assert found.verdict is Verdict.FAIL


def test_a_device_whose_room_was_not_worked_out_is_undecided():
    assert verdict(RULE, panel(**boxes((100, 100)), clear={})) is Verdict.UNDECIDED


def between_ducts(left, right, room=15.0):
    """-A1 of 40 mm at x = 100, upright ducts so far from its sides."""
    ducts = {
        "D1": duct(100 - left - 40, 0, 600, Run.UPRIGHT),
        "D2": duct(140 + right, 0, 600, Run.UPRIGHT),
    }
    needs = {"-A1": clear(left=need(room), right=need(room))}
    return panel(**boxes((100, 100)), clear=needs, layout={"ducts": ducts})


@pytest.mark.parametrize(
    ("left", "right", "cures"),
    [
        (5.0, 30.0, ["Move -A1 10.0 mm right, or D1 10.0 mm the other way"]),
        (5.0, 20.0, ["Move D1 10.0 mm away from -A1; -A1 has no room to make way"]),
        (
            5.0,
            7.0,
            ["-A1 lacks 10.0 mm left and 8.0 mm right: move what stands there, or run plan again"]
            * 2,
        ),
    ],
)
def test_no_cure_opposes_another(left, right, cures):
    found = [f.cure for f in told(RULE, between_ducts(left, right)) if f.cure]
    assert found == cures
