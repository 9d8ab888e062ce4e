"""A device with terminals and no terminal torque leaves the torque sheet blank."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.model.part import Part
from platewright.rules.registry import rule
from platewright.rules.stated import Datum, told_by_device

SOURCE: Final = Source("parts.csv", "terminal_torque", Standing.JOB)
TORQUE: Final = Datum(
    "Terminal torque",
    "the torque sheet stays blank there",
    "Take it from the device's label or data sheet and state terminal_torque_nm (0: spring)",
)


@rule(
    id="data.terminal-torque",
    title="Terminal torque is stated",
    why="A loose terminal heats and burns, an overtightened one cuts the wire. The device's own value goes before any table.",
    source=SOURCE,
)
def check_terminal_torque_data(panel: Panel) -> Iterator[Reading]:
    """Look at every device it matters for."""
    yield from told_by_device(panel, panel.job.devices.values(), TORQUE, _blank)


def _blank(part: Part) -> str:
    return "terminal_torque" if part.terminals and part.terminal_torque is None else ""
