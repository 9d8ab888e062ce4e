"""Proofs that nothing fits, held to every way to share a few devices out over rows."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator

import pytest

from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.app.plans.no_room import Reason, least_height, least_rows, offer_of, proofs_of
from platewright.arrange.task import Standing, Task, task_for
from platewright.model.device import Device, Place
from platewright.model.job import (
    DuctStock,
    Enclosure,
    Group,
    Job,
    JobSettings,
    Limits,
    Plate,
    Stock,
    Title,
)
from platewright.model.part import Mount, Part

DUCT = 30.0
Size = tuple[float, float]


def _job(
    sizes: list[Size], *, plate: Size = (500.0, 600.0), depth: float = 60.0,
    groups: list[str] | None = None, spare: float = 0.0, door: Size | None = None,
) -> Job:  # fmt: skip
    none = dict.fromkeys([f"{kind}_{s}" for kind in ("cover", "clear") for s in
                          ("left", "right", "top", "bottom")], 0.0)  # fmt: skip
    parts = {
        f"p{k}": Part(part=f"p{k}", width=w, height=h, depth=depth, mount=Mount.SCREWS, **none)
        for k, (w, h) in enumerate(sizes)
    }
    devices = {
        f"-A{k}": Device(tag=f"-A{k}", part=f"p{k}", group=(groups[k],) if groups else ())
        for k in range(len(sizes))
    }
    if door:
        parts["door"] = Part(
            part="door", width=door[0], height=door[1], depth=80.0, mount=Mount.SCREWS
        )
        devices["-P1"] = Device(tag="-P1", part="door", place=Place.DOOR, door_x=0.0, door_y=0.0)
    return Job(
        settings=JobSettings(
            job=Title(title="t"),
            enclosure=Enclosure(
                width=plate[0] + 50, height=plate[1] + 50, depth=250.0, door_inside=180.0
            ),
            plate=Plate(width=plate[0], height=plate[1], thickness=2.0, edge_margin=10.0),
            groups=tuple(Group(name=g) for g in sorted(set(groups or ()))),
            stock=Stock(ducts=(DuctStock(name="30", width=DUCT, height=60.0),)),
            limits=Limits(side_gap=0.0, spare=spare, group_gap=20.0),
        ),
        parts=parts, devices=devices, wires=(),
    )  # fmt: skip


def _task(job: Job) -> Task:
    return task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing())


def _shares(count: int) -> Iterator[list[list[int]]]:
    """Every way to put things into rows; rows without order."""

    def put(k: int, rows: list[list[int]]) -> Iterator[list[list[int]]]:
        if k == count:
            yield rows
            return
        for r in range(len(rows)):
            yield from put(k + 1, [[*row, k] if q == r else row for q, row in enumerate(rows)])
        yield from put(k + 1, [*rows, [k]])

    yield from put(0, [])


def _least(sizes: list[Size], width: float, groups: list[str] | None = None) -> float:
    """Return the least height of rows with their ducts, by trying all ways."""
    best = math.inf
    for rows in _shares(len(sizes)):
        gaps = [len({groups[k] for k in row}) - 1 if groups else 0 for row in rows]
        widths = [sum(sizes[k][0] for k in row) + 20.0 * g
                  for row, g in zip(rows, gaps, strict=True)]  # fmt: skip
        if max(widths) <= width + 1e-9:
            height = sum(max(sizes[k][1] for k in row) for row in rows)
            best = min(best, height + (len(rows) + 1) * DUCT)
    return best


@pytest.mark.parametrize("seed", range(25))
def test_the_bound_is_never_above_the_least_of_all_ways(seed: int) -> None:
    rng = random.Random(seed)
    sizes = [(rng.choice([40.0, 90.0, 150.0, 210.0]), rng.choice([60.0, 90.0, 140.0]))
             for _ in range(rng.randint(2, 7))]  # fmt: skip
    groups = [rng.choice("MCD") for _ in sizes] if seed % 2 else None
    task = _task(_job(sizes, groups=groups))
    offer = offer_of(task.job.settings)
    assert offer.width == 420.0
    bound = least_height(task, offer, least_rows(task, offer))
    truth = _least(sizes, offer.width, groups)
    assert bound <= truth + 1e-6
    for height in (truth + 20.0, truth + 21.0):  # margins of 10: there it does fit
        assert proofs_of(_task(_job(sizes, groups=groups, plate=(500.0, height)))) == ()


def test_the_bound_is_the_truth_where_rows_fill_up() -> None:
    """Four devices of half a row: the two tallest share one. 140 + 60 and three ducts."""
    sizes = [(210.0, 140.0), (210.0, 60.0), (210.0, 100.0), (210.0, 60.0)]
    task = _task(_job(sizes))
    offer = offer_of(task.job.settings)
    assert least_height(task, offer, least_rows(task, offer)) == 140 + 60 + 3 * DUCT
    assert _least(sizes, offer.width) == 140 + 60 + 3 * DUCT


def test_a_plate_a_hair_too_low_is_proved_too_low() -> None:
    sizes = [(210.0, 140.0), (210.0, 60.0), (210.0, 100.0), (210.0, 60.0)]
    assert proofs_of(_task(_job(sizes, plate=(500.0, 310.0)))) == ()
    (proof,) = proofs_of(_task(_job(sizes, plate=(500.0, 309.0))))
    assert proof.reason is Reason.ROWS
    assert proof.lacking == pytest.approx(1.0)
    assert "at least 2 rows" in proof.message


def test_spare_room_and_gaps_between_groups_count() -> None:
    # 2 × 210 fill a row of 420; half of it kept for later asks for two rows
    sizes = [(210.0, 100.0)] * 2
    low = (500.0, 20.0 + 100.0 + 2 * DUCT)
    assert proofs_of(_task(_job(sizes, plate=low))) == ()
    assert proofs_of(_task(_job(sizes, plate=low, spare=0.1)))
    assert proofs_of(_task(_job(sizes, plate=low, groups=["M", "C"])))
    assert proofs_of(_task(_job(sizes, plate=low, groups=["M", "M"]))) == ()


def test_single_devices_that_fit_nowhere() -> None:
    for job, reason in (
        (_job([(421.0, 50.0)]), Reason.WIDTH),
        (_job([(50.0, 521.0)]), Reason.HEIGHT),
        (_job([(50.0, 50.0)], depth=180.5), Reason.DEPTH),
    ):
        (proof,) = proofs_of(_task(job))
        assert proof.reason is reason
        assert proof.lacking == pytest.approx(1.0 if reason is not Reason.DEPTH else 0.5)
    assert proofs_of(_task(_job([(420.0, 520.0)], depth=180.0))) == ()


def test_a_door_device_that_leaves_no_place() -> None:
    """Behind a door device of 80 mm on 180 stand 100; it covers all but a strip at the top."""
    tall = _job([(300.0, 200.0)], depth=120.0, door=(500.0, 420.0))
    (proof,) = proofs_of(_task(tall))
    assert proof.reason is Reason.ZONES
    assert proofs_of(_task(_job([(300.0, 200.0)], depth=100.0, door=(500.0, 420.0)))) == ()
    assert proofs_of(_task(_job([(300.0, 160.0)], depth=120.0, door=(500.0, 420.0)))) == ()
