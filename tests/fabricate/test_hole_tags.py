"""Tags of holes over random changes: what an old sheet says of a number stays true or void."""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from platewright.fabricate.hole_tags import tagged
from platewright.fabricate.solvers.place_holes import place_holes
from platewright.model.job import Job
from platewright.model.layout import (
    Duct,
    Hole,
    HoleKind,
    HoleState,
    Layout,
    Placement,
    Rail,
    Run,
)

MakeJob = Callable[..., Job]
DEVICES = {"-T1": "drive", "-T2": "drive", "-X3": "bar"}
LAYOUT = Layout(
    devices={"-T1": Placement(x=500, y=300), "-X3": Placement(x=300, y=560)},
    rails={"R1": Rail(x=60, y=200, length=400), "R2": Rail(x=60, y=450, length=300)},
    ducts={"W1": Duct(x=40, y=60, length=700, width=40, height=60, run=Run.ACROSS, stock="40x60")},
)
STEP = st.tuples(
    st.sampled_from(["move", "gone", "new", "longer", "drill", "mark"]),
    st.integers(0, 6), st.integers(-8, 8),
)  # fmt: skip


def _place(hole: Hole) -> tuple[float, float]:
    return round(hole.x, 2), round(hole.y, 2)


def _stepped(layout: Layout, step: tuple[str, int, int]) -> Layout:
    """Return the layout after one thing was done to it."""
    what, which, by = step
    devices, rails, holes = dict(layout.devices), dict(layout.rails), dict(layout.holes)
    tag = sorted(devices)[which % len(devices)]
    rail = sorted(rails)[which % len(rails)]
    if what == "move":
        devices[tag] = replace(devices[tag], x=devices[tag].x + by)
        rails[rail] = replace(rails[rail], y=rails[rail].y + by)
    elif what == "gone" and len(devices) > 1:
        del devices[tag]
    elif what == "new":
        devices.setdefault("-T2", Placement(x=640, y=300 + by))
    elif what == "longer":
        rails[rail] = replace(rails[rail], length=rails[rail].length + 5 * by)
    elif what in ("drill", "mark") and holes:
        state = HoleState.DRILLED if what == "drill" else HoleState.MARKED
        for name in sorted(holes)[which::3]:
            if holes[name].state is not HoleState.DRILLED:
                holes[name] = replace(holes[name], state=state)
    return replace(layout, devices=devices, rails=rails, holes=holes)


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(st.lists(STEP, min_size=1, max_size=6))
def test_a_tag_never_comes_to_mean_another_place(
    make_job: MakeJob, steps: list[tuple[str, int, int]]
) -> None:
    job = make_job(DEVICES)
    plans = [place_holes(job, LAYOUT)]
    for step in steps:
        before = _stepped(plans[-1], step)
        after = place_holes(job, before).holes
        for tag, hole in before.holes.items():
            if hole.state is not HoleState.PLANNED:
                assert replace(after[tag], holds="") == replace(hole, holds="")
            elif tag in after:
                assert (_place(after[tag]), after[tag].holds) == (_place(hole), hole.holds)
            else:  # given up: nothing is planned there for the same thing
                assert (_place(hole), hole.holds) not in {
                    (_place(h), h.holds) for h in after.values() if h.state is HoleState.PLANNED
                }
        plans.append(replace(before, holes=after))
    for old, new in pairwise(plans):
        places = {_place(hole) for hole in old.holes.values()}
        told_new = {_place(h) for tag, h in new.holes.items() if tag not in old.holes}
        assert {_place(h) for h in new.holes.values()} - places <= told_new


def _hole(x: float, **changes: object) -> Hole:
    hole = Hole(x=x, y=0, kind=HoleKind.TAPPED, size="M5", drill=4.2, holds="R1")
    return replace(hole, **changes)


def test_once_work_has_begun_numbers_only_grow() -> None:
    """H2 was a device's that left the lists long ago: its number must not come back."""
    sunk = {"H3": _hole(3, state=HoleState.DRILLED)}
    former = {"H1": _hole(1), **sunk, "H5": _hole(5)}
    found = tagged(former, sunk, [_hole(1), _hole(7), _hole(8)])
    assert {tag: hole.x for tag, hole in found.items()} == {"H1": 1, "H3": 3, "H6": 7, "H7": 8}


def test_on_a_bare_plate_numbers_stay_low() -> None:
    former = {"H1": _hole(1), "H2": _hole(2)}
    once = tagged(former, {}, [_hole(7), _hole(8)])
    assert list(once) == ["H3", "H4"]
    assert list(tagged(once, {}, [_hole(9), _hole(8)])) == ["H1", "H4"]


def test_the_same_place_for_another_thing_is_another_hole() -> None:
    former = {"H1": _hole(1, holds="D1")}
    assert list(tagged(former, {}, [_hole(1)])) == ["H2"]
