"""Heat while the hand moves is what the checks say once it lets go."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from platewright.app.editing.edit import apply_edit
from platewright.app.editing.edits import Move, Put, TakeOff
from platewright.app.editing.things import thing_of
from platewright.app.gather import panel_of
from platewright.app.live.heat import LiveHeat
from platewright.heat.panel_heat import heat_of
from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import read_layout
from platewright.model.heat import PanelHeat
from platewright.model.panel import Panel

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@pytest.fixture(scope="module")
def rinser() -> Panel:
    folder = EXAMPLES / "bottle-rinser-by-hand"
    job = read_job(folder)
    return panel_of(job, read_layout(folder, job))


def same(one: PanelHeat, other: PanelHeat) -> None:
    """The wires' heat may differ with their length; none of the rinser's states its current."""
    assert one.devices == other.devices
    assert one.facings == other.facings
    for field in ("front", "side", "plate"):
        assert np.array_equal(getattr(one, field).values, getattr(other, field).values)


@pytest.mark.parametrize("tags", [("-T1",), ("-T3", "-Q2"), ("D3",), ("-T1", "D7")])
def test_a_move_ends_as_the_checks_have_it(rinser: Panel, tags: tuple[str, ...]) -> None:
    dx, dy = -37.0, 21.0
    places = []
    for tag in tags:
        thing = thing_of(rinser.layout, tag)
        assert thing is not None
        places.append((thing.x + dx, thing.y + dy))
    live = LiveHeat(rinser, tags).at(places)
    dropped = apply_edit(rinser.job, rinser.layout, Move(tags=tags, dx=dx, dy=dy)).layout
    same(live, heat_of(panel_of(rinser.job, dropped)))
    before = heat_of(rinser)
    assert (live.devices, live.facings) != (before.devices, before.facings), "something changes"


def test_a_device_from_the_tray_gets_its_temperature(rinser: Panel) -> None:
    lifted = apply_edit(rinser.job, rinser.layout, TakeOff(tags=("-T1",))).layout
    panel = panel_of(rinser.job, lifted)
    assert "-T1" not in heat_of(panel).devices
    live = LiveHeat(panel, ("-T1",)).at([(300.0, 300.0)])
    put = apply_edit(rinser.job, lifted, Put(tag="-T1", x=300.0, y=300.0)).layout
    same(live, heat_of(panel_of(rinser.job, put)))


def test_a_warm_device_below_warms_what_stands_above(rinser: Panel) -> None:
    """As anyone's hand can tell: put the 70 W under the fuses and their air gets warmer."""
    fuse = rinser.layout.devices["-F2"]
    hand = LiveHeat(rinser, ("-T1",))
    under = hand.at([(fuse.x - 40.0, fuse.y - 260.0)]).devices["-F2"].air.value
    aside = hand.at([(fuse.x + 250.0, fuse.y - 260.0)]).devices["-F2"].air.value
    assert under > aside + 1.0


def test_what_nobody_knows_is_left_out(rinser: Panel) -> None:
    assert LiveHeat(rinser, ("-T1", "-X99", "-T1")).tags == ("-T1",)
    without = replace(rinser, layout=replace(rinser.layout, devices={}, ducts={}, rails={}))
    assert LiveHeat(without, ("D1",)).tags == ()
