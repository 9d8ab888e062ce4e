"""Where rails and ducts are held: slots, limits, and what must be kept clear."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise
from math import hypot

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from platewright.fabricate.solvers.fixings import (
    Strip,
    duct_strip,
    fixing_points,
    heaviest_on,
    rail_strip,
)
from platewright.model.geometry import Point
from platewright.model.job import DuctStock, FixingHole, Job, KeepOut, Limits, Stock
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
from platewright.tables.fixings import fixing_limits
from platewright.tables.hole_spacing import hole_spacing

MakeJob = Callable[..., Job]
RAIL = Rail(x=100, y=300, length=600)
DUCT = Duct(x=50, y=100, length=700, width=40, height=60, run=Run.ACROSS, stock="40x60")
WIDE = Duct(x=100, y=50, length=500, width=80, height=80, run=Run.UPRIGHT, stock="80x80")


def points(strip: Strip, job: Job, holes: Sequence[Hole] = ()) -> list[Point]:
    settings = job.settings
    found = fixing_points(
        strip, settings.plate, edge=settings.limits.hole_edge, holes=holes, sunk={}
    )
    assert all(isinstance(point, Point) for point in found)
    return [point for point in found if isinstance(point, Point)]


def test_rail_is_held_in_its_slots(make_job: MakeJob) -> None:
    """First slot half a pitch (12.5) from the left end, then every 25."""
    job = make_job()
    found = points(rail_strip("R1", RAIL, job, Layout()), job)
    assert [p.y for p in found] == [300] * len(found)
    assert all((p.x - 100 - 12.5) % 25 == 0 for p in found)


@pytest.mark.parametrize("length", [120, 400, 401, 650, 999, 1500])
def test_rails_and_ducts_meet_their_limits_with_the_fewest(
    length: float, make_job: MakeJob
) -> None:
    job = make_job(width=2000)
    for kind, strip in (
        ("rail", rail_strip("R1", Rail(x=100, y=300, length=length), job, Layout())),
        (
            "duct",
            duct_strip(
                "W1",
                Duct(x=100, y=300, length=length, width=40, height=60, run=Run.ACROSS),
                job,
            ),
        ),
    ):
        limits = fixing_limits(kind)
        places = [p.x - 100 for p in points(strip, job)]
        assert places[0] <= limits.end
        assert length - places[-1] <= limits.end
        assert max(b - a for a, b in pairwise(places)) <= limits.span
        # no choice could do with fewer: ends at their limit, spans at theirs
        assert len(places) >= max(2, 1 + (length - 2 * limits.end) / limits.span)
        assert len(places) <= 3 + (length - 2 * limits.end) / (limits.span - 25)


def test_the_job_sets_its_own_limits(make_job: MakeJob) -> None:
    job = make_job(limits=Limits(fixing_end=30, fixing_span=100))
    places = [p.x - 50 for p in points(duct_strip("W1", DUCT, job), job)]
    assert places[0] <= 30
    assert max(b - a for a, b in pairwise(places)) <= 100
    assert len(places) == 8  # (700 - 60) / 100 = 6.4 spans: 7 spans, 8 points


def test_heavy_device_brings_fixings_nearer(make_job: MakeJob) -> None:
    job = make_job({"-T1": "heavy", "-F1": "block"})
    beside = Layout(devices={"-T1": Placement(x=100, y=400), "-F1": Placement(x=100, y=260)})
    on_it = Layout(devices={"-T1": Placement(x=100, y=260)})
    assert heaviest_on(RAIL, job, beside) == 0
    assert heaviest_on(RAIL, job, on_it) == 1.5
    limits = fixing_limits("rail")
    assert rail_strip("R1", RAIL, job, beside).span == limits.span
    assert rail_strip("R1", RAIL, job, on_it).span == limits.heavy_span


def test_wide_ducts_are_held_in_two_lines_by_turns(make_job: MakeJob) -> None:
    job = make_job()
    found = points(duct_strip("W1", WIDE, job), job)
    lines = [p.x for p in found]
    assert set(lines) == {120, 160}  # a quarter of 80 off the axis at 140
    assert all(a != b for a, b in pairwise(lines))
    assert found[0].y - 50 <= 50


def test_duct_just_below_the_width_has_one_line(make_job: MakeJob) -> None:
    narrow = Duct(x=100, y=50, length=500, width=79.9, height=80, run=Run.UPRIGHT)
    assert len(duct_strip("W1", narrow, make_job()).lines) == 1


def test_heads_clear_the_plates_own_fixing(make_job: MakeJob) -> None:
    fixing = FixingHole(x=150, y=300, keep_out=30)
    job = make_job(fixing_holes=(fixing,))
    for point in points(rail_strip("R1", RAIL, job, Layout()), job):
        assert hypot(point.x - 150, point.y - 300) >= 15 + 5  # half the keep-out, M5 washer


def test_heads_clear_regions_kept_free(make_job: MakeJob) -> None:
    job = make_job(keep_outs=(KeepOut(x=100, y=290, width=60, height=20),))
    found = points(rail_strip("R1", RAIL, job, Layout()), job)
    assert min(p.x for p in found) >= 165


def test_holes_keep_off_the_plates_edge(make_job: MakeJob) -> None:
    low = Duct(x=0, y=0, length=700, width=40, height=60, run=Run.ACROSS)
    wish = make_job(limits=Limits(hole_edge=45), fixing_holes=())
    assert points(duct_strip("W1", low, wish), wish) == []
    usual = make_job(fixing_holes=())
    assert all(p.x >= 2 * 4.2 for p in points(duct_strip("W1", low, usual), usual))


def test_new_holes_stand_well_apart_from_old_ones(make_job: MakeJob) -> None:
    job = make_job()
    strip = duct_strip("W1", DUCT, job)
    old = Hole(x=100, y=120, kind=HoleKind.TAPPED, size="M6", drill=5.0, state=HoleState.DRILLED)
    for point in points(strip, job, [old]):
        assert hypot(point.x - 100, point.y - 120) >= hole_spacing().centres * 5.0


def test_closer_where_the_limits_ask_for_it(make_job: MakeJob) -> None:
    """Three diameters from the old holes is past the end limit; two diameters is not."""
    job = make_job(limits=Limits(fixing_end=50, fixing_span=600))
    old = [
        Hole(x=x, y=120, kind=HoleKind.TAPPED, size="M6", drill=5.0, state=HoleState.DRILLED)
        for x in (65, 90)
    ]
    found = points(duct_strip("W1", DUCT, job), job, old)
    assert found[0].x - 50 <= 50
    assert 10 <= min(hypot(found[0].x - h.x, found[0].y - h.y) for h in old) < 15


def test_piece_with_nowhere_to_hold_gets_nothing(make_job: MakeJob) -> None:
    job = make_job(keep_outs=(KeepOut(x=0, y=0, width=800, height=600),))
    assert points(rail_strip("R1", RAIL, job, Layout()), job) == []


def test_short_rail_has_one_slot_and_uses_it(make_job: MakeJob) -> None:
    job = make_job()
    short = Rail(x=100, y=300, length=40)
    assert points(rail_strip("R1", short, job, Layout()), job) == [Point(112.5, 300)]


SLOTTED = DuctStock(name="40x60", width=40, height=60, slot_pitch=50, slot_length=15, slot_width=6)
LINES = DuctStock(name="80x80", width=80, height=80, slot_pitch=25, slot_lines=30, first_slot=10)
SLOTS = Stock(ducts=(SLOTTED, LINES))


@pytest.mark.parametrize("length", [120, 260, 400, 700])
def test_a_duct_with_slots_is_held_in_them(length: float, make_job: MakeJob) -> None:
    """First slot half a pitch (25) from the end, then every 50; limits as for any duct."""
    job = make_job(stock=SLOTS)
    found = points(duct_strip("W1", replace(DUCT, length=length), job), job)
    places = [p.x - 50 for p in found]
    assert all((at - 25) % 50 == 0 for at in places)
    assert {p.y for p in found} == {120}
    assert places[0] <= 50
    assert length - places[-1] <= 50
    assert max(b - a for a, b in pairwise(places)) <= duct_strip("W1", DUCT, job).span


def test_two_lines_of_slots_are_used_by_turns_from_the_stated_first(make_job: MakeJob) -> None:
    """Lines 30 apart about the middle at 140; first slot at 10, then every 25, from y = 50."""
    job = make_job(stock=SLOTS)
    found = points(duct_strip("W1", WIDE, job), job)
    assert {p.x for p in found} == {125, 155}
    assert all(a.x != b.x for a, b in pairwise(found))
    assert all((p.y - 50 - 10) % 25 == 0 for p in found)


def test_the_base_is_drilled_only_where_its_slots_do_not_do(make_job: MakeJob) -> None:
    """A duct of 70 has one whole slot, at 25: the second screw goes through the base."""
    job = make_job(stock=SLOTS)
    strip = duct_strip("W1", replace(DUCT, length=70), job)
    assert strip.raster == (25,)
    places = [p.x - 50 for p in points(strip, job)]
    assert len(places) == 2
    assert 25 in places
    (other,) = (at for at in places if at != 25)
    assert strip.lacks_slot(other)
    held = duct_strip("W1", replace(DUCT, length=120), job)
    assert not any(held.lacks_slot(p.x - 50) for p in points(held, job))


def test_a_rail_is_never_drilled(make_job: MakeJob) -> None:
    job = make_job(keep_outs=(KeepOut(x=115, y=280, width=480, height=40),))
    assert rail_strip("R1", RAIL, job, Layout()).drilled == ()
    for point in points(rail_strip("R1", RAIL, job, Layout()), job):
        assert (point.x - 100 - 12.5) % 25 == 0


@pytest.mark.parametrize(("off", "serves"), [(0.0, True), (5.2, True), (5.3, False)])
def test_a_hole_left_over_serves_where_a_slot_lies_over_it(
    off: float, serves: bool, make_job: MakeJob
) -> None:
    """The rail's slot of 15 gives an M5 screw 5 to each side of its middle at 37.5."""
    job = make_job()
    old = Hole(x=137.5 + off, y=300, kind=HoleKind.TAPPED, size="M5", drill=4.2,
               state=HoleState.DRILLED)  # fmt: skip
    found = fixing_points(
        rail_strip("R1", RAIL, job, Layout()), job.settings.plate, edge=None, holes=[old],
        sunk={"H1": old},
    )  # fmt: skip
    assert ("H1" in found) is serves


def test_a_hole_of_its_own_serves_beside_the_slots_too(make_job: MakeJob) -> None:
    job = make_job()
    own = Hole(x=150, y=300, kind=HoleKind.TAPPED, size="M5", drill=4.2, holds="R1",
               state=HoleState.DRILLED)  # fmt: skip
    found = fixing_points(
        rail_strip("R1", RAIL, job, Layout()), job.settings.plate, edge=None, holes=[own],
        sunk={"H1": own},
    )  # fmt: skip
    assert "H1" in found


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    length=st.integers(60, 1500), pitch=st.integers(10, 120), share=st.floats(0.1, 1.0),
    lines=st.booleans(),
)  # fmt: skip
def test_no_base_is_drilled_where_its_slots_would_do(
    make_job: MakeJob, length: int, pitch: int, share: float, lines: bool
) -> None:
    """Held twice at least; a fixing beside the slots only where slots alone miss a limit."""
    slotted = replace(
        SLOTTED, slot_pitch=pitch, slot_length=None, first_slot=share * pitch,
        slot_lines=20 if lines else None,
    )  # fmt: skip
    job = make_job(stock=Stock(ducts=(slotted,)), width=2000, fixing_holes=())
    strip = duct_strip("W1", replace(DUCT, length=length), job)
    places = [p.x - DUCT.x for p in points(strip, job)]
    assert len(places) >= 2
    if any(strip.lacks_slot(at) for at in places):
        bare = replace(strip, drilled=())
        alone = [0.0, *(p.x - DUCT.x for p in points(bare, job)), float(length)]
        assert (
            len(alone) < 4
            or alone[1] > strip.end
            or length - alone[-2] > strip.end
            or max(b - a for a, b in pairwise(alone[1:-1])) > strip.span
        )
