"""The steps of both examples, walked one by one: what stands on the plate then, and what may.

Nothing here uses the code that made the order: places and heights are worked out anew from the
job's own numbers, tools from the trade reference (drill 50 mm out of the chuck for 4.2 mm, chuck
48 × 40 mm, drill body 30 mm beside its axis, 3 mm of air; blade 10 mm thick, or a 1/4 in bit, 40 mm
at the handle, 1.5 mm of air, up to 300 mm long).
"""

from dataclasses import replace
from functools import cache, partial
from math import hypot
from pathlib import Path

import pytest

from platewright.app.plans.plan import Budget, plan
from platewright.fabricate import steps
from platewright.fabricate.build_tasks import bench_of, tasks_of
from platewright.fabricate.solvers.bench_work import bench_work, passes_of
from platewright.fabricate.steps import build_order
from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import read_layout
from platewright.model.device import Device
from platewright.model.layout import Hole, HoleKind, HoleState, Layout, Placement
from platewright.model.part import HoleForm, Mount
from platewright.model.steps import Work

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ["bottle-rinser", "bottle-rinser-by-hand", "packaging-line"]
OUT_OF_CHUCK = {2.5: 32, 3.3: 40, 4.2: 50, 5.0: 61, 5.5: 68, 6.6: 68, 6.8: 84, 8.5: 92, 9.0: 92}


@cache
def example(name):
    job = read_job(EXAMPLES / name)
    layout = read_layout(EXAMPLES / name, job)
    if not layout.holes:
        planned = plan(job, Layout(), seed=1, budget=Budget(moves=6000), progress=lambda *_: True)
        layout = planned.panel.layout
    return job, layout


@cache
def order(name, *, liking=1):
    """Return the steps; with ``liking`` -1 what may come last comes first wherever it may.

    So what must come before what is put to the test, not what is liked better.
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(steps, "tasks_of", partial(turned, liking))
        return bench_work(*example(name))


def turned(liking, bench, passes):
    tasks, befores = tasks_of(bench, passes)
    ranks = {
        name: replace(task, rank=tuple(liking * each for each in task.rank))
        for name, task in tasks.items()
    }
    return ranks, befores


def undrilled(layout):
    holes = {tag: replace(h, state=HoleState.PLANNED) for tag, h in layout.holes.items()}
    return replace(layout, holes=holes)


def solid(job, layout, tag):
    """Return what stands up of a thing: boxes (x0, y0, x1, y1), and its height."""
    if tag in layout.devices:
        part, at = job.part_of(tag), layout.devices[tag]
        box = (
            at.x - (part.cover_left or 0), at.y - (part.cover_bottom or 0),
            at.x + part.width + (part.cover_right or 0),
            at.y + part.height + (part.cover_top or 0),
        )  # fmt: skip
        return [box], part.depth + (part.cover_front or 0)
    if tag in layout.rails:
        rail = layout.rails[tag]
        assert rail.run == "across"
        return [(rail.x, rail.y - 17.5, rail.x + rail.length, rail.y + 17.5)], 7.5
    duct = layout.ducts[tag]
    wide, high = (duct.length, duct.width) if duct.run == "across" else (duct.width, duct.length)
    x0, y0, x1, y1 = duct.x, duct.y, duct.x + wide, duct.y + high
    if duct.run == "across":
        return [(x0, y0, x1, y0 + 1.8), (x0, y1 - 1.8, x1, y1)], duct.height
    return [(x0, y0, x0 + 1.8, y1), (x1 - 1.8, y0, x1, y1)], duct.height


def away(box, x, y):
    return hypot(max(box[0] - x, 0, x - box[2]), max(box[1] - y, 0, y - box[3]))


def reaches(job, layout, things, hole, rings):
    """Tell whether a tool of (radius, from height on) rings clears all things."""
    for tag in things:
        boxes, height = solid(job, layout, tag)
        near = min(away(box, hole.x, hole.y) for box in boxes)
        if any(near < radius - 0.25 and height > above + 0.5 for radius, above in rings):
            return False
    return True


def drill_rings(job, hole):
    out = OUT_OF_CHUCK[max(d for d in OUT_OF_CHUCK if d <= hole.drill + 1e-6)]
    face = out - job.settings.plate.thickness - 3
    return [(hole.drill / 2 + 3, 0), (27, face), (33, face + 40)]


DRIVERS = [[(thick / 2 + 1.5, 0), (21.5, long)] for thick in (10, 6.35) for long in (100, 150, 300)]


@pytest.mark.parametrize("liking", [1, -1])
@pytest.mark.parametrize("name", NAMES)
def test_walked_step_by_step_nothing_is_in_the_way(name, liking):
    job, layout = example(name)
    found = order(name, liking=liking)
    assert found.cycle == ()
    on_plate: set[str] = set()
    marked: set[str] = set()
    drilled = {t for t, h in layout.holes.items() if h.state is HoleState.DRILLED}
    tapped, turned = set(drilled), set()
    cleaned = False
    for step in found.steps:
        on_plate -= set(step.takes_off)
        if step.work in (Work.MARK, Work.DRILL, Work.TAP):
            assert not on_plate & set(layout.devices), step.title
            for tag in step.drills.holes:
                hole = layout.holes[tag]
                if step.work is Work.MARK:
                    marked.add(tag)
                    continue
                assert reaches(job, layout, on_plate, hole, drill_rings(job, hole)), (tag, step)
                if step.work is Work.TAP:
                    assert tag in drilled
                    tapped.add(tag)
                elif step.drills.diameter == hole.drill:
                    assert tag in marked
                    drilled.add(tag)
            cleaned = False
        if step.work is Work.CLEAN:
            cleaned = True
        for tag in step.fits:
            if tag not in layout.devices and tag not in layout.rails and tag not in layout.ducts:
                continue  # in the door
            assert cleaned, "chips were not taken off"
            mine = {t for t, h in layout.holes.items() if h.holds == tag}
            assert mine <= drilled, tag
            on_plate.add(tag)
        for tag in step.screws:
            hole = layout.holes[tag]
            assert hole.holds in on_plate
            assert tag in (tapped if hole.kind is HoleKind.TAPPED else drilled)
            others = on_plate - {hole.holds}
            assert any(reaches(job, layout, others, hole, rings) for rings in DRIVERS), (tag, step)
            turned.add(tag)
    assert on_plate == {*layout.devices, *layout.rails, *layout.ducts}
    assert drilled == set(layout.holes)
    assert turned == {t for t, h in layout.holes.items() if h.holds}


@pytest.mark.parametrize("liking", [1, -1])
@pytest.mark.parametrize("name", NAMES)
def test_every_device_has_what_holds_it_first(name, liking):
    """A rail is tight before a device hangs on it; open feet find their screws started."""
    job, layout = example(name)
    tight, started, there = set(), set(), set()
    for step in order(name, liking=liking).steps:
        if step.work is Work.START:
            started |= {layout.holes[hole].holds for hole in step.starts}
        for tag in step.fits:
            if tag not in layout.devices:
                continue
            part, at, device = job.part_of(tag), layout.devices[tag], job.devices[tag]
            if part.mount is Mount.RAIL:
                axis = at.y + part.rail_center
                rails = {
                    name for name, rail in layout.rails.items()
                    if abs(rail.y - axis) < 0.5 and rail.x < at.x + part.width
                    and at.x < rail.x + rail.length
                }  # fmt: skip
                assert rails & tight, tag
            elif part.screw:
                opens = part.hole_form in {HoleForm.OPEN_SLOT, HoleForm.KEYHOLE}
                assert (tag in started) == opens, tag
            for other in (device.plugs_into, device.hangs_under):
                assert other is None or other in there
            there.add(tag)
        tight |= {layout.holes[tag].holds for tag in step.screws}


@pytest.mark.parametrize("name", NAMES)
def test_each_tool_is_taken_up_once_and_only_holes_in_reach_are_asked_for(name):
    job, layout = example(name)
    plate = job.settings.plate
    passes = [step.drills for step in order(name).steps if step.drills]
    assert len({(p.work, p.diameter, p.size) for p in passes}) == len(passes)
    for one in passes:
        assert len(set(one.holes)) == len(one.holes)
        for stand in one.stands:
            for tag in stand.holes:
                hole = layout.holes[tag]
                sides = {
                    "left": hole.x, "right": plate.width - hole.x,
                    "bottom": hole.y, "top": plate.height - hole.y,
                }  # fmt: skip
                assert (sides[stand.edge] > 600) == (tag in stand.beyond)
                if tag in stand.beyond:
                    assert min(sides.values()) > 600


def test_the_door_is_cut_before_chips_can_fall_on_anything():
    found = order("bottle-rinser")
    (cut,) = [step for step in found.steps if step.title == "Cut and drill the door"]
    (clean,) = [step for step in found.steps if step.work is Work.CLEAN]
    assert cut.number < clean.number
    assert all(step.number > cut.number for step in found.steps if step.fits)
    assert any("Eye protection" in caution for caution in cut.cautions)


def test_the_same_job_gives_the_same_steps():
    job, layout = example("bottle-rinser")
    turned_round = replace(layout, holes=dict(reversed(layout.holes.items())))
    assert bench_work(job, layout) == bench_work(job, turned_round)


def test_two_things_over_each_others_screws_are_told_as_a_circle():
    job, _ = example("bottle-rinser")
    holes = {
        "H1": Hole(x=100, y=100, kind=HoleKind.TAPPED, size="M5", drill=4.2, holds="-T1"),
        "H2": Hole(x=300, y=100, kind=HoleKind.TAPPED, size="M5", drill=4.2, holds="-T3"),
    }
    devices = {"-T1": Placement(x=280, y=80), "-T3": Placement(x=80, y=80)}
    crossed = Layout(devices=devices, holes=holes)
    found = build_order(job, crossed, passes_of(job, crossed))
    told = " ".join(found.cycle)
    assert "-T3 would bar the screwdriver at H1 of -T1" in told
    assert "-T1 would bar the screwdriver at H2 of -T3" in told
    assert not any(step.fits and "-T1" in step.fits for step in found.steps)


def test_plugs_that_wait_for_each_other_are_told():
    job, layout = example("bottle-rinser")
    devices = dict(job.devices)
    devices["-K1"] = replace(devices["-K1"], plugs_into="-K2")
    assert isinstance(devices["-K1"], Device)
    crossed = replace(job, devices=devices)
    told = " ".join(bench_work(crossed, layout).cycle)
    assert "-K1 plugs into -K2" in told
    assert "-K2 plugs into -K1" in told


def test_after_a_replan_what_bars_the_new_hole_comes_off_and_the_rest_stays():
    """All drilled but one hole beside a duct: its wall is too near for the chuck."""
    job, layout = example("bottle-rinser-by-hand")
    drilled = {tag: replace(h, state=HoleState.DRILLED) for tag, h in layout.holes.items()}
    duct = layout.ducts["D3"]
    x, y = duct.x + 200, duct.y + duct.width + 12
    new = Hole(x=x, y=y, kind=HoleKind.TAPPED, size="M5", drill=4.2, holds="-T3")
    later = replace(layout, holes={**drilled, "H999": new})
    removed = bench_of(job, later).removed
    assert set(removed) - set(later.devices) == {"D3"}
    assert "at H999 the chuck" in removed["D3"][0]
    assert set(later.devices) <= set(removed)  # all hang on screws that are there
    done = bench_work(job, later).steps
    first = next(step for step in done if step.takes_off)
    drills = [step for step in done if step.drills]
    assert all(step.number > first.number for step in drills)
    assert {tag for step in drills for tag in step.drills.holes} == {"H999"}
    hole = later.holes["H999"]
    assert not reaches(job, later, {"D3"}, hole, drill_rings(job, hole))
    stays = {*later.rails, *later.ducts} - {"D3"}
    assert reaches(job, later, stays, hole, drill_rings(job, hole))


def replanned():
    """A drilled plate on which -T3 moves: its holes are left over, planned ones 200 mm aside."""
    job, layout = example("bottle-rinser-by-hand")
    holes = {tag: replace(h, state=HoleState.DRILLED) for tag, h in layout.holes.items()}
    old = {tag: hole for tag, hole in holes.items() if hole.holds == "-T3"}
    holes |= {tag: replace(hole, holds="") for tag, hole in old.items()}
    for number, hole in enumerate(old.values()):
        moved = replace(hole, x=hole.x + 200, state=HoleState.PLANNED)
        holes[f"H{900 + number}"] = moved
    at = layout.devices["-T3"]
    devices = {**layout.devices, "-T3": replace(at, x=at.x + 200)}
    return job, replace(layout, holes=holes, devices=devices), tuple(old)


def take_off(job, layout):
    return next(s for s in bench_work(job, layout).steps if s.work is Work.TAKE_OFF)


def test_a_moved_device_comes_off_where_its_left_over_holes_show_that_it_stood():
    job, later, old = replanned()
    bench = bench_of(job, later)
    assert "-T3" not in bench.removed  # not there at its new place
    assert bench.left_over == (*old, "H54")  # H54 holds nothing in the example
    assert bench.moved["-T3"].holes == old
    before = example("bottle-rinser-by-hand")[1].devices["-T3"]
    assert bench.moved["-T3"].box.left == pytest.approx(before.x)
    does = take_off(job, later).does
    assert f"perhaps -T3 on {old[0]}..{old[-1]}, before it was moved" in " ".join(does)


def test_a_hole_measured_a_little_off_still_tells_the_pattern_and_another_pattern_does_not():
    job, later, old = replanned()
    one = later.holes[old[0]]
    for off, told in ((0.6, True), (3.0, False)):
        holes = {**later.holes, old[0]: replace(one, y=one.y + off)}
        bench = bench_of(job, replace(later, holes=holes))
        assert ("-T3" in bench.moved) is told
        assert set(old) <= set(bench.left_over)  # whatever hangs there comes off, named or not


def test_what_hangs_on_a_rail_without_a_drilled_hole_was_never_on():
    job, layout = example("bottle-rinser-by-hand")
    holes = {tag: replace(h, state=HoleState.DRILLED) for tag, h in layout.holes.items()}
    bench = bench_of(job, layout)
    rail = bench.rail_of["-K1"]
    for tag in bench.screws[rail]:
        holes[tag] = replace(holes[tag], state=HoleState.PLANNED)
    later = replace(layout, holes=holes)
    removed = bench_of(job, later).removed
    never = {tag for tag, name in bench.rail_of.items() if name == rail}
    assert never
    assert not never & set(removed)
    first = bench.screws[rail][0]
    half = replace(later, holes={**holes, first: replace(holes[first], state=HoleState.DRILLED)})
    again = bench_of(job, half).removed
    assert never <= set(again)
    assert f"{bench.screws[rail][1]} lies under it" in again[rail]


def test_what_clips_on_is_told_apart_from_what_its_own_holes_show():
    """A rail drilled before bears old devices and new ones alike: only "if one stands there"."""
    job, later, _ = replanned()
    screwed, hung = (
        next(line for line in take_off(job, later).does if words in line)
        for words in ("By the holes drilled these", "No hole of their own")
    )
    bench = bench_of(job, later)
    names = {tag for tag in bench.removed if tag in later.devices}
    told_screwed, told_hung = (
        set(line.rpartition(": ")[2].rstrip(".").split(", ")) for line in (screwed, hung)
    )
    assert told_screwed | told_hung == names
    assert told_hung == {tag for tag in names if not bench.screws[tag]}
    assert "-K1" in told_hung
    assert "-Q1" in told_screwed
    assert "if one already stands there" in hung


def test_a_finished_plate_asks_for_no_drilling():
    job, layout = example("bottle-rinser")
    drilled = {tag: replace(h, state=HoleState.DRILLED) for tag, h in layout.holes.items()}
    found = bench_work(job, replace(layout, holes=drilled))
    assert not [step for step in found.steps if step.drills or step.takes_off]
    assert not found.cycle


def test_large_holes_get_a_pilot_first():
    job, layout = example("bottle-rinser")
    holes = dict(undrilled(layout).holes)
    one = next(tag for tag, hole in holes.items() if hole.kind is HoleKind.TAPPED)
    holes[one] = replace(holes[one], drill=6.8, size="M8")
    passes = passes_of(job, replace(layout, holes=holes))
    found = [(p.work, p.diameter, p.pilot) for p in passes if one in p.holes]
    assert found == [
        (Work.MARK, 0.0, False),
        (Work.DRILL, 3.0, True),
        (Work.DRILL, 6.8, False),
        (Work.TAP, 6.8, False),
    ]


@pytest.mark.parametrize("name", NAMES)
def test_the_wired_plate_goes_in_before_door_and_covers(name):
    job, layout = example(name)
    numbers = {step.work: step.number for step in order(name).steps}
    done = {step.title: step for step in order(name).steps}
    assert numbers[Work.WIRE] < numbers[Work.SET_IN] < numbers[Work.COVER] < numbers[Work.INSPECT]
    doors = [step.number for title, step in done.items() if title.startswith("Fit the door")]
    assert all(numbers[Work.SET_IN] < number < numbers[Work.COVER] for number in doors)
    masses = [job.part_of(tag).mass for tag in layout.devices]
    plate = job.settings.plate
    # 7.85 g/cm3 of steel, worked out anew
    bare = plate.width * plate.height * plate.thickness * 7.85e-6
    assert "steel" in plate.material
    (caution,) = (c for c in done["Set the plate into the enclosure"].cautions if "weighs" in c)
    least = float(caution.split("weighs ")[1].split(" kg")[0])
    assert least == pytest.approx(bare + sum(mass or 0.0 for mass in masses), rel=0.02, abs=1)
    assert (f"{masses.count(None)} not stated" in caution) == (None in masses)


def test_the_ends_of_wires_at_the_door_wait_until_the_plate_is_in():
    job, _ = example("bottle-rinser")
    doors = {device.tag for device in job.on_door}
    crossing = sum((w.start.device in doors) != (w.end.device in doors) for w in job.wires)
    said = {step.work: " ".join(step.does) for step in order("bottle-rinser").steps}
    assert "ends at the door wait" in said[Work.WIRE]
    (door,) = (s for s in order("bottle-rinser").steps if s.title.startswith("Fit the door"))
    assert any(f"Lead {crossing} wires past the hinge" in words for words in door.does)


def test_bases_without_slots_are_drilled_at_the_saw_not_over_the_plate():
    said = {step.title: " ".join(step.does) for step in order("bottle-rinser").steps}
    assert "Drill bases without slots" in said["Cut ducts"]
    assert "Drill bases" not in said["Cut rails"]


@pytest.mark.parametrize(
    ("form", "is_hung", "words"),
    [
        (HoleForm.ROUND, False, ""),
        (HoleForm.SLOT, False, "No screw head passes a closed slot. Hold in place"),
        (HoleForm.OPEN_SLOT, True, "has slots open at its edge: turn"),
        (HoleForm.KEYHOLE, True, "has keyholes: turn"),
    ],
)
def test_only_what_passes_over_screw_heads_is_hung_on_started_screws(form, is_hung, words):
    """A closed slot is narrower than the screw's head: hanging -T1 on it can't be done."""
    job, layout = example("bottle-rinser")
    name = job.devices["-T1"].part
    part = replace(job.parts[name], hole_form=form, slot_length=12.0)
    job = replace(job, parts={**job.parts, name: part})
    made = bench_work(job, layout).steps
    started = [step for step in made if step.work is Work.START and "-T1" in step.title]
    (fit,) = (step for step in made if "-T1" in step.fits)
    assert bool(started) == is_hung
    said = " ".join(line for step in (*started, fit) for line in step.does)
    assert ("Hang on the screws that were started: -T1" in said) == is_hung
    assert words in said
    assert ("closed slot" in said) == (form is HoleForm.SLOT)
