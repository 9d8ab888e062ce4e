"""Held to an enumeration of every row-and-order of a few devices, which shares no code."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from itertools import permutations

import pytest

from platewright.model.device import Device, Edge
from platewright.model.job import Job
from platewright.rules.wish_conflicts import conflicts_of, irreducible
from platewright.rules.wish_order import clash, facts_of, ground_of, wishes_of

from .builders import part, settings

WIDE = {"width": 800.0, "edge_margin": 0.0}


def _job(*devices: Device, plate: float = 800.0, width: float = 40.0) -> Job:
    return Job(
        settings=settings(plate={**WIDE, "width": plate}),
        parts={"box": part("box", width=width)},
        devices={d.tag: d for d in devices},
        wires=(),
    )


def _device(tag: str, **wishes: object) -> Device:
    return Device(tag=tag, part="box", **wishes)  # type: ignore[arg-type]


def _layouts(tags: list[str]) -> Iterator[list[list[str]]]:
    """Every way to stand in rows: each order, cut at each set of places."""
    for order in permutations(tags):
        for cuts in range(2 ** (len(order) - 1)):
            rows: list[list[str]] = [[]]
            for k, tag in enumerate(order):
                rows[-1].append(tag)
                if k < len(order) - 1 and cuts >> k & 1:
                    rows.append([])
            yield rows


def _obeys(rows: list[list[str]], job: Job) -> bool:
    at = {tag: (r, c) for r, row in enumerate(rows) for c, tag in enumerate(row)}
    for row in rows:
        if sum(job.part_of(t).width for t in row) > job.settings.plate.width and len(row) > 1:
            return False
    for d in job.devices.values():
        (r, c) = at[d.tag]
        if d.beside and not (at[d.beside][0] == r and abs(at[d.beside][1] - c) == 1):
            return False
        if d.same_row and at[d.same_row][0] != r:
            return False
        if d.before and not (r, c) < at[d.before]:
            return False
        if d.not_beside and at[d.not_beside][0] == r and abs(at[d.not_beside][1] - c) == 1:
            return False
        if d.plugs_into and at[d.plugs_into] != (r, c - 1):
            return False
        if d.at is Edge.TOP and r != 0:
            return False
        if d.at is Edge.BOTTOM and r != len(rows) - 1:
            return False
    return True


def _can(job: Job) -> bool:
    return any(_obeys(rows, job) for rows in _layouts(list(job.devices)))


def _random_job(rng: random.Random, *, apart: bool) -> Job:
    tags = [f"-A{k}" for k in range(1, rng.randint(3, 5) + 1)]
    kinds = ["beside", "same_row", "before"] + (["not_beside"] if apart else [])
    devices = [_device(tag) for tag in tags]
    for _ in range(rng.randint(1, 6)):
        k, other = rng.sample(range(len(tags)), 2)
        kind = rng.choice(kinds)
        devices[k] = replace(devices[k], **{kind: tags[other]})
    if rng.random() < 0.4:
        k = rng.randrange(len(tags))
        devices[k] = replace(devices[k], at=rng.choice([Edge.TOP, Edge.BOTTOM]))
    if rng.random() < 0.4:
        k = rng.randrange(len(tags))
        devices[k] = replace(devices[k], at=rng.choice([Edge.TOP, Edge.BOTTOM]))
    if rng.random() < 0.3:
        a, b = rng.sample(range(len(tags)), 2)
        devices[b] = replace(devices[b], plugs_into=tags[a])
    return _job(*devices, plate=rng.choice([800.0, 130.0, 90.0]))


@pytest.mark.parametrize("seed", range(60))
def test_what_contradicts_itself_is_what_no_layout_obeys(seed: int) -> None:
    job = _random_job(random.Random(seed), apart=False)
    ground = ground_of(job)
    assert bool(clash([*facts_of(job, ground), *wishes_of(job)], ground)) is not _can(job)


@pytest.mark.parametrize("seed", range(60, 90))
def test_no_conflict_is_told_that_some_layout_obeys(seed: int) -> None:
    job = _random_job(random.Random(seed), apart=True)
    if conflicts_of(job):
        assert not _can(job)


@pytest.mark.parametrize("seed", range(40))
def test_the_smallest_set_is_the_smallest(seed: int) -> None:
    """Against every subset of the wishes, judged by enumeration."""
    job = _random_job(random.Random(seed + 1000), apart=False)
    wishes = wishes_of(job)
    found = conflicts_of(job)
    if not found:
        return
    names = {"beside": "beside", "in the row of": "same_row", "before": "before"}

    def with_only(mask: int) -> Job:
        bare = {
            t: replace(d, beside=None, same_row=None, before=None, not_beside=None, at=None)
            for t, d in job.devices.items()
        }
        for k, wish in enumerate(wishes):
            if mask >> k & 1:
                field = names.get(str(wish.kind), "at")
                value = wish.other or (Edge.TOP if "top" in wish.kind else Edge.BOTTOM)
                bare[wish.device] = replace(bare[wish.device], **{field: value})
        return replace(job, devices=bare)

    sizes = [m.bit_count() for m in range(1, 2 ** len(wishes)) if not _can(with_only(m))]
    assert found[0].is_smallest
    assert len(found[0].wishes) == min(sizes)


def test_three_neighbours_are_named() -> None:
    job = _job(
        _device("-Q1"), _device("-Q2", beside="-Q1"), _device("-Q3", beside="-Q1"),
        _device("-Q4", beside="-Q1"), _device("-Q5", beside="-Q4"),
    )  # fmt: skip
    (found,) = conflicts_of(job)
    assert [str(w) for w in found.wishes] == [f"-Q{k} beside -Q1" for k in (2, 3, 4)]
    assert "two sides" in found.why


def test_what_plugs_together_is_named_as_a_fact() -> None:
    job = _job(
        _device("-K1"), _device("-K2", plugs_into="-K1"), _device("-K3", plugs_into="-K2"),
        _device("-T1", beside="-K2"), _device("-T2", before="-T1"),
    )  # fmt: skip
    (found,) = conflicts_of(job)
    assert [str(w) for w in found.wishes] == ["-T1 beside -K2"]
    assert [str(f) for f in found.facts] == ["-K2 plugs into -K1", "-K3 plugs into -K2"]


def test_top_and_bottom_in_one_row_conflict_only_where_one_row_is_too_short() -> None:
    devices = (
        _device("-A", at=Edge.TOP, same_row="-B"), _device("-B", at=Edge.BOTTOM), _device("-C"),
    )  # fmt: skip
    assert conflicts_of(_job(*devices, plate=120.0)) == ()
    (found,) = conflicts_of(_job(*devices, plate=119.0))
    assert len(found.wishes) == 3


def test_two_conflicts_are_told_apart() -> None:
    job = _job(
        _device("-A", before="-B"), _device("-B", before="-A"),
        _device("-C", beside="-D"), _device("-D", not_beside="-C"), _device("-E", beside="-A"),
    )  # fmt: skip
    assert [len(c.wishes) for c in conflicts_of(job)] == [2, 2]


def test_a_contradiction_is_cut_down_to_what_it_needs() -> None:
    """Numbers that contradict when two of them sum to 10: nothing of ours but the cutting."""
    wanted = {3, 7}
    found = irreducible(list(range(40)), lambda some: wanted <= set(some))  # type: ignore[arg-type]
    assert set(found) == wanted


def test_a_long_chain_of_wishes_is_no_conflict() -> None:
    devices = [_device("-A0")]
    devices += [_device(f"-A{k}", beside=f"-A{k - 1}", before=f"-A{k - 2}" if k > 1 else None)
                for k in range(1, 200)]  # fmt: skip
    assert conflicts_of(_job(*devices, plate=1e5)) == ()
