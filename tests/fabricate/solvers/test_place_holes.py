"""Every hole belongs to something, and what is drilled stays."""

from collections import Counter
from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from platewright.fabricate.solvers.place_holes import place_holes
from platewright.foundation.errors import InputErrors
from platewright.model.job import DuctStock, Job, Practice, Stock
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
LAYOUT = Layout(
    devices={"-T1": Placement(x=500, y=300), "-X3": Placement(x=300, y=560)},
    rails={"R1": Rail(x=60, y=200, length=400), "R2": Rail(x=60, y=450, length=300)},
    ducts={"W1": Duct(x=40, y=60, length=700, width=40, height=60, run=Run.ACROSS, stock="40x60")},
)
DEVICES = {"-T1": "drive", "-X3": "bar"}


def drilled(x: float, y: float, holds: str = "", **changes: object) -> Hole:
    hole = Hole(
        x=x, y=y, kind=HoleKind.TAPPED, size="M5", drill=4.2, holds=holds, state=HoleState.DRILLED
    )
    return replace(hole, **changes)


def test_device_holes_lie_on_its_pattern(make_job: MakeJob) -> None:
    """Pattern 80 x 180 in a body 100 x 200 at (500, 300): 10 in from each side."""
    holes = place_holes(make_job(DEVICES), LAYOUT).holes.values()
    assert [(h.x, h.y) for h in holes if h.holds == "-T1"] == [
        (510, 310),
        (510, 490),
        (590, 310),
        (590, 490),
    ]
    assert [(h.x, h.y, h.size) for h in holes if h.holds == "-X3"] == [
        (307.5, 566, "M6"),
        (452.5, 566, "M6"),
    ]


def test_kind_follows_the_plates_thickness(make_job: MakeJob) -> None:
    thick = place_holes(make_job(DEVICES, thickness=2.5), LAYOUT).holes.values()
    thin = place_holes(make_job(DEVICES, thickness=1.9), LAYOUT).holes.values()
    assert {(h.kind, h.drill) for h in thick if h.size == "M6"} == {(HoleKind.TAPPED, 5.0)}
    assert {(h.kind, h.drill) for h in thin if h.size == "M6"} == {(HoleKind.CLEARANCE, 6.6)}
    assert {(h.kind, h.drill) for h in thin if h.size == "M5"} == {(HoleKind.TAPPED, 4.2)}


def test_tags_count_devices_then_rails_then_ducts(make_job: MakeJob) -> None:
    holes = place_holes(make_job(DEVICES), LAYOUT).holes
    assert list(holes) == [f"H{n}" for n in range(1, len(holes) + 1)]
    order = list(dict.fromkeys(hole.holds for hole in holes.values()))
    assert order == ["-T1", "-X3", "R1", "R2", "W1"]
    assert all(hole.state is HoleState.PLANNED for hole in holes.values())


def test_order_of_rows_changes_nothing(make_job: MakeJob) -> None:
    turned = replace(
        LAYOUT,
        devices=dict(reversed(LAYOUT.devices.items())),
        rails=dict(reversed(LAYOUT.rails.items())),
    )
    job = make_job(DEVICES)
    assert list(place_holes(job, turned).holes.items()) == list(
        place_holes(job, LAYOUT).holes.items()
    )


def test_planned_holes_are_planned_anew(make_job: MakeJob) -> None:
    job = make_job(DEVICES)
    once = place_holes(job, LAYOUT)
    assert place_holes(job, once) == once


@pytest.mark.parametrize("state", [HoleState.DRILLED, HoleState.MARKED])
def test_sunk_holes_of_the_same_plate_all_serve_again(state: HoleState, make_job: MakeJob) -> None:
    job = make_job(DEVICES)
    once = place_holes(job, LAYOUT)
    sunk = {tag: replace(hole, state=state) for tag, hole in once.holes.items()}
    assert place_holes(job, replace(once, holes=sunk)).holes == sunk


def test_drilled_hole_serves_as_far_as_the_check_allows_and_an_own_one_as_a_foot_is_filed(
    make_job: MakeJob,
) -> None:
    """Half a millimetre; one drilled for it 1.5 mm, for no other can be drilled beside it."""
    job = make_job(DEVICES)
    for off, holds, serves in (
        (0.49, "", True), (0.5, "", True), (0.51, "", False), (0.51, "-X3", False),
        (1.49, "-T1", True), (1.5, "-T1", True), (1.51, "-T1", False),
    ):  # fmt: skip
        old = drilled(510 + off, 310, holds)
        holes = place_holes(job, replace(LAYOUT, holes={"H9": old})).holes
        assert (holes["H9"].holds == "-T1") is serves
        assert (holes["H9"].x, holes["H9"].state) == (510 + off, HoleState.DRILLED)
        mine = [hole for hole in holes.values() if hole.holds == "-T1"]
        assert len(mine) == 4


def test_drilled_hole_of_another_size_does_not_serve(make_job: MakeJob) -> None:
    old = drilled(510, 310, "-T1", size="M6", drill=5.0)
    holes = place_holes(make_job(DEVICES), replace(LAYOUT, holes={"H1": old})).holes
    assert holes["H1"] == replace(old, holds="")
    assert sum(hole.holds == "-T1" for hole in holes.values()) == 4


def test_drilled_hole_on_a_ducts_axis_serves_it(make_job: MakeJob) -> None:
    old = drilled(333.3, 80, "W1")
    holes = place_holes(make_job(), replace(LAYOUT, devices={}, holes={"H1": old})).holes
    assert holes["H1"] == old


def test_drilled_hole_beside_the_axis_is_left_over(make_job: MakeJob) -> None:
    old = drilled(333.3, 86, "W1")
    holes = place_holes(make_job(), replace(LAYOUT, devices={}, holes={"H1": old})).holes
    assert holes["H1"] == replace(old, holds="")


def test_moved_device_leaves_its_holes_over(make_job: MakeJob) -> None:
    job = make_job(DEVICES)
    once = place_holes(job, LAYOUT)
    sunk = {t: replace(h, state=HoleState.DRILLED) for t, h in once.holes.items()}
    moved = {**LAYOUT.devices, "-T1": Placement(x=600, y=300)}
    again = place_holes(job, replace(once, devices=moved, holes=sunk)).holes
    assert {tag for tag, hole in again.items() if hole.holds == ""} == {"H1", "H2", "H3", "H4"}
    new = [tag for tag in again if tag not in sunk]
    assert len(new) == 4
    assert all(again[tag].state is HoleState.PLANNED for tag in new)


def test_marked_hole_no_longer_needed_stays(make_job: MakeJob) -> None:
    old = drilled(700, 550, "-GONE", state=HoleState.MARKED)
    holes = place_holes(make_job(), replace(LAYOUT, devices={}, holes={"H2": old})).holes
    assert holes["H2"] == replace(old, holds="")


def test_screw_or_pattern_not_stated_gives_no_holes(make_job: MakeJob) -> None:
    layout = Layout(devices={"-U1": Placement(x=200, y=200)})
    assert place_holes(make_job({"-U1": "unstated"}), layout).holes == {}


def test_drilled_holes_of_ducts_with_slots_stay_theirs(make_job: MakeJob) -> None:
    slotted = DuctStock(name="40x60", width=40, height=60, slot_pitch=50, slot_length=12)
    job = make_job(stock=Stock(ducts=(slotted,)))
    first = place_holes(job, LAYOUT.__class__(ducts=LAYOUT.ducts))
    assert all((hole.x - 40 - 25) % 50 == 0 for hole in first.holes.values())
    done = {tag: replace(hole, state=HoleState.DRILLED) for tag, hole in first.holes.items()}
    again = place_holes(job, replace(first, holes=done))
    assert again.holes == done


@pytest.mark.parametrize(
    ("practice", "size"), [(Practice.IEC, "M5"), (Practice.NORTH_AMERICA, "10-32")]
)
def test_screws_not_stated_are_those_of_the_practice(
    practice: Practice, size: str, make_job: MakeJob
) -> None:
    job = make_job()
    job = replace(job, settings=replace(job.settings, practice=practice))
    pieces = LAYOUT.__class__(rails=LAYOUT.rails, ducts=LAYOUT.ducts)
    assert {hole.size for hole in place_holes(job, pieces).holes.values()} == {size}


def test_unknown_thread_of_the_stock_is_told(make_job: MakeJob) -> None:
    job = make_job(stock=Stock(ducts=(), rail_screw="M55"))
    with pytest.raises(InputErrors, match="M55"):
        place_holes(job, LAYOUT.__class__(rails=LAYOUT.rails))


def test_hole_of_a_size_that_is_no_thread_is_kept(make_job: MakeJob) -> None:
    rivet = drilled(333.3, 80, "W1", kind=HoleKind.RIVET, size="rivet 4.8", drill=4.9)
    holes = place_holes(make_job(), replace(LAYOUT, devices={}, holes={"H1": rivet})).holes
    assert holes["H1"] == replace(rivet, holds="")


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    st.lists(
        st.tuples(
            st.integers(20, 780),
            st.sampled_from([80, 200, 310, 450, 500]),
            st.sampled_from(HoleState),
        ),
        max_size=8,
        unique_by=lambda hole: hole[:2],
    )
)
def test_every_hole_belongs_and_none_is_lost(
    make_job: MakeJob, sunk: list[tuple[int, int, HoleState]]
) -> None:
    old = {f"H{n}": drilled(x, y, state=state) for n, (x, y, state) in enumerate(sunk, 1)}
    after = place_holes(make_job(DEVICES), replace(LAYOUT, holes=old)).holes
    for tag, hole in old.items():
        if hole.state is not HoleState.PLANNED:
            assert replace(after[tag], holds="") == hole
    known = {*LAYOUT.devices, *LAYOUT.rails, *LAYOUT.ducts}
    held = Counter(hole.holds for hole in after.values())
    assert set(held) <= {*known, ""}
    assert (held["-T1"], held["-X3"]) == (4, 2)
    assert all(held[tag] >= 2 for tag in known)
    assert all(old.get(tag) is not None for tag, hole in after.items() if hole.holds == "")
