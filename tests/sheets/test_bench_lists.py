"""Fasteners, torques, purchases, labels, traveler: counted again from the panel itself."""

import dataclasses
import re
from itertools import pairwise
from math import ceil

import pytest

from platewright.drawing.picture import Circle, Line, Polyline, Rect, Text
from platewright.fabricate.build_tasks import bench_of
from platewright.fabricate.fasteners import length_words, screw_length
from platewright.fabricate.solvers.bench_work import bench_work
from platewright.model.job import DisplayUnit
from platewright.model.layout import Hole, HoleKind, HoleState
from platewright.model.lengths import mass_words
from platewright.model.part import Mount
from platewright.model.steps import Work
from platewright.sheets.fastener_list import fastener_table, purchase_table
from platewright.sheets.page import above_block, list_paper
from platewright.sheets.registry import sheets
from platewright.sheets.stage_picture import stage_picture, stages
from platewright.sheets.torque_list import torque_table
from platewright.sheets.traveler import GAP, HEIGHTS, MARGIN, step_block


def words(pages):
    return [p.text for page in pages for p in page.primitives if isinstance(p, Text)]


def test_every_hole_gets_its_screw_and_every_through_hole_its_nut(panel):
    rows = fastener_table(panel, ()).rows
    count = {}
    for what, *_, picked, boxes, in_box, _ in rows:
        count[what] = count.get(what, 0) + picked
        assert boxes == ceil(ceil(picked * 1.05) / in_box)
    kinds = [hole.kind for hole in panel.layout.holes.values() if hole.holds]
    rivets, nuts = kinds.count(HoleKind.RIVET), kinds.count(HoleKind.CLEARANCE)
    assert count["screw"] == len(kinds) - rivets
    assert count["rivet"] == rivets
    assert count["nut"] == nuts
    assert count["washer"] == len(kinds) - rivets + nuts


def in_inches(panel):
    settings = dataclasses.replace(panel.job.settings, units=DisplayUnit.INCH)
    return dataclasses.replace(panel, job=dataclasses.replace(panel.job, settings=settings))


METRIC_BY_NATURE = (
    r"100 mm",  # the ruler that proves the print is of both systems
    r"⌀[0-9.]+ mm",  # a metric drill stays one
    r"M\d\S*( [0-9]+ mm)?",  # so does a metric screw
    r"^[0-9]+ mm$",  # its length, in a column
    r"[0-9]+ m, [0-9]+ W/m²",  # height above sea level, as altitude_m asks for it
)


@pytest.mark.parametrize(
    "name",
    [
        "traveler",
        "template",
        "fasteners",
        "purchase",
        "cuts",
        "fixings",
        "torques",
        "heat",
        "layout",
        "elevation",
        "holes",
        "door",
    ],
)
def test_a_job_in_inches_prints_its_lengths_in_inches(panel, name):
    """A builder with an inch tape meets mm only where a thing is metric by nature."""
    texts = [p.text for page in sheets()[name].draw(in_inches(panel), ()) for p in page.primitives
             if isinstance(p, Text)]  # fmt: skip
    stripped = [re.sub("|".join(METRIC_BY_NATURE), "", text) for text in texts]
    metric = [t for t in stripped if re.search(r"\d (mm|m)\b(?! for each)", t)]
    assert metric == []
    kilograms = [t for t in texts if re.search(r"\d kg", t) and not re.search(r"\d lb \(", t)]
    assert kilograms == []


def test_the_purchase_list_counts_wire_in_feet_and_pieces_of_new_bars_only(panel):
    metric = [r for r in purchase_table(panel, ()).rows if r[0] == "Wire"]
    inch = [r for r in purchase_table(in_inches(panel), ()).rows if r[0] == "Wire"]
    for (_, item, needed, _, unit), (_, same, feet, buy, name) in zip(metric, inch, strict=True):
        assert (item, unit, name) == (same, "m", "ft")
        long = float(feet.removesuffix(" ft"))
        assert long == pytest.approx(float(needed.removesuffix(" m")) / 0.3048, abs=0.25)
        assert long - 0.05 <= buy < long + 1.05
    old = dataclasses.replace(panel.cuts.bars[0], offcut="K1")
    cuts = dataclasses.replace(panel.cuts, bars=(old, *panel.cuts.bars[1:]))
    rows = purchase_table(dataclasses.replace(panel, cuts=cuts), ()).rows
    pieces = sum(int(r[2].split()[0]) for r in rows if r[0] == "Bars")
    assert pieces == sum(len(bar.pieces) for bar in cuts.new_bars)


@pytest.mark.parametrize(
    ("mass", "metric", "inch"),
    [(0.635029, "0.635 kg", "1.4 lb (0.635 kg)"), (1250.0, "1250 kg", "2756 lb (1250 kg)")],
)
def test_masses_are_rounded_and_read_in_pounds_first_in_a_job_in_inches(mass, metric, inch):
    assert mass_words(mass, DisplayUnit.MM) == metric
    assert mass_words(mass, DisplayUnit.INCH) == inch


@pytest.mark.parametrize(
    ("kind", "size", "holds", "length"),
    [
        (HoleKind.TAPPED, "M5", "rail", 6.0),  # 1 + 1 + 2.5 + 0.8 = 5.3
        (HoleKind.TAPPED, "M5", "device", 10.0),  # 4 + 1 + 2.5 + 0.8 = 8.3
        (HoleKind.CLEARANCE, "M5", "rail", 12.0),  # 5.3 + 1 + 4 = 10.3
        (HoleKind.TAPPED, "10-32", "duct", 6.35),  # 2 + 1 + 2.5 + 0.79 = 6.29
        (HoleKind.TAPPED, "gas 1/2", "duct", None),
    ],
)
def test_the_shortest_usual_screw_that_goes_through(kind, size, holds, length):
    hole = Hole(x=0, y=0, kind=kind, size=size, drill=4.2, holds="x")
    assert screw_length(hole, holds=holds, thickness=2.5) == length


def test_lengths_are_written_as_they_are_sold():
    assert length_words(12.0, metric=True) == "12 mm"
    assert length_words(9.525, metric=False) == "3/8 in"
    assert length_words(31.75, metric=False) == "1-1/4 in"
    assert length_words(25.4, metric=False) == "1 in"
    assert length_words(None, metric=True) == "?"


def test_the_torque_sheet_has_every_screw_once(panel):
    rows = [row for row in torque_table(panel, ()).rows if row[0] == "fixing"]
    assert sum(row[3] for row in rows) == sum(bool(h.holds) for h in panel.layout.holes.values())
    by_tag = {row[1]: row for row in rows}
    assert by_tag["R1"][4:6] == (2.5, pytest.approx(22.1, abs=0.05))
    assert by_tag["D1"][4] == 0  # rivets
    assert by_tag["D2"][4] == 1.0


def test_what_a_part_states_goes_before_practice_and_unknown_is_open(panel):
    parts = dict(panel.job.parts)
    parts["main switch"] = dataclasses.replace(parts["main switch"], mount_torque=3.1)
    parts["earth bar"] = dataclasses.replace(parts["earth bar"], screw="M10")
    holes = {
        t: dataclasses.replace(h, size="M10") if h.holds == "-X3" else h
        for t, h in panel.layout.holes.items()
    }
    job = dataclasses.replace(panel.job, parts=parts)
    layout = dataclasses.replace(panel.layout, holes=holes)
    changed = dataclasses.replace(panel, job=job, layout=layout)
    rows = {row[1]: row for row in torque_table(changed, ()).rows if row[0] == "fixing"}
    assert rows["-Q1"][4] == 3.1
    assert rows["-X3"][4] is None
    assert "open" in words(sheets()["torques"].draw(changed, ()))


def test_a_spring_terminal_asks_for_no_torque_and_no_signature(panel):
    tag = next(w.start.device for w in panel.job.wires if w.start.device in panel.job.devices)
    name = panel.job.devices[tag].part
    parts = {
        **panel.job.parts,
        name: dataclasses.replace(panel.job.parts[name], terminal_torque=0.0),
    }
    sprung = dataclasses.replace(panel, job=dataclasses.replace(panel.job, parts=parts))

    def row_of(shown):
        pages = sheets()["torques"].draw(shown, ())
        texts = [p for page in pages for p in page.primitives if isinstance(p, Text)]
        at = next(p.at.y for p in texts if p.text == "no screw")
        return [p.text for p in texts if p.at.y == at]

    row = row_of(sprung)
    assert row.count("–") == 5
    assert not any("____" in word or "[" in word or "0.00" in word for word in row)


def test_a_soft_plate_is_told_beside_the_lesser_torque(panel):
    plate = dataclasses.replace(panel.job.settings.plate, material="aluminium", thickness=2.0)
    settings = dataclasses.replace(panel.job.settings, plate=plate)
    soft = dataclasses.replace(panel, job=dataclasses.replace(panel.job, settings=settings))
    rows = {row[1]: row for row in torque_table(soft, ()).rows if row[0] == "fixing"}
    assert rows["R1"][4] == pytest.approx(1.25)
    assert rows["R1"][6].endswith("2.00 mm aluminium bears 1.29, usual 2.5")
    told = " ".join(words(sheets()["torques"].draw(soft, ())))
    assert "aluminium bears 1.29" in told


def test_terminals_nobody_states_are_open_with_what_standards_say(panel):
    rows = {row[1]: row for row in torque_table(panel, ()).rows if row[0] == "terminal"}
    ends = {end.device for wire in panel.job.wires for end in (wire.start, wire.end)}
    assert set(rows) == ends
    assert all(row[4] is None and "IEC 60947-1" in row[6] for row in rows.values())


def test_bars_devices_and_wire_are_bought_whole(panel):
    rows = purchase_table(panel, ()).rows
    bars = {row[1].partition(",")[0]: row[3] for row in rows if row[0] == "Bars"}
    counted = {}
    for bar in panel.cuts.bars:
        counted[bar.stock] = counted.get(bar.stock, 0) + 1
    assert bars == counted
    assert sum(row[3] for row in rows if row[0] == "Devices") == len(panel.job.devices)
    cut = sum(r.cut for r in panel.routes.wires.values() if r.is_routed) / 1000
    bought = sum(row[3] for row in rows if row[0] == "Wire")
    assert cut <= bought <= cut + sum(row[0] == "Wire" for row in rows)


def test_a_label_for_every_rest_that_is_kept(panel):
    bars = tuple(
        dataclasses.replace(bar, rest_label=f"L{n}" if bar.rest >= 200 else "")
        for n, bar in enumerate(panel.cuts.bars)
    )
    cut = dataclasses.replace(panel, cuts=dataclasses.replace(panel.cuts, bars=bars))
    texts = words(sheets()["off-cuts"].draw(cut, ()))
    kept = [bar for bar in bars if bar.rest_label]
    assert kept
    assert sum("measured" in text and "____" in text for text in texts) == len(kept)
    for bar in kept:
        assert f"{bar.rest:g} mm" in texts
        assert f"{bar.rest_label}   {bar.stock}" in texts


def test_bars_from_the_store_are_not_bought(panel):
    bars = (dataclasses.replace(panel.cuts.bars[0], offcut="A1"), *panel.cuts.bars[1:])
    cut = dataclasses.replace(panel, cuts=dataclasses.replace(panel.cuts, bars=bars))
    bought = sum(row[3] for row in purchase_table(cut, ()).rows if row[0] == "Bars")
    assert bought == len(bars) - 1


def test_the_traveler_shows_every_step_with_the_plate_as_it_then_is(panel):
    order = bench_work(panel.job, panel.layout)
    pages = sheets()["traveler"].draw(panel, ())
    texts = words(pages)
    for step in order.steps:
        assert any(text.startswith(f"{step.number}  ") for text in texts)
    signed = [text for text in texts if text.startswith("done by")]
    assert len(signed) == len(order.steps)
    dots = sum(
        isinstance(p, Circle) and p.layer == "DATUM" for page in pages for p in page.primitives
    )
    turned = sum(
        len(step.drills.holes) if step.drills else len(step.screws) + len(step.starts)
        for step in order.steps
    )
    assert dots == turned
    new = sum(isinstance(p, Rect) and p.layer == "WASTE" for page in pages for p in page.primitives)
    things = len(panel.layout.rails) + len(panel.layout.devices) + 2 * len(panel.layout.ducts)
    assert new == things  # ducts once with their bases, once with their covers


@pytest.mark.parametrize("name", ["panel", "inch_panel"])
def test_a_page_of_the_traveler_holds_as_many_whole_steps_as_go_on_it(request, name):
    """A step is on one page, and the next one had no room above it even with small pictures."""
    panel = request.getfixturevalue(name)
    paper = list_paper(panel.job.settings)
    space = above_block(paper).grown(-MARGIN, -MARGIN, -MARGIN, -MARGIN)
    steps = bench_work(panel.job, panel.layout).steps
    least = {
        step.number: step_block(panel, step, stage, space.width, tallest=HEIGHTS[-1]).height
        for step, stage in zip(steps, stages(panel, steps), strict=True)
    }
    told = []
    for page in sheets()["traveler"].draw(panel, ()):
        texts = [p for p in page.primitives if isinstance(p, Text)]
        heads = [
            int(p.text.split("  ")[0]) for p in texts if re.match(r"\d+  \S", p.text) and p.bold
        ]
        assert len(heads) == sum(p.text.startswith("done by") for p in texts)
        assert (
            min(p.at.y for p in texts if p.layer == "TEXT" and p.at.y > space.bottom) > space.bottom
        )
        told.append(heads)
    assert [n for heads in told for n in heads] == [step.number for step in steps]
    assert len(told) > 1
    for heads, (following, *_) in pairwise(told):
        whole = sum(least[n] + GAP for n in heads)
        assert whole + least[following] > space.height - (20 if heads[0] == 1 else 0)  # signs told


def test_pictures_shrink_only_beside_words_that_leave_them_room(panel):
    steps = bench_work(panel.job, panel.layout).steps
    for step, stage in zip(steps, stages(panel, steps), strict=True):
        large, *_, small = (step_block(panel, step, stage, 176.0, tallest=high) for high in HEIGHTS)
        assert small.height <= large.height
        if small.height == large.height:
            assert small.primitives == large.primitives


def test_stages_add_up(panel):
    order = bench_work(panel.job, panel.layout)
    last = stages(panel, order.steps)[-1]
    assert last.on_plate == {*panel.layout.rails, *panel.layout.ducts, *panel.layout.devices}
    assert last.drilled == set(panel.layout.holes)


def test_only_what_can_be_on_a_drilled_plate_is_drawn_and_crossed_out(panel):
    """Left-over holes in no known pattern are crossed out one by one."""
    holes = {
        t: dataclasses.replace(h, state=HoleState.PLANNED) for t, h in panel.layout.holes.items()
    }
    bench = bench_of(panel.job, panel.layout)
    screwed = next(tag for tag in panel.layout.devices if bench.screws[tag])
    holes |= {
        tag: dataclasses.replace(holes[tag], state=HoleState.DRILLED)
        for tag in bench.screws[screwed]
    }
    left = Hole(x=20, y=20, kind=HoleKind.TAPPED, size="M5", drill=4.2, state=HoleState.DRILLED)
    layout = dataclasses.replace(panel.layout, holes={**holes, "H900": left})
    drilled = dataclasses.replace(panel, layout=layout)
    steps = bench_work(panel.job, layout).steps
    at, step = next((k, one) for k, one in enumerate(steps) if one.work is Work.TAKE_OFF)
    assert step.takes_off == (screwed,)
    stage = stages(drilled, steps)[at]
    assert stage.on_plate == {screwed}
    parts = stage_picture(drilled, step, stage, scale=1.0)
    assert sum(isinstance(p, Rect) and p.layer == "GHOST" for p in parts) == 1
    crossed = [p for p in parts if isinstance(p, Line) and p.layer == "RULER"]
    middles = {((p.start.x + p.end.x) / 2, (p.start.y + p.end.y) / 2) for p in crossed}
    assert len(crossed) == 4
    assert any(x == pytest.approx(20) and y == pytest.approx(20) for x, y in middles)


def test_cautions_stand_where_work_can_hurt(panel):
    texts = " ".join(words(sheets()["traveler"].draw(panel, ())))
    for word in ("Eye protection", "Clamp the plate", "sharp", "kg", "vacuum", "prove dead"):
        assert word in texts or word in " ".join(
            caution
            for step in bench_work(panel.job, panel.layout).steps
            for caution in step.cautions
        )
    triangles = [
        p for page in sheets()["traveler"].draw(panel, ()) for p in page.primitives
        if isinstance(p, Polyline) and p.layer == "ARROW"
    ]  # fmt: skip
    cautions = sum(len(step.cautions) for step in bench_work(panel.job, panel.layout).steps)
    assert len(triangles) == cautions


def test_a_circle_is_told_at_the_head_of_the_traveler(panel):
    devices = dict(panel.job.devices)
    devices["-K5"] = dataclasses.replace(devices["-K5"], plugs_into="-K6")
    devices["-K6"] = dataclasses.replace(devices["-K6"], plugs_into="-K5")
    crossed = dataclasses.replace(panel, job=dataclasses.replace(panel.job, devices=devices))
    texts = " ".join(words(sheets()["traveler"].draw(crossed, ())[:1]))
    assert "can't be put in order" in texts
    assert "-K5 plugs into -K6" in texts


def test_with_everything_drilled_nothing_is_asked_of_the_drill(panel):
    holes = {
        t: dataclasses.replace(h, state=HoleState.DRILLED) for t, h in panel.layout.holes.items()
    }
    layout = dataclasses.replace(panel.layout, holes=holes)
    texts = words(sheets()["traveler"].draw(dataclasses.replace(panel, layout=layout), ()))
    assert not any("Drill ⌀" in text for text in texts)
    assert any(part.mount is Mount.RAIL for part in panel.job.parts.values())
