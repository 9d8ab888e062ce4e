"""Invented jobs of any size, made from a seed: for benchmarks and property tests.

After the description in the arrangement note: motor starters 45 %, drives 10 % (screw-mounted),
relay groups 30 %, small fuses and terminals 15 %; a supply per 50 and a controller per 40
devices; feeds are daisy-chained; the parts list is shuffled within each kind.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field, replace

from platewright.model.device import Device
from platewright.model.job import (
    DuctStock,
    Enclosure,
    FixingHole,
    Group,
    Job,
    JobSettings,
    KeepOut,
    Limits,
    Plate,
    Stock,
    Title,
)
from platewright.model.layout import Layout, Placement
from platewright.model.part import Mount, Part
from platewright.model.wire import End, SizeSystem, Wire, WireSize

_DUCTS = tuple(
    DuctStock(name=f"{w}x{h}", width=w, height=h)
    for h in (60.0, 80.0)
    for w in (25.0, 40.0, 60.0, 80.0, 100.0, 120.0)
)


def _rail(name: str, width: float, height: float, depth: float, **more: object) -> Part:
    return Part(
        part=name, kind=name.split("-", maxsplit=1)[0], width=width, height=height, depth=depth,
        mount=Mount.RAIL, rail_center=height / 2, clear_left=0.0, clear_right=0.0,
        clear_top=20.0, clear_bottom=20.0, cover_left=0.0, cover_right=0.0, cover_top=0.0,
        cover_bottom=0.0, cover_front=0.0, mass=0.2, **more,  # type: ignore[arg-type]
    )  # fmt: skip


_NUMBERS = tuple(str(n) for n in range(1, 9))
PARTS = (
    _rail("breaker-45", 45, 90, 75, heat=6.0, terminals_top=("1", "3", "5"),
          terminals_bottom=("2", "4", "6")),
    _rail("breaker-54", 54, 90, 75, heat=9.0, terminals_top=("1", "3", "5"),
          terminals_bottom=("2", "4", "6")),
    _rail("contactor-45", 45, 80, 95, heat=4.0, terminals_top=("1", "3", "5", "A1"),
          terminals_bottom=("2", "4", "6", "A2")),
    _rail("overload-18", 18, 90, 80, heat=2.0, terminals_top=("1", "3", "5"),
          terminals_bottom=("2", "4", "6", "95", "96")),
    _rail("terminal-18", 18, 60, 50, heat=0.5, terminals_top=_NUMBERS,
          terminals_bottom=tuple(f"f{n}" for n in _NUMBERS)),
    _rail("terminal-30", 30, 60, 50, heat=0.5, terminals_top=_NUMBERS,
          terminals_bottom=tuple(f"f{n}" for n in _NUMBERS)),
    _rail("relay-6", 6.2, 93, 80, heat=0.5, terminals_top=("11", "14"),
          terminals_bottom=("A1", "A2")),
    _rail("relay-22", 22.5, 100, 110, heat=2.0, terminals_top=("11", "14"),
          terminals_bottom=("A1", "A2")),
    _rail("fuse-18", 17.7, 90, 70, heat=2.0, terminals_top=("1",), terminals_bottom=("2",)),
    _rail("supply-80", 80, 125, 130, heat=30.0, terminals_top=("L", "N", "PE"),
          terminals_bottom=tuple(f"p{n}" for n in range(1, 5))),
    _rail("controller-110", 110, 100, 75, heat=10.0,
          terminals_top=tuple(f"I{n}" for n in range(40)),
          terminals_bottom=tuple(f"Q{n}" for n in range(40))),
    *(
        Part(
            part=f"drive-{w:g}", kind="drive", width=w, height=h, depth=180.0, mount=Mount.SCREWS,
            hole_pattern_width=w - 20, hole_pattern_height=h - 20, screw="M5", mass=8.0,
            heat=100.0, clear_left=5.0, clear_right=5.0, clear_top=60.0, clear_bottom=60.0,
            cover_left=0.0, cover_right=0.0, cover_top=0.0, cover_bottom=0.0, cover_front=10.0,
            terminals_top=("R", "S", "T", "DI", "AI"), terminals_bottom=("U", "V", "W", "PE"),
        )
        for w, h in ((80.0, 180.0), (120.0, 210.0), (160.0, 240.0))
    ),
    Part(
        part="switch", kind="switch", width=105.0, height=135.0, depth=95.0, mount=Mount.SCREWS,
        hole_pattern_width=85.0, hole_pattern_height=110.0, screw="M5", mass=2.0, heat=8.0,
        clear_left=0.0, clear_right=0.0, clear_top=30.0, clear_bottom=30.0, cover_left=0.0,
        cover_right=0.0, cover_top=20.0, cover_bottom=20.0, cover_front=15.0,
        terminals_top=("1", "3", "5"), terminals_bottom=("2", "4", "6"),
    ),
)  # fmt: skip
_BY_NAME = {p.part: p for p in PARTS}


@dataclass
class _Maker:
    rng: random.Random
    devices: list[Device] = field(default_factory=list)
    wires: list[Wire] = field(default_factory=list)
    used: set[tuple[str, str]] = field(default_factory=set)
    unit: int = 0  # what belongs together: a starter, a relay group …

    def device(self, part: str, group: str) -> str:
        tag = f"-{part[0].upper()}{len(self.devices) + 1}"
        self.devices.append(Device(tag=tag, part=part, group=(group,), circuit=f"{self.unit:03d}"))
        return tag

    def part(self, tag: str) -> Part:
        number = int(tag.lstrip("-ABCDEFGHIJKLMNOPQRSTUVWXYZ"))
        return _BY_NAME[self.devices[number - 1].part]

    def free(self, tag: str) -> str | None:
        for name in self.part(tag).terminals:
            if (tag, name) not in self.used:
                return name
        return None

    def wire(self, a: str, b: str, area: str, group: str) -> None:
        one, two = self.free(a), self.free(b)
        if one is None or two is None or a == b:
            return
        self.used |= {(a, one), (b, two)}
        self.wires.append(
            Wire(
                number=str(len(self.wires) + 1), start=End(a, one), end=End(b, two),
                size=WireSize(area, SizeSystem.MM2), group=group,
            )
        )  # fmt: skip


def generated_job(
    devices: int, *, seed: int, wires: int | None = None, width: float = 0.0, height: float = 0.0
) -> Job:
    """Return an invented job of about so many devices; plate sizes of 0 are chosen to suit."""
    make = _Maker(random.Random(seed))
    rng = make.rng
    make.device("switch", "M")
    supplies = [make.device("supply-80", "D") for _ in range(1 + devices // 50)]
    controllers = [make.device("controller-110", "D") for _ in range(1 + devices // 40)]
    feed = "-S1"
    while len(make.devices) < devices:
        pick = rng.random()
        make.unit += 1
        if pick < 0.45:
            breaker = make.device(rng.choice(("breaker-45", "breaker-54")), "M")
            contactor = make.device("contactor-45", "M")
            overload = make.device("overload-18", "M")
            terminal = make.device(rng.choice(("terminal-18", "terminal-30")), "M")
            for a, b in (
                (feed, breaker),
                (breaker, contactor),
                (contactor, overload),
                (overload, terminal),
            ):
                for _ in range(3):
                    make.wire(a, b, "2.5", "M")
            make.wire(rng.choice(controllers), contactor, "0.75", "D")
            feed = breaker
        elif pick < 0.55:
            drive = make.device(rng.choice(("drive-80", "drive-120", "drive-160")), "M")
            terminal = make.device("terminal-30", "M")
            for a, b in ((feed, drive), (drive, terminal)):
                for _ in range(3):
                    make.wire(a, b, "4", "M")
            make.wire(rng.choice(controllers), drive, "0.75", "D")
        elif pick < 0.85:
            relay = make.device(rng.choice(("relay-6", "relay-6", "relay-22")), "D")
            terminal = make.device("terminal-18", "D")
            make.wire(relay, terminal, "0.75", "D")
            make.wire(rng.choice(controllers), relay, "0.75", "D")
            make.wire(rng.choice(supplies), terminal, "0.75", "D")
        else:
            fuse = make.device("fuse-18", "M" if rng.random() < 0.5 else "D")
            terminal = make.device("terminal-18", make.devices[-1].group[0])
            make.wire(fuse, terminal, "1.5", make.devices[-1].group[0])
    del make.devices[devices:]
    known = {d.tag for d in make.devices}
    make.wires = [w for w in make.wires if {w.start.device, w.end.device} <= known]
    target = wires if wires is not None else 3 * devices
    for _ in range(20 * target):
        if len(make.wires) >= target:
            break
        at = rng.randrange(devices)
        near = min(devices - 1, max(0, at + rng.randint(-8, 8)))
        a, b = make.devices[at], make.devices[near]
        if a.group == b.group:
            make.wire(a.tag, b.tag, "1", a.group[0])
    for number, wire in enumerate(make.wires):
        make.wires[number] = Wire(
            number=str(number + 1), start=wire.start, end=wire.end, size=wire.size, group=wire.group
        )
    rng.shuffle(make.devices)
    make.devices.sort(key=lambda d: d.part.split("-")[0])
    return _job(make, devices, width, height)


def _job(make: _Maker, devices: int, width: float, height: float) -> Job:
    if not width:
        width = 700.0 if devices <= 30 else 900.0 if devices <= 70 else 1100.0
        if devices > 150:
            width = 1900.0
    if not height:
        room = sum(_BY_NAME[d.part].width + 4 for d in make.devices)
        rows = room / (width - 170) * 1.1 + 1
        height = 10 * round(rows * 27 + 12)
    settings = JobSettings(
        job=Title(title=f"generated {devices}"),
        enclosure=Enclosure(
            width=width + 100, height=height + 100, depth=400.0, door_inside=350.0
        ),
        plate=Plate(
            width=width, height=height, thickness=3.0,
            fixing_holes=tuple(
                FixingHole(x=x, y=y) for x in (20.0, width - 20) for y in (20.0, height - 20)
            ),
        ),
        groups=(Group(name="M", voltage=400.0), Group(name="D", voltage=24.0)),
        stock=Stock(ducts=_DUCTS),
        limits=Limits(),
    )  # fmt: skip
    return Job(
        settings=settings,
        parts=dict(_BY_NAME),
        devices={d.tag: d for d in make.devices},
        wires=tuple(make.wires),
    )


def with_traps(job: Job, seed: int) -> tuple[Job, Layout]:
    """Return a generated job with what makes plates hard, and the layout that pins its switch.

    Two regions to keep free, the main switch locked where a hand put it, overloads that plug into
    their contactors, a wider gap between voltage groups, drives and supplies whose clear space
    follows from their heat, and a higher plate for all that.
    """
    chance = random.Random(seed)
    plate = job.settings.plate
    height = plate.height + 250.0
    keep_outs = (
        KeepOut(x=plate.width - 22.0, y=round(height * chance.uniform(0.3, 0.7)), width=22.0,
                height=110.0, reason="stiffener"),
        KeepOut(x=round(plate.width * chance.uniform(0.3, 0.6)), y=0.0, width=90.0, height=70.0,
                reason="drain"),
    )  # fmt: skip
    taller = replace(
        plate, height=height, keep_outs=keep_outs,
        fixing_holes=tuple(
            replace(hole, y=hole.y if hole.y < plate.height / 2 else height - 20.0)
            for hole in plate.fixing_holes
        ),
    )  # fmt: skip
    settings = replace(
        job.settings, plate=taller, limits=replace(job.settings.limits, group_gap=20.0),
        enclosure=replace(job.settings.enclosure, height=height + 100.0),
    )  # fmt: skip
    parts = {
        name: replace(part, clear_top=None, clear_bottom=None, clear_left=None, clear_right=None)
        if part.kind in ("drive", "supply")
        else part
        for name, part in job.parts.items()
    }
    trapped = replace(job, settings=settings, parts=parts, devices=_chained(job))
    switch = next(d.tag for d in job.devices.values() if d.part == "switch")
    at = Placement(x=90.0, y=height - 260.0, locked=True)
    return trapped, Layout(devices={switch: at})


def _chained(job: Job) -> dict[str, Device]:
    """Return the devices, each overload plugged into the contactor it is wired to."""
    contactor_of = {
        wire.end.device: wire.start.device
        for wire in job.wires
        if job.devices[wire.start.device].part == "contactor-45"
        and job.devices[wire.end.device].part == "overload-18"
    }
    taken: set[str] = set()
    chained = {}
    for tag, device in job.devices.items():
        contactor = contactor_of.get(tag)
        if contactor is not None and contactor not in taken:
            taken.add(contactor)
            chained[tag] = replace(device, plugs_into=contactor)
        else:
            chained[tag] = device
    return chained
