"""The law of words on the layout drawing, measured from its picture and from its DXF.

No words lie on other words. Words stand inside a body, then they are its own name, or clear of every
body's outline. No leader runs through words or crosses another leader. All measured here from the
boxes of what is drawn, apart from the code that places it.
"""

import io
import math
import random
import shutil
from dataclasses import replace
from itertools import combinations, pairwise
from pathlib import Path

import ezdxf
import pytest

from generated_jobs import PARTS, generated_job
from platewright.app.check import read_folder
from platewright.app.plans.plan import Budget, plan
from platewright.drawing.dxf import write_dxf
from platewright.drawing.extent import text_box
from platewright.drawing.flatten import flat
from platewright.drawing.lettering import text_width
from platewright.drawing.picture import Axis, Ordinate, Polyline, Rect, Text
from platewright.model.geometry import Box
from platewright.model.layout import Duct, Layout, Placement, Rail, Run
from platewright.model.panel import body_box
from platewright.sheets.layout import page_of, plate_at_scale
from platewright.sheets.plate_picture import plate_picture
from platewright.sheets.registry import sheets

EXAMPLES = Path(__file__).parents[2] / "examples"
PLANS = Path(__file__).parent / "plans"
LEAST = 0.05  # mm of the plate: less is rounding


def over(one, other):
    across, up = one.overlap(other)
    return across > LEAST and up > LEAST


def within(one, other):
    return (one.left >= other.left and one.right <= other.right
            and one.bottom >= other.bottom and one.top <= other.top)  # fmt: skip


def runs_through(start, end, box):
    """Tell whether a straight piece, cut off at each of the box's four edges, leaves something."""
    low, high = 0.0, 1.0
    for at, way, least, most in (
        (start.x, end.x - start.x, box.left + LEAST, box.right - LEAST),
        (start.y, end.y - start.y, box.bottom + LEAST, box.top - LEAST),
    ):
        if abs(way) < 1e-9:
            if not least < at < most:
                return False
            continue
        shares = sorted(((least - at) / way, (most - at) / way))
        low, high = max(low, shares[0]), min(high, shares[1])
    return low < high


def cross(one, other):
    def side(a, b, c):
        return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)

    return any(
        side(a, b, c) * side(a, b, d) < -1e-6 and side(c, d, a) * side(c, d, b) < -1e-6
        for a, b in pairwise(one)
        for c, d in pairwise(other)
    )


def leaders(picture):
    """Yield the leaders of tags and of the numbers under rows.

    Those of the ordinates at the plate's edges lie under everything and are interrupted.
    """
    for part in picture.primitives:
        if isinstance(part, Ordinate):
            if part.axis is Axis.X and part.path[-1].y > 0:
                yield part.path
        elif isinstance(part, Polyline) and part.layer == "TAG" and not part.closed:
            points = part.points
            is_bracket = len(points) == 4 and points[1].y == points[2].y != points[0].y
            if not is_bracket:
                yield points


def faults(panel, picture):
    words = [(part.text, text_box(part)) for part in flat(picture) if isinstance(part, Text)]
    bodies = {tag: body_box(panel.job.part_of(tag), at)
              for tag, at in panel.layout.devices.items()}  # fmt: skip
    paths = list(leaders(picture))
    yield from (f"{w} on {v}" for (w, a), (v, b) in combinations(words, 2) if over(a, b))
    yield from (
        f"{word} on the body of {tag}"
        for word, box in words
        for tag, body in bodies.items()
        if over(box, body) and not (word == tag and within(box, body))
    )
    yield from (
        f"a leader from {path[0]} runs through {word}"
        for path in paths
        for word, box in words
        if any(runs_through(a, b, box) for a, b in pairwise(path))
    )
    yield from (f"{a[0]} crosses {b[0]}" for a, b in combinations(paths, 2) if cross(a, b))


def words_of_dxf(data):
    """Yield the words of a DXF with their boxes, those in the blocks of dimensions too."""
    for entity in ezdxf.read(io.StringIO(data.decode())).modelspace():
        if entity.dxftype() == "TEXT":
            align, at, _ = entity.get_placement()
            along = {"LEFT": 0.0, "CENTER": 0.5, "RIGHT": 1.0}[align.name]
            how = (entity.dxf.height, at, entity.dxf.rotation, along, 0.0)
            yield entity.dxf.text, turned_box(entity.dxf.text, *how)
        elif entity.dxftype() == "DIMENSION":
            for part in entity.virtual_entities():
                if part.dxftype() == "MTEXT":
                    column, row = (
                        (part.dxf.attachment_point - 1) % 3,
                        (part.dxf.attachment_point - 1) // 3,
                    )
                    how = (
                        part.dxf.char_height,
                        part.dxf.insert,
                        part.get_rotation(),
                        column / 2,
                        1 - row / 2,
                    )
                    yield part.text, turned_box(part.text, *how)


def turned_box(words, size, at, rotation, along, up):
    width, turn = text_width(words, size), math.radians(rotation)
    corners = [
        (
            at.x + (x - along * width) * math.cos(turn) - (y - up * size) * math.sin(turn),
            at.y + (x - along * width) * math.sin(turn) + (y - up * size) * math.cos(turn),
        )
        for x in (0.0, width)
        for y in (0.0, size)
    ]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return Box(min(xs), min(ys), max(xs), max(ys))


def hold(panel):
    """The law, on the drawing as it is printed, and on the DXF."""
    drawing = plate_at_scale(panel)
    assert list(faults(panel, drawing)) == []
    told = list(words_of_dxf(write_dxf(drawing)))
    assert len(told) == sum(isinstance(part, Text) for part in flat(drawing))
    assert [(w, v) for (w, a), (v, b) in combinations(told, 2) if over(a, b)] == []


@pytest.fixture
def bare(panel):
    """Another job and layout in a panel without wires: nothing else is drawn on the plate."""

    def made(job, layout):
        return replace(
            panel, job=job, layout=layout, routes=replace(panel.routes, wires={}, loads={})
        )

    return made


@pytest.mark.parametrize("name", ["packaging-line", "bottle-rinser", "bottle-rinser-by-hand"])
def test_examples(bare, findings, tmp_path, name):
    for job in (name, "bottle-rinser"):  # whose parts list is the shop's
        shutil.copytree(
            EXAMPLES / job, tmp_path / job, ignore=shutil.ignore_patterns("out"), dirs_exist_ok=True
        )
    folder = tmp_path / name
    if (PLANS / f"{name}.toml").exists():
        shutil.copy(PLANS / f"{name}.toml", folder / "layout.toml")
    read = read_folder(folder)
    panel = bare(read.job, read.layout)
    assert set(panel.layout.devices) == {device.tag for device in read.job.on_plate}
    hold(panel)
    assert page_of(panel).scale == 5  # these have room: no larger paper for want of it
    first = sheets()["layout"].draw(panel, findings)[0]
    drawn = [
        part for part in flat(first) if isinstance(part, Text) and part.layer in ("TAG", "DIM")
    ]
    assert [
        (a.text, b.text) for a, b in combinations(drawn, 2) if over(text_box(a), text_box(b))
    ] == []


def mixed(job, seed):
    """The job with narrow relays and fuses in place of its terminals, small relays and overloads."""
    chance = random.Random(seed)
    swapped = {
        tag: replace(device, part=chance.choice(("relay-6", "relay-6", "fuse-18")))
        for tag, device in job.devices.items()
        if device.part in ("terminal-18", "terminal-30", "relay-22", "overload-18")
    }
    wires = tuple(
        wire for wire in job.wires if not {wire.start.device, wire.end.device} & set(swapped)
    )
    return replace(job, devices={**job.devices, **swapped}, wires=wires)


@pytest.mark.parametrize(
    ("devices", "seed", "is_mixed"),
    [(25, 0, False), (25, 1, True), (60, 0, True), (60, 2, False), (60, 2, True)],
)
def test_generated_jobs(bare, devices, seed, is_mixed):
    job = generated_job(devices, seed=seed)
    job = mixed(job, seed) if is_mixed else job
    budget = Budget(moves=2000)
    planned = plan(job, Layout(), seed=1, budget=budget, progress=lambda _done, _told: True)
    hold(bare(job, planned.panel.layout))


def crowded(seed, share):
    """Three rows of touching devices, narrow among wide, their numbers in no order."""
    chance = random.Random(seed)
    job = generated_job(12, seed=1, width=900.0, height=900.0)
    some = next(iter(job.devices.values()))
    rail_parts = [part for part in PARTS if part.rail_center is not None]
    narrow = [part for part in rail_parts if part.width < 19]
    numbers = list(range(1, 400))
    chance.shuffle(numbers)
    devices, places, ducts, rails = {}, {}, {}, {}
    ducts["D0"] = Duct(x=40, y=60, length=820, width=40, height=60, run=Run.ACROSS)
    for row, axis in enumerate((210.0, 460.0, 710.0)):
        ducts[f"D{row + 1}"] = Duct(
            x=40, y=axis + 110, length=820, width=40, height=60, run=Run.ACROSS
        )
        rails[f"R{row + 1}"] = Rail(x=45, y=axis, length=810)
        x = 50.0
        while True:
            part = chance.choice(narrow if chance.random() < share else rail_parts)
            if x + part.width > 850:
                break
            tag = f"-{part.part[0].upper()}{numbers.pop()}"
            devices[tag] = replace(some, tag=tag, part=part.part, plugs_into=None)
            places[tag] = Placement(x=round(x, 1), y=axis - part.rail_center)
            x = round(x + part.width + chance.choice((0.0, 0.0, 0.0, 12.0)), 1)
    layout = Layout(devices=places, ducts=ducts, rails=rails)
    return replace(job, devices=devices, wires=()), layout


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("share", [0.3, 0.7])
def test_crowded_rows(bare, seed, share):
    panel = bare(*crowded(seed, share))
    hold(panel)


def test_every_device_of_a_crowded_row_is_named(bare):
    panel = bare(*crowded(1, 0.7))
    words = {part.text for part in plate_picture(panel).primitives if isinstance(part, Text)}
    assert set(panel.layout.devices) <= words


def test_the_law_finds_what_it_is_for(bare):
    """A word laid on another, on a body, and under a leader is found."""
    panel = bare(*crowded(0, 0.3))
    drawing = plate_at_scale(panel)
    tag = next(
        part
        for part in drawing.primitives
        if isinstance(part, Text) and part.text in panel.layout.devices
    )
    twice = replace(drawing, primitives=(*drawing.primitives, replace(tag, text="X")))
    assert any(found.startswith(f"{tag.text} on X") for found in faults(panel, twice))
    (body, *_) = (
        part.box for part in drawing.primitives if isinstance(part, Rect) and part.layer == "DEVICE"
    )
    stray = replace(tag, text="stray", at=body.centre)
    assert any(
        found.startswith("stray on the body of")
        for found in faults(panel, replace(drawing, primitives=(stray,)))
    )
    path = next(leaders(drawing))
    crossed = replace(tag, text="crossed", at=path[-1])
    assert any(
        found.endswith("runs through crossed")
        for found in faults(panel, replace(drawing, primitives=(*drawing.primitives, crossed)))
    )
