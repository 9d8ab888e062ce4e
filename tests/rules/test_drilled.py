"""A cure that moves what hangs on drilled holes says which these are."""

from __future__ import annotations

import pytest

from platewright.model.layout import HoleState, Layout
from platewright.rules.drilled import told_what_is_drilled

from .builders import boxes, hole, panel, told

DRILLED = HoleState.DRILLED
HOLES = {
    "H7": hole(1, 1, "-M1", state=DRILLED),
    "H8": hole(2, 1, "-M1", state=DRILLED),
    "H9": hole(3, 1, "-M1", state=DRILLED),
    "H3": hole(4, 1, "D1", state=DRILLED),
    "H4": hole(5, 1, "-M2"),
}
NOTE = "-M1 hangs on drilled holes (H7..H9): moved or cut anew, it may leave them over"


@pytest.mark.parametrize(
    "cure",
    [
        "Move -M1 11.8 mm away, or use one hole for both",
        "Move -M2 0.3 mm right, or -M1 0.3 mm the other way",
        "Cool the enclosure, move -M1 lower",
        "Move -M2 or -M1 to the other devices of its group",
    ],
)
def test_the_holes_that_a_move_leaves_over_are_told(cure):
    assert told_what_is_drilled(Layout(holes=HOLES), cure) == f"{cure}. {NOTE}"


@pytest.mark.parametrize(
    "cure",
    [
        "",
        "Move -M2 3.0 mm right",  # its hole is planned
        "Move -M10 3.0 mm right",  # another device
        "Move -M2 5.9 mm away from -M1; -M1 has no room to make way",
        "File the foot of -M1 there by 0.2 mm, or move -M1 onto its drilled holes",
        "File the slot there, or move D1 so that all its holes lie in slots",
    ],
)
def test_what_stays_or_comes_onto_its_holes_needs_no_word(cure):
    assert told_what_is_drilled(Layout(holes=HOLES), cure) == cure


def test_ducts_and_rails_count():
    told_now = told_what_is_drilled(Layout(holes=HOLES), "Move -M2 1 mm up, or shift or shorten D1")
    assert told_now.endswith(
        "D1 hangs on drilled holes (H3): moved or cut anew, it may leave them over"
    )


def test_findings_carry_it():
    """Two boxes overlap, one of them is screwed on: the cure names its hole."""
    holes = {"H1": hole(110, 110, "-A1", state=DRILLED)}
    of = panel(**boxes((100, 100), (130, 100)), layout={"holes": holes})
    (found,) = told("space.device-overlap", of)
    assert found.cure.endswith(
        "-A1 hangs on drilled holes (H1): moved or cut anew, it may leave them over"
    )
    (bare,) = told("space.device-overlap", panel(**boxes((100, 100), (130, 100))))
    assert "drilled" not in bare.cure
