"""Compile every kernel that a command runs, once for this machine, what is waited for first.

Set-up runs it; where that was left out, the first command has it run beside itself and goes on
in plain Python meanwhile.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from platewright.app.plans.plan import Budget, plan
from platewright.app.plans.worth import worth_of
from platewright.arrange.warm import compile_kernels as compile_search
from platewright.fabricate.warm_tour import compile_kernels as compile_cuts_and_tours
from platewright.model.device import Device
from platewright.model.job import DuctStock, Enclosure, Job, JobSettings, Plate, Stock, Title
from platewright.model.layout import Layout
from platewright.model.part import Mount, Part
from platewright.model.wire import End, SizeSystem, Wire, WireSize
from platewright.rules.registry import run_rules
from platewright.sheets.documents import documents

_MOVES: Final = 400
_RELAYS: Final = 5


def compile_all() -> None:
    """Go once through all that is compiled: search, a small job from plan to sheets, cuts."""
    compile_search()
    job = _small_job()
    budget = Budget(moves=_MOVES, explain=True)
    planned = plan(job, Layout(), seed=1, budget=budget, progress=lambda _share, _text: True)
    findings = run_rules(planned.panel)
    worth_of(planned.panel)
    compile_cuts_and_tours()
    documents(planned.panel, findings)


def _small_job() -> Job:
    """Return a few relays on a rail and a drive on screws; their clear space is not stated."""
    relay = Part(
        part="relay", kind="relay", width=22.5, height=90.0, depth=80.0, mount=Mount.RAIL,
        rail_center=45.0, heat=2.0, mass=0.2, terminals_top=("1",), terminals_bottom=("2",),
    )  # fmt: skip
    drive = Part(
        part="drive", kind="drive", width=80.0, height=160.0, depth=150.0, mount=Mount.SCREWS,
        hole_pattern_width=60.0, hole_pattern_height=140.0, screw="M5", heat=60.0, mass=2.0,
        terminals_top=("1",), terminals_bottom=("2",),
    )  # fmt: skip
    tags = [*(f"-K{n + 1}" for n in range(_RELAYS)), "-U1"]
    devices = {tag: Device(tag=tag, part="drive" if tag == "-U1" else "relay") for tag in tags}
    wires = tuple(
        Wire(
            number=str(n), start=End(one, "2"), end=End(other, "1"),
            size=WireSize("1.5", SizeSystem.MM2),
        )
        for n, (one, other) in enumerate(pairwise(tags))
    )  # fmt: skip
    settings = JobSettings(
        job=Title(title="warm"),
        enclosure=Enclosure(width=700.0, height=900.0, depth=300.0, door_inside=250.0),
        plate=Plate(width=600.0, height=800.0, thickness=2.5),
        stock=Stock(ducts=(DuctStock(name="40x60", width=40.0, height=60.0),)),
    )
    parts = {part.part: part for part in (relay, drive)}
    return Job(settings=settings, parts=parts, devices=devices, wires=wires)


if __name__ == "__main__":
    compile_all()
