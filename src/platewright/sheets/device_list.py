"""The parts table: what stands where."""

from __future__ import annotations

from platewright.drawing.table import Column, Quantity, Table
from platewright.foundation.tag_order import tag_order
from platewright.model.panel import Panel
from platewright.sheets.registry import Findings, listing


@listing(id="devices", title="Devices")
def device_table(panel: Panel, findings: Findings) -> Table:  # noqa: ARG001  (one shape for all)
    """Return every device with its part, size and place; door devices too."""
    rows = []
    for tag in sorted(panel.job.devices, key=tag_order):
        device, part = panel.job.devices[tag], panel.job.part_of(tag)
        at = panel.layout.devices.get(tag)
        x, y = (device.door_x, device.door_y) if at is None else (at.x, at.y)
        rows.append(
            (
                tag,
                device.function,
                device.part,
                part.description,
                part.width,
                part.height,
                part.depth,
                device.place.value,
                x,
                y,
            )
        )
    return Table(
        title="Devices",
        columns=(
            Column(name="tag", head="Tag"),
            Column(name="function", head="Function", wraps=True),
            Column(name="part", head="Part"),
            Column(name="description", head="What", wraps=True),
            Column(name="width", head="W", quantity=Quantity.LENGTH),
            Column(name="height", head="H", quantity=Quantity.LENGTH),
            Column(name="depth", head="D", quantity=Quantity.LENGTH),
            Column(name="place", head="On"),
            Column(name="x", head="x", quantity=Quantity.LENGTH),
            Column(name="y", head="y", quantity=Quantity.LENGTH),
        ),
        rows=tuple(rows),
    )
