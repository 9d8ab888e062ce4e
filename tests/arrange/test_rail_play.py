"""A rail is cut with 1.5 mm of play beside what is not on it, where its devices leave that room.

Measured on the plates that plans give, against the wish itself: a saw is 1 mm off (shop practice).
"""

from __future__ import annotations

from itertools import chain

import pytest

from generated_jobs import generated_job
from platewright.app.plans.plan import Budget, plan
from platewright.arrange.build import _Seat, _two_slots, _with_play
from platewright.model.geometry import Box
from platewright.model.job import Job, RailStock
from platewright.model.layout import Layout, Rail
from platewright.model.panel import body_box, envelope_box
from platewright.model.part import Mount

PLAY = 1.5
SHORTEST = 55.0


def _on_it(job: Job, layout: Layout, rail: Rail) -> list[Box]:
    return [
        body_box(part, at)
        for tag, at in layout.devices.items()
        if (part := job.part_of(tag)).mount is Mount.RAIL
        and abs(at.y + (part.rail_center or 0.0) - rail.y) < 0.5
    ]


@pytest.mark.parametrize(("size", "seed"), [(20, 4), (30, 1), (40, 2)])
def test_rails_of_a_plan(size: int, seed: int) -> None:
    job = generated_job(size, seed=seed)
    found = plan(job, Layout(), seed=1, budget=Budget(moves=5_000), progress=lambda _s, _t: True)
    layout = found.panel.layout
    beside = 0
    for rail in layout.rails.values():
        left, right = rail.x, rail.x + rail.length
        mine = _on_it(job, layout, rail)
        bodies = [
            envelope_box(job.part_of(tag), at)
            for tag, at in layout.devices.items()
            if body_box(job.part_of(tag), at) not in mine
        ]
        level = [b for b in bodies if b.bottom < rail.y + 17.5 and b.top > rail.y - 17.5]
        gaps = chain(
            ((left - b.right, left) for b in level if b.right <= left + 1e-6),
            ((b.left - right, right) for b in level if b.left >= right - 1e-6),
        )
        for gap, end in gaps:
            beside += 1
            is_flush = any(abs(end - edge) < 1e-6 for b in mine for edge in (b.left, b.right))
            assert gap >= PLAY - 1e-6 or is_flush or rail.length <= SHORTEST
    assert beside


def _room(stretch: tuple[float, float], *bodies: tuple[float, float], seat: tuple[float, float]):
    seats = [_Seat("-F1", 100.0, *seat)]
    return _with_play(stretch, list(bodies), seats, least=_two_slots(RailStock()))


def test_play_only_beside_bodies() -> None:
    """A margin or a duct has its own 5 mm already."""
    assert _room((10, 300), seat=(50, 90)) == (10, 300)
    assert _room((10, 300), (300, 400), seat=(50, 90)) == (10, 298.5)
    assert _room((10, 300), (0, 10), (300, 400), seat=(50, 90)) == (11.5, 298.5)


def test_what_the_devices_need_goes_before() -> None:
    assert _room((10, 300), (0, 10), (300, 400), seat=(10, 299.5)) == (10, 299.5)


def test_two_slots_go_before() -> None:
    """Two slots 25 mm apart and half a pitch beyond: 50 mm; there is 51 in all, so 0.5 each."""
    left, right = _room((10, 61), (0, 10), (61, 70), seat=(20, 40))
    assert (left, right) == (pytest.approx(10.5), pytest.approx(60.5))


@pytest.mark.parametrize(("first", "least"), [(None, 50), (15.0, 52.5), (20.0, 55)])
def test_a_rail_whose_first_slot_lies_farther_in(first: float | None, least: float) -> None:
    assert _two_slots(RailStock(first_slot=first)) == least
