"""Make room where a planned plate FAILs a check of heat that another plate would not.

The search keeps what data sheets ask for and knows no duct's temperature. So the plate that it
ends with is judged by the checks' own heat model, and where that FAILs a few moves more are spent
on a plate with as much room as the check lacks there, or with the device lower, in cooler air.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Final, Protocol

from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.app.plans.sizing import Seen, hot_for, is_overfull, settle, shrunk
from platewright.app.plans.stays import is_drilled
from platewright.arrange.arranger import Arrangement, improve, resized, without_empty_rows
from platewright.arrange.solvers.search import WARM
from platewright.arrange.task import Task, task_for
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm, Ratio
from platewright.heat.gap_need import Body, gap_not_over
from platewright.heat.panel_heat import heat_of
from platewright.model.finding import Finding, Verdict
from platewright.model.heat import DeviceHeat, Facing
from platewright.model.job import DisplayUnit, Job
from platewright.model.layout import Layout
from platewright.model.lengths import way_words, whole_length, with_unit
from platewright.model.panel import Panel
from platewright.rules.registry import run_rules

_DUCT: Final = "heat.duct-temperature"
_AIR: Final = "heat.device-air"
_ROUNDS: Final = 4  # what moves away from one duct may come to stand beside another
_SHARE: Final = 0.025  # of the budget for each round, and as much at most for its ducts
_SPARE: Final = 1.05  # times the gap: on the next plate the air at the device is another
_LOWER: Final = 50.0  # mm of wire that a mm of height is worth, each round, in air that is too warm
_SAID: Final = {"left": "left of", "right": "right of", "top": "above", "bottom": "below"}
_MOST_TOLD: Final = 8  # lines of what was done
_DOING: Final = "making room for heat"
_IN_VAIN: Final = ("No plate was found on which fewer checks of heat FAIL.",)


class Watch(Protocol):
    """What hears how far the search is, and tells when to stop."""

    stopped: bool

    def enter(self, phase: str, start: float, share: float) -> None:
        """Begin a phase: where in the whole it starts, and what share of it it is."""

    def report(self, done: float, wire: float) -> bool:
        """Tell how far the phase is; answers whether to go on."""

    @property
    def seen(self) -> Seen | None:
        """What hears of better and better plates."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Roomier:
    """The plate with the fewest FAILs of heat that was found, and how it came about."""

    arrangement: Arrangement
    panel: Panel
    tried: int = 0  # moves
    told: tuple[str, ...] = ()  # what was done, in words

    def is_kept_by(self, panel: Panel) -> bool:
        """Tell whether another plate FAILs no more of the heat than this one."""
        return len(_failing(panel)) <= len(_failing(self.panel))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ask:
    """Room that a check lacks beside a warm device."""

    facing: Facing  # as it was when the room was first found lacking
    usual: Mm  # kept clear without it
    room: Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lower:
    """A device in air that is too warm for it."""

    was: DeviceHeat  # when that was first found
    rounds: int


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """All that was asked of the search beyond what data sheets say."""

    room: Mapping[tuple[str, str], _Ask] = field(default_factory=dict)  # by device and side
    lower: Mapping[str, _Lower] = field(default_factory=dict)  # by device


def share_of(job: Job) -> Ratio:
    """Return the share of the whole work that making room may take; ducts are seldom sized anew.

    Where no outside air is stated, temperatures rest on what is assumed, and nothing can FAIL.
    """
    if job.settings.air.outside is None or not any(job.part_of(d.tag).heat for d in job.on_plate):
        return 0.0
    return _ROUNDS * _SHARE / (1 + _ROUNDS * _SHARE)


def with_room_for_heat(
    final: Arrangement, before: Layout, *, built: Callable[[Arrangement], Panel], moves: int,
    seed: int, watch: Watch,
) -> Roomier:  # fmt: skip
    """Return the plate with the fewest FAILs of heat, none new of any other kind.

    ``built`` makes a panel of an arrangement; ``before``: the plate that was there. Where that is
    drilled, no plate that asks for more new holes counts as better.
    """
    first = Roomier(arrangement=final, panel=built(final))
    if not _failing(first.panel) or watch.stopped:
        return first
    now, best, spent = first, first, 0
    asked, tight = _Asked(), None
    for number in range(_ROUNDS):
        more = _asked_by(now, asked) if tight is None else _with_less(asked, tight)
        if more == asked:
            break
        other, tried = _searched(
            now.arrangement, more, moves=int(moves * _SHARE), seed=seed + 601 + 2 * number,
            watch=watch, at=number / _ROUNDS,
        )  # fmt: skip
        spent += tried
        if watch.stopped:
            break
        if not other.is_legal or is_overfull(other):
            tight = more
            continue
        asked, tight = more, None
        now = Roomier(arrangement=other, panel=built(other))
        if _is_better(now.panel, best.panel, before):
            best = replace(now, told=tuple(_told(first.panel, now.panel, asked)))
        if not _failing(now.panel):
            break
    return replace(
        best, tried=spent, told=best.told or (_IN_VAIN if spent and not watch.stopped else ())
    )


def _searched(
    begin: Arrangement, asked: _Asked, *, moves: int, seed: int, watch: Watch, at: Ratio
) -> tuple[Arrangement, int]:
    """Search on from a plate with what was asked; (the plate, the moves tried)."""
    begin = resized(replace(begin, task=_task(begin.task, asked)), begin.sizes)
    half = 0.5 / _ROUNDS
    watch.enter(_DOING, at, half)
    found = improve(
        begin, moves=moves, hot=hot_for(begin, WARM), seed=seed, report=watch.report,
        seen=watch.seen,
    )  # fmt: skip
    watch.enter(_DOING, at + half, half)
    final, spent = settle(found, moves=moves, seed=seed + 1, report=watch.report, seen=watch.seen)
    return shrunk(without_empty_rows(final)), found.found.moves + spent


def _task(task: Task, asked: _Asked) -> Task:
    """Return the task with the room that was asked for, and what shall be lower drawn down."""
    clear = clear_spaces(task.job)
    for (tag, side), ask in asked.room.items():
        need = replace(getattr(clear[tag], side), room=ask.room)
        clear[tag] = replace(clear[tag], **{side: need})
    roomy = task_for(
        task.job, clear=clear, wiring=wiring_spaces(task.job), standing=task.standing,
        warmth=task.warmth,
    )  # fmt: skip
    pull = roomy.arrays.pull.copy()
    for number, block in enumerate(roomy.blocks):
        pull[number] += _LOWER * max(
            asked.lower[m.tag].rounds if m.tag in asked.lower else 0 for m in block.members
        )
    return replace(roomy, arrays=roomy.arrays._replace(pull=pull))


def _asked_by(here: Roomier, asked: _Asked) -> _Asked:
    """Return what was asked, and what a plate lacks beyond it where that may still move."""
    panel, stays = here.panel, here.arrangement.task.standing
    heat, clear, room = heat_of(panel), clear_spaces(panel.job), dict(asked.room)
    for one in heat.facings:
        if not one.other_is_duct or one.temperature.low <= one.limit:
            continue
        if one.tag in stays.devices and one.other in stays.ducts:
            continue
        warm, part = heat.devices[one.tag], panel.job.part_of(one.tag)
        gap = gap_not_over(Body.of(part, warm.loss), one.side, air=warm.air, limit=one.limit)
        if gap is None:
            continue  # too warm at any distance
        needed = float(math.ceil(_SPARE * gap - (getattr(part, f"cover_{one.side}") or 0.0)))
        usual = getattr(clear[one.tag], one.side).room
        known = room.get((one.tag, one.side), _Ask(facing=one, usual=usual, room=usual))
        if needed > known.room:
            room[one.tag, one.side] = replace(known, room=needed)
    lower = dict(asked.lower)
    for found in _failing(panel):
        if found.rule.id == _AIR and found.subject not in stays.devices:
            known_air = lower.get(found.subject, _Lower(was=heat.devices[found.subject], rounds=0))
            lower[found.subject] = replace(known_air, rounds=known_air.rounds + 1)
    return _Asked(room=room, lower=lower)


def _with_less(asked: _Asked, more: _Asked) -> _Asked:
    """Return what was asked, and of what found no room beyond that the smaller half."""
    fresh = [(key, ask) for key, ask in more.room.items() if ask != asked.room.get(key)]

    def growth(one: tuple[tuple[str, str], _Ask]) -> tuple[Mm, tuple[str, str]]:
        key, ask = one
        return ask.room - asked.room.get(key, replace(ask, room=ask.usual)).room, key

    kept = sorted(fresh, key=growth)[: max(1, len(fresh) // 2)]
    return replace(more, room={**asked.room, **dict(kept)})


def _failing(panel: Panel) -> tuple[Finding, ...]:
    """Return the FAILs of heat that another plate may not have."""
    return _found(panel, Verdict.FAIL)


def _found(panel: Panel, verdict: Verdict) -> tuple[Finding, ...]:
    return tuple(f for f in run_rules(panel, (_DUCT, _AIR)) if f.verdict is verdict)


def _is_better(panel: Panel, than: Panel, before: Layout) -> bool:
    """Tell whether a plate FAILs less of the heat, and is in nothing else worse to build."""
    if len(_failing(panel)) >= len(_failing(than)):
        return False
    if is_drilled(before) and _fresh(panel, before) > _fresh(than, before):
        return False
    return _others(panel) <= _others(than)


def _others(panel: Panel) -> set[tuple[str, str]]:
    found = run_rules(panel)
    return {
        (f.rule.id, f.subject)
        for f in found
        if f.verdict is Verdict.FAIL and f.rule.id not in (_DUCT, _AIR)
    }


def _fresh(panel: Panel, before: Layout) -> int:
    return sum(tag not in before.holes for tag in panel.layout.holes)


def _told(first: Panel, now: Panel, asked: _Asked) -> Iterator[str]:
    """Yield what was done for the heat, beginning with what came of it and what it cost."""
    unit = now.job.settings.units
    was, left = len(_failing(first)), len(_failing(now))
    more = now.routes.total_cut - first.routes.total_cut
    wire = f"{way_words(abs(more), unit)} {'more' if more > 0 else 'less'} wire"
    found = "1 finding of heat" if was == 1 else f"{was} findings of heat"
    rest = f"{left} still {'does' if left == 1 else 'do'}" if left else "now none does"
    unsure = len(_found(now, Verdict.UNDECIDED))
    # room is made only until nothing is over its limit for sure: the estimate has a band
    if unsure:
        rest += f"; {unsure} UNDECIDED, for which the findings ask for more room"
    yield f"{found} would have FAILed; room was made, with {wire}: {rest}"
    lines = [*_rooms(asked, unit), *_lowered(first, now, asked)]
    yield from lines[:_MOST_TOLD]
    if len(lines) > _MOST_TOLD:
        yield f"  and {len(lines) - _MOST_TOLD} more of the kind"


def _rooms(asked: _Asked, unit: DisplayUnit) -> Iterator[str]:
    """Yield the room that was made, where a duct would have been hottest first."""
    for (tag, side), ask in sorted(asked.room.items(), key=_by_heat):
        felt = f"{ask.facing.temperature.value:.0f} °C, limit {ask.facing.limit:g} °C"
        yield (
            f"  {with_unit(ask.room, unit)} instead of {with_unit(ask.usual, unit)} kept clear "
            f"{_SAID[side]} {tag}: a duct there would have been at {felt}"
        )


def _by_heat(one: tuple[tuple[str, str], _Ask]) -> tuple[float, str, str]:
    (tag, side), ask = one
    return ask.facing.limit - ask.facing.temperature.value, tag, side


def _lowered(first: Panel, now: Panel, asked: _Asked) -> Iterator[str]:
    """Yield the devices that stand lower now, in cooler air."""
    for tag in sorted(asked.lower, key=tag_order):
        was = asked.lower[tag].was
        down = first.layout.devices[tag].y - now.layout.devices[tag].y
        if down > 0:
            yield (
                f"  {tag} put {whole_length(down, now.job.settings.units)} lower: the air at its "
                f"foot would have been at {was.air.value:.0f} °C, limit {was.limit:g} °C"
            )
