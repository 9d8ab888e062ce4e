"""Put a panel together: what each stage works out from the job and its layout."""

from __future__ import annotations

from collections.abc import Mapping

from platewright.fabricate.fastening import fastenings
from platewright.fabricate.pieces import pieces_of
from platewright.fabricate.solvers.cut_stock import cut_stock
from platewright.foundation.units import Mm
from platewright.heat.clear_gap import clear_space
from platewright.model.job import Job
from platewright.model.layout import Layout
from platewright.model.need import ClearSpace, WiringSpace
from platewright.model.panel import Panel
from platewright.model.wire import WireSize
from platewright.wiring.outer_diameter import outer_diameter
from platewright.wiring.solvers.route import route_wires
from platewright.wiring.wiring_space import wiring_space


def clear_spaces(job: Job) -> dict[str, ClearSpace]:
    """Return what must stay empty round every device, stated or assumed."""
    settings = job.settings
    return {
        tag: clear_space(
            job.part_of(tag),
            load=device.load,
            inside=settings.air.inside,
            duct_limit=settings.limits.duct_temperature,
            unit=settings.units,
        )
        for tag, device in job.devices.items()
    }


def wiring_spaces(job: Job) -> dict[str, WiringSpace]:
    """Return the room every device needs between its terminals and the ducts."""
    sizes: dict[str, dict[str, tuple[WireSize, ...]]] = {tag: {} for tag in job.devices}
    for wire in job.wires:
        for end in (wire.start, wire.end):
            here = sizes[end.device]
            here[end.terminal] = (*here.get(end.terminal, ()), wire.size)
    return {tag: wiring_space(job.part_of(tag), sizes[tag]) for tag in job.devices}


def outer_diameters(job: Job) -> dict[str, Mm]:
    """Return the outside diameter of every wire that is measured or in the tables."""
    found: dict[str, Mm] = {}
    for wire in job.wires:
        diameter = outer_diameter(wire, job.settings.practice)
        if diameter is not None:
            found[wire.number] = diameter
    return found


def panel_of(
    job: Job,
    layout: Layout,
    *,
    clear: Mapping[str, ClearSpace] | None = None,
    wiring: Mapping[str, WiringSpace] | None = None,
) -> Panel:
    """Return the panel of a job with its layout: room, routes and cuts worked out."""
    diameters = outer_diameters(job)
    return Panel(
        job=job,
        layout=layout,
        clear=clear or clear_spaces(job),
        wiring=wiring or wiring_spaces(job),
        outer_diameters=diameters,
        routes=route_wires(job, layout, diameters),
        cuts=cut_stock(
            pieces_of(job, layout),
            job.settings.stock,
            offcuts=job.offcuts,
            label=job.settings.job.number,
        ),
        fastenings=fastenings(job, layout),
    )
