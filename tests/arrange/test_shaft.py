"""A switch whose shaft goes to the door is planned beside what hangs there, never behind it."""

from dataclasses import replace
from pathlib import Path

import pytest

from platewright.app.plans.plan import Budget, plan
from platewright.jobfile.folder import read_job
from platewright.model.layout import Layout

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.mark.parametrize("seed", [1, 2, 3])
@pytest.mark.parametrize("covers", [False, True])
def test_the_plan_keeps_the_shaft_clear_of_door_devices(seed, covers):
    """With ``covers`` the panel hangs where the switch would like to stand: top left."""
    job = read_job(EXAMPLES / "bottle-rinser")
    if covers:
        devices = {**job.devices, "-P1": replace(job.devices["-P1"], door_x=150, door_y=820)}
        job = replace(job, devices=devices)
    found = plan(job, Layout(), seed=seed, budget=Budget(moves=3000), progress=lambda *_: True)
    part, at = job.part_of("-Q1"), found.panel.layout.devices["-Q1"]
    x, y = at.x + part.width / 2 + part.shaft_x, at.y + part.height / 2 + part.shaft_y
    for device in job.on_door:
        door = job.part_of(device.tag)
        dx = max(device.door_x - x, 0, x - device.door_x - door.width)
        dy = max(device.door_y - y, 0, y - device.door_y - door.height)
        assert (dx * dx + dy * dy) ** 0.5 >= part.handle_diameter / 2, device.tag
