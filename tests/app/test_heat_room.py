"""Room that is made where a plate FAILs a check of heat and another one would not."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from generated_jobs import generated_job
from platewright.app.gather import panel_of
from platewright.app.plans import plan as plans
from platewright.app.plans.heat_room import (
    Roomier,
    _Ask,
    _Asked,
    _is_better,
    _told,
    _with_less,
    share_of,
)
from platewright.app.plans.plan import Budget, Planned, plan
from platewright.app.plans.weighing import weighed_by
from platewright.arrange.arranger import Arrangement
from platewright.foundation.units import DegC
from platewright.jobfile.layout_file import layout_text
from platewright.model.finding import Verdict
from platewright.model.geometry import Box
from platewright.model.heat import Banded, Facing
from platewright.model.job import Air, Job
from platewright.model.layout import HoleState, Layout
from platewright.model.panel import Panel
from platewright.rules.registry import run_rules

MOVES = 20_000
ROOM = re.compile(
    r"  ([\d.]+) mm instead of ([\d.]+) mm kept clear (left of|right of|above|below) (\S+): .*"
)


def _job(*, outside: DegC | None = 25.0, watts: float = 60.0, seed: int = 1) -> Job:
    """Return a job with a supply whose data sheet asks for less room than its heat does."""
    job = generated_job(25, seed=seed)
    part = replace(
        job.parts["supply-80"], heat=watts, clear_left=10.0, clear_right=10.0, clear_top=10.0,
        clear_bottom=10.0,
    )  # fmt: skip
    settings = replace(job.settings, air=Air(outside=outside, fan=150.0))
    return replace(job, settings=settings, parts={**job.parts, "supply-80": part})


def _cold(job: Job) -> Job:
    parts = {name: replace(part, heat=part.heat and 0.1) for name, part in job.parts.items()}
    return replace(job, parts=parts)


def _planned(job: Job, before: Layout | None = None, *, seed: int = 1, **more: Any) -> Planned:
    budget = Budget(moves=MOVES, **more)
    return plan(
        job, before or Layout(), seed=seed, budget=budget, progress=lambda _share, _text: True
    )


def _drilled(layout: Layout) -> Layout:
    holes = {tag: replace(hole, state=HoleState.DRILLED) for tag, hole in layout.holes.items()}
    return replace(layout, holes=holes)


@pytest.fixture
def without(monkeypatch: pytest.MonkeyPatch) -> Callable[..., Planned]:
    """Return a plan as it would be if no room were made."""

    def found(job: Job, before: Layout | None = None, *, seed: int = 1) -> Planned:
        with monkeypatch.context() as patch:
            patch.setattr(
                plans, "with_room_for_heat",
                lambda final, _before, *, built, **_rest: Roomier(
                    arrangement=final, panel=built(final)
                ),
            )  # fmt: skip
            return _planned(job, before, seed=seed)

    return found


def _fails(panel: Panel) -> list[str]:
    return [f.rule.id for f in run_rules(panel) if f.verdict is Verdict.FAIL]


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_plate_that_would_fail_by_its_heat_is_given_room(
    seed: int, without: Callable[..., Planned]
) -> None:
    job = _job()
    assert set(_fails(without(job, seed=seed).panel)) == {"heat.duct-temperature"}
    planned = _planned(job, seed=seed)
    assert _fails(planned.panel) == []
    unsure = [
        f
        for f in run_rules(planned.panel, ("heat.duct-temperature", "heat.device-air"))
        if f.verdict is Verdict.UNDECIDED
    ]
    assert "now none does" in planned.for_heat[0]
    assert (f"; {len(unsure)} UNDECIDED" in planned.for_heat[0]) == bool(unsure)


def test_what_is_told_of_the_room_is_so() -> None:
    """The check of clear space finds the room that is told, where the data sheet asks for less."""
    planned = _planned(_job())
    panel, told = planned.panel, planned.for_heat[1:]
    clear = dict(panel.clear)
    for line in told:
        room, usual, side, tag = ROOM.fullmatch(line).groups()  # type: ignore[union-attr]
        side = {"above": "top", "below": "bottom"}.get(side, side.split()[0])
        need = getattr(clear[tag], side)
        assert need.room == float(usual) < float(room)
        clear[tag] = replace(clear[tag], **{side: replace(need, room=float(room))})
    found = run_rules(replace(panel, clear=clear), ("space.clear-space",))
    assert told
    assert {f.verdict for f in found} == {Verdict.PASS}


def test_a_device_in_air_too_warm_for_it_is_put_lower(without: Callable[..., Planned]) -> None:
    job = _job(watts=20.0, seed=2)
    parts = {
        name: replace(part, heat_limit=25.0 if part.kind == "controller" else part.heat_limit)
        for name, part in job.parts.items()
    }
    parts |= {name: replace(parts[name], heat=30.0) for name in parts if name.startswith("drive")}
    job = replace(job, parts=parts)
    before, after = without(job), _planned(job)
    (tag,) = [tag for tag, device in job.devices.items() if device.part == "controller-110"]
    assert _fails(before.panel) == ["heat.device-air"]
    assert _fails(after.panel) == []
    down = before.panel.layout.devices[tag].y - after.panel.layout.devices[tag].y
    assert f"{tag} put {down:.0f} mm lower" in after.for_heat[1]


def test_the_moves_for_it_are_counted_and_few(without: Callable[..., Planned]) -> None:
    job = _job()
    spent = _planned(job).tried - without(job).tried
    assert 0 < spent <= 0.2 * MOVES


def test_the_same_seed_makes_the_same_room() -> None:
    one, other = (_planned(_job()) for _ in range(2))
    assert layout_text(one.panel.layout) == layout_text(other.panel.layout)
    assert one.for_heat == other.for_heat


@pytest.mark.parametrize("job", [_cold(_job()), _job(outside=None)], ids=["cold", "assumed air"])
def test_where_no_heat_fails_the_plate_is_as_it_was(
    job: Job, without: Callable[..., Planned]
) -> None:
    planned, plain = _planned(job), without(job)
    assert layout_text(planned.panel.layout) == layout_text(plain.panel.layout)
    assert (planned.tried, planned.for_heat) == (plain.tried, ())


def test_the_list_order_beside_it_is_laid_out_without_that_room(
    without: Callable[..., Planned],
) -> None:
    job = _job()
    plates = [found.baseline.layout.devices for found in (_planned(job), without(job))]
    assert plates[0] == plates[1]


def test_what_no_plate_can_cure_leaves_the_plate_as_it_was(
    without: Callable[..., Planned],
) -> None:
    """A controller that bears no more than 1 °C is too warm wherever it stands."""
    job = _cold(_job())
    part = replace(job.parts["controller-110"], heat_limit=1.0)
    job = replace(job, parts={**job.parts, part.part: part})
    planned, plain = _planned(job), without(job)
    assert _fails(plain.panel) == ["heat.device-air"]
    assert layout_text(planned.panel.layout) == layout_text(plain.panel.layout)
    assert planned.for_heat == ("No plate was found on which fewer checks of heat FAIL.",)


def test_a_stop_while_room_is_made_keeps_the_plate(without: Callable[..., Planned]) -> None:
    told: list[str] = []

    def progress(_share: float, text: str) -> bool:
        told.append(text)
        return not text.startswith("making room for heat")

    job = _job()
    stopped = plan(job, Layout(), seed=1, budget=Budget(moves=MOVES), progress=progress)
    assert told[-1].startswith("making room for heat")
    assert stopped.stopped
    assert stopped.for_heat == ()
    assert layout_text(stopped.panel.layout) == layout_text(without(job).panel.layout)


@pytest.mark.parametrize("name", ["all-round", "coolest"])
def test_progress_never_goes_back_and_comes_to_the_end(name: str) -> None:
    told: list[tuple[float, str]] = []

    def progress(share: float, text: str) -> bool:
        told.append((share, text))
        return True

    job = weighed_by(_job(watts=90.0), name)
    plan(job, Layout(), seed=1, budget=Budget(moves=MOVES, explain=True), progress=progress)
    shares = [share for share, _ in told]
    room = [share for share, text in told if text.startswith("making room")]
    assert room
    assert shares == sorted(shares)
    assert 1.0 - share_of(job) - 1e-9 <= room[0] < room[-1] <= 1.0


def test_no_room_is_sought_where_device_and_duct_are_drilled(
    without: Callable[..., Planned],
) -> None:
    stood = _drilled(_planned(_cold(_job())).panel.layout)
    job = _job(watts=90.0)  # the same devices, now with their heat
    after, plain = _planned(job, stood), without(job, stood)
    assert "heat.duct-temperature" in _fails(plain.panel)
    assert layout_text(after.panel.layout) == layout_text(plain.panel.layout)
    assert (after.tried, after.for_heat) == (plain.tried, ())


def test_best_windows_take_no_room_away_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """Were the best windows those of the plate that FAILs, the plate with room would stay."""
    job, kept, real = _job(), [], (plans.with_room_for_heat, plans.with_best_windows)

    def remembered(final: Arrangement, *args: Any, **more: Any) -> Roomier:
        kept.append(final)
        return real[0](final, *args, **more)

    monkeypatch.setattr(plans, "with_room_for_heat", remembered)
    monkeypatch.setattr(plans, "with_best_windows", lambda _final: real[1](kept[-1]))
    planned = _planned(job, explain=True)
    assert len(kept) == 1
    assert planned.explained is None
    assert _fails(planned.panel) == []


def test_best_windows_that_leave_the_room_are_taken() -> None:
    planned = _planned(_job(), explain=True)
    assert planned.for_heat
    assert planned.explained is not None
    assert _fails(planned.panel) == []


def test_no_plate_is_better_for_its_heat_that_fails_otherwise_or_asks_for_more_holes(
    without: Callable[..., Planned],
) -> None:
    job = _job()
    roomy, plain = _planned(job).panel, without(job).panel
    assert _is_better(roomy, plain, Layout())
    assert not _is_better(plain, plain, Layout())
    places = roomy.layout.devices
    one, other = sorted(places)[:2]
    heaped = replace(roomy.layout, devices={**places, one: places[other]})
    assert not _is_better(panel_of(job, heaped), plain, Layout())
    new = {f"H{n}": hole for n, hole in enumerate(roomy.layout.holes.values(), start=900)}
    new_holes = replace(roomy, layout=replace(roomy.layout, holes=new))
    assert _is_better(new_holes, plain, plain.layout)
    assert not _is_better(new_holes, plain, _drilled(plain.layout))


def _ask(room: float, usual: float = 10.0) -> _Ask:
    facing = Facing(
        tag="-A1", side="left", other="D1", other_is_duct=True, distance=usual, needed=room,
        needed_band=5.0, temperature=Banded(72.0, 8.0), limit=60.0, limit_is_stated=False,
        place=Box(0.0, 0.0, 80.0, 120.0),
    )  # fmt: skip
    return _Ask(facing=facing, usual=usual, room=room)


def test_where_all_that_was_asked_has_no_room_the_smaller_half_of_it_is_kept() -> None:
    old = _Asked(room={("-A1", "left"): _ask(30.0), ("-A2", "left"): _ask(20.0)})
    new = {("-A1", "left"): _ask(35.0), ("-A3", "top"): _ask(50.0), ("-A4", "top"): _ask(12.0)}
    more = _Asked(room={**old.room, **new, ("-A5", "left"): _ask(80.0)})
    less = _with_less(old, more)
    assert {key: ask.room for key, ask in less.room.items()} == {
        ("-A1", "left"): 35.0, ("-A2", "left"): 20.0, ("-A4", "top"): 12.0,
    }  # fmt: skip
    least = _with_less(old, less)
    assert {key: ask.room for key, ask in least.room.items()} == {
        ("-A1", "left"): 30.0, ("-A2", "left"): 20.0, ("-A4", "top"): 12.0,
    }  # fmt: skip
    assert _with_less(old, least) == least  # the last of it is tried again, by another chance


def test_of_much_room_the_hottest_ducts_are_told_and_the_rest_counted() -> None:
    panel = _planned(_cold(_job())).panel
    cool = replace(_ask(30.0).facing, temperature=Banded(69.0, 8.0))
    room = {(f"-A{n}", "left"): replace(_ask(30.0), facing=cool) for n in range(10)}
    told = list(_told(panel, panel, _Asked(room={**room, ("-B1", "left"): _ask(40.0)})))
    assert told[1] == (
        "  40 mm instead of 10 mm kept clear left of -B1: a duct there would have been at 72 °C, "
        "limit 60 °C"
    )
    assert len(told) == 10
    assert told[-1] == "  and 3 more of the kind"


def test_time_is_kept_for_it_only_where_heat_can_fail() -> None:
    assert share_of(_job(outside=None)) == 0.0
    none = {name: replace(part, heat=None) for name, part in _job().parts.items()}
    assert share_of(replace(_job(), parts=none)) == 0.0
    assert 0.05 < share_of(_job()) < 0.2
