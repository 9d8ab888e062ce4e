"""End stops counted again from the rails and bodies themselves, on both examples."""

from pathlib import Path

import pytest

from platewright.app.plans.plan import Budget, plan
from platewright.fabricate.end_stops import RailEnd, rail_ends, stop_words
from platewright.fabricate.fasteners import fasteners
from platewright.fabricate.solvers.bench_work import bench_work
from platewright.jobfile.folder import read_job
from platewright.model.job import DisplayUnit
from platewright.model.layout import Layout

RINSER = Path(__file__).parents[2] / "examples" / "bottle-rinser"


@pytest.fixture(scope="module")
def rinser():
    job = read_job(RINSER)
    done = plan(job, Layout(), seed=1, budget=Budget(moves=600), progress=lambda *_: True)
    return job, done.panel.layout


def test_stops_are_picked_where_the_rail_is_long_enough(rinser):
    """10 mm: the widest end stop of the trade (shop practice), measured anew from the bodies."""
    job, layout = rinser
    wanted = 0
    for rail in layout.rails.values():
        bodies = [
            (at.x, at.x + job.part_of(tag).width)
            for tag, at in layout.devices.items()
            if job.part_of(tag).rail_center is not None
            and abs(at.y + job.part_of(tag).rail_center - rail.y) < 0.5
            and at.x < rail.x + rail.length
            and at.x + job.part_of(tag).width > rail.x
        ]
        if bodies:
            wanted += min(left for left, _ in bodies) - rail.x >= 10 - 1e-6
            wanted += rail.x + rail.length - max(right for _, right in bodies) >= 10 - 1e-6
    picked = sum(one.count for one in fasteners(job, layout) if one.what == "end stop")
    assert wanted
    assert picked == wanted == sum(end.takes_stop for end in rail_ends(job, layout))


def test_the_traveler_promises_no_stop_where_there_is_no_room(rinser):
    job, layout = rinser
    told = [
        words
        for step in bench_work(job, layout).steps
        if step.title.startswith("Snap ")
        for words in step.does
        if "nd stop" in words
    ]
    full = {rail for rail in layout.rails
            if (ends := [e for e in rail_ends(job, layout) if e.rail == rail])
            and all(e.takes_stop for e in ends)}  # fmt: skip
    assert told
    assert told.count("End stops at both ends.") == len(full)


@pytest.mark.parametrize(
    ("left", "right", "words"),
    [
        (10.0, 12.0, "End stops at both ends."),
        (
            9.9,
            12.0,
            "End stop at the right end. At the left the rail reaches 9 mm beyond the row: no room",
        ),
        (
            0.0,
            4.0,
            "At the left the rail reaches 0 mm beyond the row and at the right the rail reaches 4 mm",
        ),
    ],
)
def test_each_end_is_told(left, right, words):
    ends = tuple(
        RailEnd(rail="R1", side=side, free=free)
        for side, free in (("left", left), ("right", right))
    )
    assert stop_words(ends, DisplayUnit.MM).startswith(words)


def test_a_job_in_inches_reads_inches_rounded_down():
    end = RailEnd(rail="R1", side="left", free=5.0)  # 0.197 in
    words = stop_words((end,), DisplayUnit.INCH)
    assert "reaches 0.19 in beyond the row: no room for an end stop 0.39 in wide" in words


def test_devices_are_snapped_on_as_they_stand_on_the_rail(rinser):
    """The modules of a controller follow it, before what stands farther right."""
    job, layout = rinser
    seen = 0
    for step in bench_work(job, layout).steps:
        if step.title.startswith("Snap "):
            places = [layout.devices[tag].x for tag in step.fits]
            told = " ".join(step.does)
            assert ("Snap on from left to right" in told) == (places == sorted(places))
            seen += any(job.devices[tag].plugs_into for tag in step.fits)
    assert seen
