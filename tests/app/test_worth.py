"""What a plate is worth, against numbers measured by hand on the plate laid out by hand."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from platewright.app.gather import panel_of
from platewright.app.plans.worth import MEASURES, Worth, text_of, told, worth_of, worth_record
from platewright.foundation.units import MM_PER_INCH
from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import read_layout
from platewright.model.job import CableEntry, DisplayUnit, Job
from platewright.model.layout import Layout, Placement, Rail

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "bottle-rinser-by-hand"


@pytest.fixture(scope="module")
def job() -> Job:
    return read_job(EXAMPLE)


def test_the_plate_laid_out_by_hand(job: Job) -> None:
    panel = panel_of(job, read_layout(EXAMPLE, job))
    worth = worth_of(panel)
    layout = panel.layout
    assert worth.duct == pytest.approx(sum(d.length for d in layout.ducts.values()) / 1000)
    assert worth.wire == pytest.approx(sum(r.cut for r in panel.routes.wires.values()) / 1000)
    assert worth.holes == len(layout.holes)
    pieces = {("r", r.length) for r in layout.rails.values()}
    pieces |= {(d.stock, d.length) for d in layout.ducts.values()}
    assert worth.cut_lengths == len(pieces)
    by_hand = 0.0
    for tag, at in layout.devices.items():
        part = job.part_of(tag)
        by_hand += (part.mass or 0.0) * (at.y + part.height / 2) / 1000
    assert worth.weight_height == pytest.approx(by_hand)
    assert worth.hottest is not None
    assert worth.hottest > 35.0
    assert worth.hottest_tag in job.devices


def test_lifting_the_heaviest_costs_its_mass_times_the_lift(job: Job) -> None:
    panel = panel_of(job, read_layout(EXAMPLE, job))
    tag = max(panel.layout.devices, key=lambda t: job.part_of(t).mass or 0.0)
    at = panel.layout.devices[tag]
    devices = {**panel.layout.devices, tag: replace(at, y=at.y + 100.0)}
    lifted = worth_of(panel_of(job, replace(panel.layout, devices=devices)))
    before = worth_of(panel)
    assert lifted.weight_height is not None
    assert before.weight_height is not None
    gained = lifted.weight_height - before.weight_height
    assert gained == pytest.approx((job.part_of(tag).mass or 0.0) * 0.1)


def test_lengths_alike_to_a_tenth_are_one_setting_of_the_stop(job: Job) -> None:
    rails = {f"R{k}": Rail(x=0.0, y=100.0 * k, length=length)
             for k, length in enumerate((200.0, 200.04, 200.2, 300.0))}  # fmt: skip
    assert worth_of(panel_of(job, Layout(rails=rails))).cut_lengths == 3


def test_what_has_no_data_is_left_out_and_said(job: Job) -> None:
    parts = {name: replace(part, mass=None, heat=None) for name, part in job.parts.items()}
    bare = replace(job, parts=parts)
    worth = worth_of(panel_of(bare, Layout(devices={"-T1": Placement(x=50.0, y=50.0)})))
    assert worth.weight_height is None
    assert worth.hottest is None
    assert "weight_height_kgm" not in worth_record(worth)
    assert not any("kg" in row[0] or "°C" in row[0] for row in told({"now": worth}, DisplayUnit.MM))
    assert any("no mass" in note for note in worth.notes)


def test_an_empty_plate_is_worth_nothing(job: Job) -> None:
    worth = worth_of(panel_of(job, Layout()))
    assert (worth.height, worth.area, worth.duct, worth.rows) == (0.0, 0.0, 0.0, 0)


def test_inches_where_the_job_prints_them(job: Job) -> None:
    worth = worth_of(panel_of(job, read_layout(EXAMPLE, job)))
    rows = {row[0]: row[1] for row in told({"now": worth}, DisplayUnit.INCH)}
    assert float(rows["plate height used, in"]) == pytest.approx(
        worth.height / MM_PER_INCH, abs=0.05
    )
    assert float(rows["wire, ft"]) == pytest.approx(worth.wire * 1000 / MM_PER_INCH / 12, abs=0.05)


def test_every_measure_has_a_value_of_its_own(job: Job) -> None:
    enclosure = replace(job.settings.enclosure, cable_entry=CableEntry.BOTTOM)
    stated = replace(job, settings=replace(job.settings, enclosure=enclosure))
    record = worth_record(worth_of(panel_of(stated, read_layout(EXAMPLE, job))))
    assert {m.key for m in MEASURES} <= set(record)


def test_a_little_under_a_limit_is_printed_as_0_not_as_minus_0() -> None:
    worth = Worth(
        wire=1.0, height=1.0, area=1.0, duct=1.0, cut_lengths=1, hottest=1.0, hottest_tag="",
        over_limit=-0.2, over_limit_tag="", weight_height=1.0, entry=1.0, holes=1, rows=1, notes=(),
    )  # fmt: skip
    measure = next(m for m in MEASURES if m.name == "over_limit")
    assert text_of(worth, measure) == "0"
    assert text_of(replace(worth, over_limit=-0.6), measure) == "-1"
