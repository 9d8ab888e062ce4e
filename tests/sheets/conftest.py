"""A small invented panel made by hand: three rows in a ring of ducts, lopsided on purpose."""

import pytest

from platewright.foundation.sources import GEOMETRY, Source, Standing
from platewright.model.device import Device, Place
from platewright.model.finding import Finding, RuleInfo, Verdict
from platewright.model.geometry import Box, Point
from platewright.model.job import (
    Aims,
    DisplayUnit,
    DuctStock,
    Enclosure,
    FixingHole,
    Group,
    Job,
    JobSettings,
    KeepOut,
    Plate,
    Stock,
    Title,
)
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
from platewright.model.panel import Panel, hole_offsets
from platewright.model.part import Mount, Part
from platewright.model.pieces import Bar, CutPlan, Piece
from platewright.model.routes import DuctLoad, Route, Routes, Stretch
from platewright.model.wire import End, SizeSystem, Wire, WireSize


def rail_part(name, width, height, depth, **more):
    return Part(
        part=name, width=width, height=height, depth=depth, mount=Mount.RAIL,
        rail_center=height / 2, terminals_top=("1", "3"), terminals_bottom=("2", "4"), **more,
    )  # fmt: skip


PARTS = {
    part.part: part
    for part in (
        Part(
            part="main switch", description="main switch 60 A, shaft to door", width=105,
            height=100, depth=95, cover_top=10, cover_bottom=10, cover_front=18,
            mount=Mount.SCREWS, hole_pattern_width=85, hole_pattern_height=80, screw="M5",
            terminals_top=("1", "3"), terminals_bottom=("2", "4"),
        ),
        Part(
            part="transformer", description="control transformer 480/120 V, 1 kVA", width=145,
            height=125, depth=132, cover_top=8, cover_bottom=8, cover_left=4, cover_front=12,
            mount=Mount.SCREWS, hole_pattern_width=112, hole_pattern_height=95, screw="M6",
            terminals_top=("1", "3"), terminals_bottom=("2", "4"),
        ),
        Part(
            part="earth bar", description="earth bar, 12 screws", width=160, height=12, depth=30,
            mount=Mount.SCREWS, hole_pattern_width=145, hole_pattern_height=0, screw="M5",
            terminals_top=("1", "2", "3", "4"),
        ),
        rail_part("breaker 1p", 18, 90, 70, description="breaker, 1 pole, 10 A"),
        rail_part("fuse 3p", 54, 95, 62, cover_front=45, description="fuse holder, 3 poles"),
        rail_part("supply", 50, 110, 118, description="supply 24 V DC, 5 A"),
        rail_part("controller", 110, 100, 75, cover_bottom=12, description="controller"),
        rail_part("relay", 6.2, 93, 78, description="interface relay"),
        rail_part("safety relay", 22.5, 105, 115, description="safety relay, two channels"),
        rail_part("strip", 148.8, 52, 47, description="terminal strip, 24 terminals"),
        Part(
            part="operator panel", description="operator panel", width=240, height=160, depth=75,
            mount=Mount.SCREWS,
        ),
    )
}  # fmt: skip

ON_PLATE = {
    "-Q1": ("main switch", 65.0, 478.0),
    "-F2": ("fuse 3p", 190.0, 480.5),
    "-F4": ("breaker 1p", 244.0, 483.0),
    "-F5": ("breaker 1p", 262.0, 483.0),
    "-F6": ("breaker 1p", 280.0, 483.0),
    "-T2": ("supply", 318.0, 473.0),
    "-K1": ("controller", 60.5, 290.0),
    "-K3": ("safety relay", 190.0, 287.5),
    "-K4": ("relay", 222.5, 293.5),
    "-K5": ("relay", 228.7, 293.5),
    "-K6": ("relay", 234.9, 293.5),
    "-K7": ("relay", 241.1, 293.5),
    "-X2": ("strip", 300.0, 314.0),
    "-T1": ("transformer", 75.0, 68.0),
    "-X3": ("earth bar", 420.0, 90.0),
}

DUCTS = {
    "D1": Duct(x=10, y=10, length=620, width=40, height=60, run=Run.UPRIGHT, stock="40x60"),
    "D2": Duct(x=730, y=10, length=620, width=60, height=80, run=Run.UPRIGHT, stock="60x80"),
    "D3": Duct(x=50, y=10, length=680, width=40, height=60, run=Run.ACROSS, stock="40x60"),
    "D4": Duct(x=50, y=215, length=680, width=60, height=80, run=Run.ACROSS, stock="60x80"),
    "D5": Duct(x=50, y=405, length=680, width=60, height=80, run=Run.ACROSS, stock="60x80"),
    "D6": Duct(x=50, y=590, length=680, width=40, height=60, run=Run.ACROSS, stock="40x60"),
}
RAILS = {
    "R1": Rail(x=180, y=528, length=300),
    "R2": Rail(x=55, y=340, length=670),
}


def device_holes():
    holes, number = {}, 0
    for tag, (part_name, x, y) in ON_PLATE.items():
        part = PARTS[part_name]
        for offset in hole_offsets(part):
            number += 1
            drill = {"M5": 4.2, "M6": 5.0}[part.screw]
            holes[f"H{number}"] = Hole(
                x=x + offset.x, y=y + offset.y, kind=HoleKind.TAPPED, size=part.screw,
                drill=drill, holds=tag,
            )  # fmt: skip
    for tag, (x0, x1, y) in {"R1": (200, 460, 528), "R2": (75, 705, 340)}.items():
        for x in (x0, (x0 + x1) / 2, x1):
            number += 1
            holes[f"H{number}"] = Hole(
                x=x, y=y, kind=HoleKind.TAPPED, size="M5", drill=4.2, holds=tag
            )
    for tag, duct in DUCTS.items():
        for share in (0.06, 0.5, 0.94):
            number += 1
            along, mid = duct.length * share, duct.width / 2
            across = duct.run is Run.ACROSS
            holes[f"H{number}"] = Hole(
                x=duct.x + (along if across else mid), y=duct.y + (mid if across else along),
                kind=HoleKind.RIVET if tag in ("D1", "D3") else HoleKind.CLEARANCE,
                size="4.8" if tag in ("D1", "D3") else "M5",
                drill=4.9 if tag in ("D1", "D3") else 5.5, holds=tag,
                state=HoleState.DRILLED if tag == "D1" else HoleState.PLANNED,
            )  # fmt: skip
    return holes


def pieces(bar_length=2000.0, kerf=3.0):
    cuts = {
        "duct 40x60": [("D3", 680), ("D6", 680), ("D1", 620)],
        "duct 60x80": [("D4", 680), ("D5", 680), ("D2", 620)],
        "rail TH35-7.5": [("R2", 670), ("R1", 300)],
    }
    for stock, lengths in cuts.items():
        row, left = [], bar_length - 5.0  # trim
        for tag, length in lengths:
            if left < length + kerf:
                yield Bar(
                    stock=stock,
                    length=bar_length,
                    pieces=tuple(row),
                    rest=left,
                    trim=5.0,
                    kerf=kerf,
                )
                row, left = [], bar_length - 5.0
            row.append(Piece(tag=tag, stock=stock, length=float(length)))
            left -= length + kerf
        yield Bar(stock=stock, length=bar_length, pieces=tuple(row), rest=left, trim=5.0, kerf=kerf)


WIRES = tuple(
    Wire(
        number=str(index), start=End(a, "2"), end=End(b, "1"),
        size=WireSize(size, SizeSystem.AWG), type="MTW", colour=colour, group=group,
    )
    for index, (a, b, size, colour, group) in enumerate(
        [
            ("-Q1", "-F2", "8", "black", "M"), ("-F2", "-T1", "12", "black", "M"),
            ("-T1", "-F4", "12", "red", "C"), ("-F4", "-T2", "14", "red", "C"),
            ("-T2", "-F5", "14", "blue", "D"), ("-F5", "-F6", "14", "blue", "D"),
            ("-F6", "-K1", "18", "blue", "D"), ("-K1", "-K4", "18", "blue", "D"),
            ("-K4", "-K5", "18", "blue", "D"), ("-K5", "-K6", "18", "white/blue", "D"),
            ("-K6", "-K7", "18", "white/blue", "D"), ("-K7", "-X2", "18", "blue", "D"),
            ("-X2", "-X3", "12", "green", "PE"), ("-T1", "-X3", "12", "green/yellow", "PE"),
        ],
        start=1,
    )
)  # fmt: skip


def make_routes():
    wires = {}
    for wire in WIRES:
        run = 400.0 + 37.5 * int(wire.number)
        wires[wire.number] = Route(
            wire=wire.number, path=(Point(0, 0), Point(run, 0)),
            stretches=(
                Stretch(duct="D5", start=0, end=100), Stretch(duct="D2", start=20, end=300),
                Stretch(duct="D4", start=0, end=run - 380),
            ),
            run=run, cut=run + 102.5,
        )  # fmt: skip
    wires["13"] = Route(
        wire="13", path=(), stretches=(), run=0, cut=0, problem="-X3 stands beside no duct"
    )
    loads = {
        "D4": DuctLoad(duct="D4", at=120, wires=11, area=900, inside=4256, assumed=True),
    }
    return Routes(wires=wires, loads=loads)


RULES = {
    "space.envelopes": RuleInfo(
        id="space.envelopes", title="Envelopes do not overlap",
        why="Two things cannot be in one place.", source=GEOMETRY,
    ),
    "space.clear": RuleInfo(
        id="space.clear", title="Clear space is kept",
        why="Air and tools need room.", source=Source("shop practice", "", Standing.PRACTICE),
    ),
    "data.stated": RuleInfo(
        id="data.stated", title="Data are stated", why="What is not known is not checked.",
        source=Source("job", "", Standing.JOB),
    ),
}  # fmt: skip


def finding(rule, subject, verdict, message, **more):
    info = RULES[rule]
    return Finding(
        rule=info, subject=subject, verdict=verdict, message=message,
        cure=more.get("cure", ""), measured=more.get("measured"), limit=more.get("limit"),
        unit=more.get("unit", ""), place=more.get("place"), source=info.source,
    )  # fmt: skip


FINDINGS = (
    finding("space.envelopes", "-F2", Verdict.PASS, "free"),
    finding("space.envelopes", "-Q1", Verdict.PASS, "free"),
    finding(
        "space.clear", "-T1", Verdict.CAUTION,
        "12 mm left of the transformer, 20 mm wanted for 70 W", measured=12.0, limit=20.0,
        unit="mm", place=Box(50, 68, 75, 193), cure="Move -T1 8 mm to the right",
    ),
    finding(
        "data.stated", "-B9", Verdict.UNDECIDED, "heat of the part is not stated",
        cure="Fill heat_w in parts.csv", place=Box(300, 314, 448.8, 366),
    ),
    finding(
        "space.envelopes", "-K1", Verdict.FAIL, "the plugs reach 3 mm into D4", measured=-3.0,
        limit=0.0, unit="mm", place=Box(60.5, 272, 170.5, 290), cure="Raise R2 by 3 mm",
    ),
)  # fmt: skip


def make_panel(*, units=DisplayUnit.MM, layout=None, title="Bottle filler, infeed"):
    devices = {
        tag: Device(tag=tag, part=part, function="", group=("M",))
        for tag, (part, _, _) in ON_PLATE.items()
    }
    devices["-P1"] = Device(
        tag="-P1", part="operator panel", place=Place.DOOR, door_x=330.0, door_y=420.0
    )
    settings = JobSettings(
        job=Title(
            title=title, number="D-1042", revision="B", owner="Northfield Panel Shop",
            drawn_by="R. Ames", checked_by="", date="2026-03-02",
        ),
        units=units,
        enclosure=Enclosure(width=860, height=700, depth=250, door_inside=232),
        plate=Plate(
            width=800, height=640, thickness=2.657,
            fixing_holes=(
                FixingHole(x=25, y=640 - 22), FixingHole(x=800 - 22, y=640 - 22),
                FixingHole(x=760, y=25), FixingHole(x=25, y=22),
            ),
            keep_outs=(KeepOut(x=640, y=60, width=60, height=80, reason="cable entry"),),
        ),
        groups=(Group(name="M", title="mains 480 V", voltage=480.0),),
        stock=Stock(
            ducts=(
                DuctStock(name="40x60", width=40, height=60),
                DuctStock(name="60x80", width=60, height=80),
            ),
            end_trim=5.0,
        ),
        aims=Aims(),
    )  # fmt: skip
    if layout is None:
        layout = Layout(
            devices={tag: Placement(x=x, y=y) for tag, (_, x, y) in ON_PLATE.items()},
            ducts=DUCTS,
            rails=RAILS,
            holes=device_holes(),
        )
    has_layout = bool(layout.ducts)
    return Panel(
        job=Job(settings=settings, parts=PARTS, devices=devices, wires=WIRES),
        layout=layout,
        clear={},
        wiring={},
        outer_diameters={},
        routes=make_routes() if has_layout else Routes(wires={}, loads={}),
        cuts=CutPlan(
            bars=tuple(pieces()) if has_layout else (),
            bounds=(("duct 40x60", 1, 1), ("duct 60x80", 1, 1), ("rail TH35-7.5", 1, 1)),
        ),
    )


@pytest.fixture(scope="session")
def panel():
    return make_panel()


@pytest.fixture(scope="session")
def bare_panel():
    """A job that has not been planned."""
    return make_panel(layout=Layout())


@pytest.fixture(scope="session")
def inch_panel():
    return make_panel(units=DisplayUnit.INCH)


@pytest.fixture(scope="session")
def findings():
    return FINDINGS


@pytest.fixture(scope="session")
def panel_titled():
    return lambda title: make_panel(title=title)
