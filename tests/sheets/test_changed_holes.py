"""Holes of two revisions: each that is new, left over, moved or gone is told once, none else.

The truth is a plain computation over sets of places, or what the test itself did to each hole.
"""

import random
from dataclasses import replace

import pytest

from platewright.model.job import DisplayUnit
from platewright.model.layout import Hole, HoleKind, HoleState
from platewright.sheets.changed_holes import hole_changes
from platewright.sheets.changed_lists import shift_said

PITCH = 60.0  # mm between places: wider than any hole is measured off its plan
OWNERS = ("-T1", "-Q1", "D1", "R1")


def hole(x, y, holds="-T1", state=HoleState.PLANNED):
    return Hole(x=x, y=y, kind=HoleKind.TAPPED, size="M5", drill=4.2, holds=holds, state=state)


def told(before, after):
    """Return what is told: kind of change, tag, place."""
    found = list(hole_changes(before, after, DisplayUnit.MM))
    return sorted((c.what, c.tag, (c.now or c.was).x, (c.now or c.was).y) for c in found)


def test_a_hole_drilled_beside_its_mark_and_its_successor_on_the_mark_are_both_told():
    """A main switch's hole was drilled 0.9 mm off, given up, and planned again by the next plan."""
    before = {"H15": hole(53.525, 530.825, "-Q0"), "H16": hole(53.525, 638.775, "-Q0")}
    after = {
        "H15": hole(54.331, 530.53, "", HoleState.DRILLED),
        "H16": before["H16"],
        "H67": hole(53.525, 530.825, "-Q0"),
    }
    assert told(before, after) == [
        ("left over", "H15", 54.331, 530.53), ("new", "H67", 53.525, 530.825)
    ]  # fmt: skip
    (over, _) = sorted(hole_changes(before, after, DisplayUnit.MM), key=lambda c: c.tag)
    for word in ("planned before, drilled now", "held -Q0, holds nothing now", "+0.8, −0.3"):
        assert word in over.words


def test_holes_numbered_anew_and_drilled_where_planned_have_not_moved():
    """Feet 20 mm apart swap tags; that is nearer than a hole may be measured off its plan."""
    for off in (0.0, 0.3):
        before = {"H5": hole(100, 100), "H9": hole(120, 100)}
        after = {
            "H5": hole(120 + off, 100, state=HoleState.DRILLED),
            "H9": hole(100 + off, 100, state=HoleState.DRILLED),
        }
        found = list(hole_changes(before, after, DisplayUnit.MM))
        assert {c.what for c in found} == {"moved" if off else "drilled"}
        assert all(f"on the earlier sheet it is {'H9' if c.tag == 'H5' else 'H5'}" in c.words
                   for c in found)  # fmt: skip


@pytest.mark.parametrize("seed", range(300))
def test_unrelated_layouts_differ_as_their_sets_of_places_do(seed):
    rng = random.Random(seed)

    def layout():
        places = rng.sample([(PITCH * i, PITCH * j) for i in range(4) for j in range(3)],
                            rng.randint(0, 9))  # fmt: skip
        tags = rng.sample([f"H{n}" for n in range(1, 13)], len(places))
        made = {}
        for tag, (x, y) in zip(tags, places, strict=True):
            state = rng.choice(list(HoleState))
            owners = (*OWNERS, "") if state is HoleState.DRILLED else OWNERS
            made[tag] = hole(x, y, rng.choice(owners), state)
        return made

    before, after = layout(), layout()
    old = {(h.x, h.y): (tag, h) for tag, h in before.items()}
    new = {(h.x, h.y): (tag, h) for tag, h in after.items()}
    wanted = [("gone", old[at][0], *at) for at in old.keys() - new.keys()]
    for at in new.keys() - old.keys():
        tag, one = new[at]
        wanted.append(("new" if one.holds else "left over", tag, *at))
    for at in new.keys() & old.keys():
        (tag, one), (_, was) = new[at], old[at]
        if was.holds and not one.holds:
            wanted.append(("left over", tag, *at))
        elif one.holds != was.holds:
            wanted.append(("changed", tag, *at))
        elif one.state is not was.state:
            wanted.append((str(one.state), tag, *at))
    assert told(before, after) == sorted(wanted)


@pytest.mark.parametrize("seed", range(300))
def test_what_was_done_to_each_hole_is_what_is_told(seed):
    rng = random.Random(1000 + seed)
    spots = [(PITCH * i, PITCH * j) for i in range(1, 7) for j in range(1, 6)]
    rng.shuffle(spots)
    before = {f"H{n}": hole(*spots.pop(), rng.choice(OWNERS)) for n in range(1, 13)}
    after, wanted, renamed = {}, [], []
    count = 12
    for tag, was in before.items():
        done = rng.choice(("keep", "rename", "drill", "measure", "give up", "put again", "shift",
                           "gone", "far"))  # fmt: skip
        dx, dy = rng.choice((-4.0, -0.9, 0.7, 3.0)), rng.choice((0.0, 0.5, -2.0))
        beside = {"x": was.x + dx, "y": was.y + dy}
        match done:
            case "keep":
                after[tag] = was
            case "rename":
                renamed.append(was)
            case "drill":
                after[tag] = replace(was, state=HoleState.DRILLED)
                wanted.append(("drilled", tag, was.x, was.y))
            case "measure":
                after[tag] = replace(was, **beside, state=HoleState.DRILLED)
                wanted.append(("moved", tag, beside["x"], beside["y"]))
            case "give up" | "put again":
                after[tag] = replace(was, **beside, state=HoleState.DRILLED, holds="")
                wanted.append(("left over", tag, beside["x"], beside["y"]))
                if done == "put again":  # a new hole on the old mark
                    count += 1
                    after[f"H{count}"] = was
                    wanted.append(("new", f"H{count}", was.x, was.y))
            case "shift":
                after[tag] = replace(was, **beside)
                wanted.append(("moved", tag, beside["x"], beside["y"]))
            case "gone":
                wanted.append(("gone", tag, was.x, was.y))
            case "far":
                x, y = spots.pop()
                after[tag] = replace(was, x=x, y=y)
                wanted += [("gone", tag, was.x, was.y), ("new", tag, x, y)]
    for was in renamed:
        count += 1
        after[f"H{count}"] = was
    order = list(after.items())
    rng.shuffle(order)
    assert told(before, dict(order)) == sorted(wanted)
    assert told(dict(order), dict(order)) == []


@pytest.mark.parametrize(
    ("dx", "dy", "unit", "wanted"),
    [
        (-0.1, 25.4, DisplayUnit.INCH, "+0.00, +1.00"),
        (-0.2, -25.4, DisplayUnit.INCH, "−0.01, −1.00"),
        (-0.04, -1.5, DisplayUnit.MM, "+0, −1.5"),
    ],
)
def test_what_rounds_to_nothing_has_no_minus(dx, dy, unit, wanted):
    assert shift_said(dx, dy, unit) == wanted


def test_a_mark_whose_owner_went_is_one_to_wipe_off_and_not_to_drill():
    before = {"H1": hole(60, 60, "R1", HoleState.MARKED)}
    after = {"H1": hole(60, 60, "", HoleState.MARKED), "H2": hole(120, 60, "R1")}
    assert told(before, after) == [
        ("mark to wipe off", "H1", 60, 60), ("new", "H2", 120, 60)
    ]  # fmt: skip
    (gone,) = hole_changes({"H1": after["H1"]}, {}, DisplayUnit.MM)
    assert (gone.what, gone.words) == ("gone", "mark wiped off at 60, 60")
