"""The deliberately wrong hand-made layout: each planted mistake is found, and only while it lasts."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from platewright.app.gather import panel_of
from platewright.fabricate.solvers.place_holes import place_holes
from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import read_layout
from platewright.model.finding import Verdict
from platewright.model.job import Job
from platewright.model.layout import HoleKind, Layout
from platewright.rules.registry import run_rules

FOLDER = Path(__file__).parents[2] / "examples" / "bottle-rinser-by-hand"
Told = set[tuple[str, str, str]]  # rule, subject, verdict

PLANTED = {
    ("space.door-device", "-T3", "FAIL"),
    ("space.duct-overlap", "-K1", "FAIL"),
    ("space.duct-overlap", "-K2", "FAIL"),
    ("space.fixing-hole", "D1", "FAIL"),
    ("space.voltage-zones", "-F6", "FAIL"),
    ("fabrication.fixing-count", "D3", "FAIL"),
    ("fabrication.thread-engagement", "M6", "FAIL"),
    ("space.clear-space", "-T1", "CAUTION"),
    ("fabrication.hole-edge", "H54", "CAUTION"),
}
FOLLOWING = {  # the same mistakes seen from another side
    ("space.clear-space", "-K1", "FAIL"),
    ("space.clear-space", "-K2", "FAIL"),
    ("space.wiring-space", "-K1", "CAUTION"),
    ("space.wiring-space", "-K2", "CAUTION"),
    ("fabrication.fixing-end", "D3", "CAUTION"),
    ("fabrication.drilled-left-over", "H54", "CAUTION"),
    ("space.wishes", "-F6", "CAUTION"),
    # the motors' terminals stand at the bottom by the cables, away from the rest of the mains
    ("space.voltage-zones", "-X1", "CAUTION"),
    # the thin plate's threads carry a little less than the usual torque
    ("fabrication.thread-strip", "-Q1", "CAUTION"),
    ("fabrication.thread-strip", "-T1", "CAUTION"),
    ("fabrication.thread-strip", "-X3", "CAUTION"),
    ("fabrication.thread-strip", "-X4", "CAUTION"),
}


@cache
def _read() -> tuple[Job, Layout]:
    job = read_job(FOLDER)
    return job, read_layout(FOLDER, job)


def _told(layout: Layout) -> Told:
    job, _ = _read()
    wrong = (Verdict.FAIL, Verdict.CAUTION, Verdict.UNDECIDED)
    return {
        (found.rule.id, found.subject, str(found.verdict))
        for found in run_rules(panel_of(job, layout), only=("space", "fabrication"))
        if found.verdict in wrong
    }


def test_every_planted_mistake_is_found_and_nothing_else() -> None:
    assert _told(_read()[1]) == PLANTED | FOLLOWING


def test_the_readme_names_every_planted_mistake() -> None:
    rows = [
        line
        for line in (FOLDER / "README.md").read_text(encoding="utf-8").splitlines()
        if line.startswith("|")
    ]
    for rule, subject, verdict in PLANTED:
        where = "-T1" if subject == "M6" else subject
        assert any(f"`{rule}`" in row and f"`{where}`" in row and verdict in row for row in rows)


def _moved(layout: Layout, **shifts: tuple[float, float]) -> Layout:
    """Return the layout with devices moved; names without their leading minus."""
    devices = dict(layout.devices)
    for name, (dx, dy) in shifts.items():
        at = devices[f"-{name}"]
        devices[f"-{name}"] = replace(at, x=at.x + dx, y=at.y + dy)
    return replace(layout, devices=devices)


def _with_shorter_top_duct(layout: Layout) -> Layout:
    duct = layout.ducts["D1"]
    shorter = replace(duct, x=40.0, length=duct.length - (40.0 - duct.x))
    return replace(layout, ducts={**layout.ducts, "D1": shorter})


def _with_all_screws_of_the_duct(layout: Layout) -> Layout:
    kept = {tag: hole for tag, hole in layout.holes.items() if hole.holds != "D3"}
    fresh = place_holes(_read()[0], replace(layout, holes={}))
    fixings = [hole for hole in fresh.holes.values() if hole.holds == "D3"]
    return replace(layout, holes=kept | {f"N{number}": hole for number, hole in enumerate(fixings)})


def _with_nuts_behind_the_transformer(layout: Layout) -> Layout:
    return replace(
        layout,
        holes={
            tag: replace(hole, kind=HoleKind.CLEARANCE, drill=6.6) if hole.size == "M6" else hole
            for tag, hole in layout.holes.items()
        },
    )


def _without_the_old_hole(layout: Layout) -> Layout:
    return replace(layout, holes={tag: hole for tag, hole in layout.holes.items() if tag != "H54"})


CURES: dict[str, Callable[[Layout], Layout]] = {
    "space.door-device": lambda layout: _moved(layout, T3=(-150.0, 0.0)),
    "space.duct-overlap": lambda layout: _moved(layout, K1=(0.0, 48.0), K2=(0.0, 48.0)),
    "space.fixing-hole": _with_shorter_top_duct,
    "space.voltage-zones": lambda layout: _moved(layout, F4=(-28.0, 0.0), F5=(28.0, 0.0)),
    "fabrication.fixing-count": _with_all_screws_of_the_duct,
    "fabrication.thread-engagement": _with_nuts_behind_the_transformer,
    "space.clear-space": lambda layout: _moved(
        layout, T1=(-50.0, 0.0), T3=(-50.0, 0.0), K1=(0.0, 48.0), K2=(0.0, 48.0)
    ),
    "fabrication.hole-edge": _without_the_old_hole,
}


@pytest.mark.parametrize("rule", sorted(CURES))
def test_a_mended_mistake_is_no_longer_told(rule: str) -> None:
    layout = _read()[1]
    planted = {told for told in PLANTED if told[0] == rule}
    assert planted <= _told(layout)
    assert not planted & _told(CURES[rule](layout))
