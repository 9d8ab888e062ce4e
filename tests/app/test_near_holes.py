"""A device beside drilled holes that would serve it is put on them, if nothing gets worse."""

from dataclasses import replace
from pathlib import Path

import pytest

from platewright.app.check import read_folder
from platewright.app.plans.near_holes import on_near_holes
from platewright.fabricate.solvers.place_holes import place_holes
from platewright.model.job import Job
from platewright.model.layout import HoleState, Layout, Placement

EXAMPLE = Path(__file__).parents[2] / "examples" / "bottle-rinser"


def _drilled() -> tuple[Job, Layout]:
    """The converter alone on its plate, drilled."""
    job = read_folder(EXAMPLE).job
    one = place_holes(job, Layout(devices={"-T3": Placement(x=300, y=500)}))
    holes = {tag: replace(h, state=HoleState.DRILLED) for tag, h in one.holes.items()}
    return job, replace(one, holes=holes)


@pytest.mark.parametrize(("x", "holes"), [(301, 4), (302, 8)])
def test_a_device_a_millimetre_or_two_off_is_put_on_its_holes(x: float, holes: int) -> None:
    """One off they still hold it; two off, four more would be drilled beside them."""
    job, layout = _drilled()
    off = place_holes(job, replace(layout, devices={"-T3": Placement(x=x, y=500.3)}))
    assert len(off.holes) == holes
    assert on_near_holes(job, off, layout.holes) == layout


def test_tags_go_by_the_holes_before_the_plan_not_by_those_of_the_trial() -> None:
    job, layout = _drilled()
    wide = replace(job.part_of("-T3"), part="wide", width=110.0, hole_pattern_width=98.0)
    device = replace(job.devices["-T3"], part="wide")
    job = replace(job, parts={**job.parts, "wide": wide}, devices={**job.devices, "-T3": device})
    off = place_holes(job, replace(layout, devices={"-T3": Placement(x=302, y=500.3)}))
    assert {"H5", "H6", "H7", "H8"} <= set(off.holes)
    assert set(on_near_holes(job, off, layout.holes).holes) == {f"H{n}" for n in range(1, 7)}


def test_it_stays_where_that_would_push_it_into_another() -> None:
    job, layout = _drilled()
    beside = {"-T3": Placement(x=299, y=500), "-F2": Placement(x=389, y=540)}  # flush
    off = place_holes(job, replace(layout, devices=beside))
    assert on_near_holes(job, off, layout.holes).devices["-T3"].x == 299


def test_far_holes_locked_devices_and_bare_plates_change_nothing() -> None:
    job, layout = _drilled()
    for at in (Placement(x=320, y=500), Placement(x=301, y=500, locked=True)):
        away = place_holes(job, replace(layout, devices={"-T3": at}))
        assert on_near_holes(job, away, layout.holes) == away
    bare = replace(layout, holes={t: replace(h, state=HoleState.PLANNED) for t, h in layout.holes.items()})  # fmt: skip
    assert on_near_holes(job, bare, bare.holes) == bare
