"""Plan a plate: arrange, wire, size the ducts, go back if they grew, then place the holes.

The feedback between the stages is ``settle`` below; nothing else joins them.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

from platewright.app.gather import clear_spaces, panel_of, wiring_spaces
from platewright.app.plans.coolness import warmth_of
from platewright.app.plans.duct_sizes import of_one_height
from platewright.app.plans.former_names import with_former_names
from platewright.app.plans.heat_room import share_of, with_room_for_heat
from platewright.app.plans.least_moves import all_carried
from platewright.app.plans.near_holes import on_near_holes
from platewright.app.plans.new_clashes import refuse_new_clashes
from platewright.app.plans.no_room import problem_of, proofs_of
from platewright.app.plans.off_old_holes import off_old_holes
from platewright.app.plans.open_rows import started
from platewright.app.plans.short_rails import shortened
from platewright.app.plans.sizing import (
    hot_for,
    is_overfull,
    settle,
    shrunk,
    sized,
    sized_alike,
    wired,
)
from platewright.app.plans.stays import is_drilled, options
from platewright.app.plans.worth import cut_lengths
from platewright.arrange.arranger import (
    Arrangement,
    Explained,
    begun_anew,
    improve,
    in_list_order,
    probes,
    with_best_windows,
    without_empty_rows,
)
from platewright.arrange.solvers.search import HOT, WARM, coldest, is_plain
from platewright.arrange.task import Task, task_for
from platewright.arrange.warmth import Warmth
from platewright.fabricate.solvers.place_holes import place_holes
from platewright.foundation.errors import CannotPlan
from platewright.heat.panel_heat import heat_of
from platewright.model.geometry import Point
from platewright.model.job import Job
from platewright.model.layout import Layout
from platewright.model.panel import Panel, body_box

Progress = Callable[[float, str], bool]  # (share done, what is going on) -> go on?
Seen = Callable[[Layout, float], None]  # (a plate under way, its price in mm); any thread

DEFAULT_MOVES: Final = 400_000
_PROBE, _MAIN, _SIZES = 0.1, 0.82, 0.08  # shares of the budget: which rows, their order, ducts
_KEPT: Final = 8  # plates that the trial of row counts leaves, to begin the main search with
_EACH: Final = 3_600  # moves for every block that the main search has for one beginning, while hot
_FEWEST, _MOST = 4, 32  # beginnings; a plate that is left serves for several
_SIZING: Final = 120.0  # mm of wire: the temperature at which ducts get their sizes
_COOLER: Final = 5  # ways in which a cooler plate is looked for
_COOLER_SHARE: Final = 0.1  # of the budget for each, and as much for its ducts
_WITH_COOLER: Final = 1.0 + 2.0 * _COOLER_SHARE * _COOLER  # budgets in all where one is looked for
_AGAIN: Final = 2  # further tries, each with the whole budget, when no legal plate was found
_TRIAL: Final = 20_000  # moves that measure the machine's speed
_LONG: Final = 0.04  # share of the seconds that a second measurement takes
_SOME: Final = 2_000  # moves before that, so that the trial begins at a fair plate
_FEW: Final = 100  # moves of both while the search runs in plain Python
_AGAIN_FROM: Final = 0.2  # share of the seconds that is worth another search
_PATIENCE: Final = 0.2  # s between two looks whether the search is compiled
_FASTER: Final = 1.1  # times as fast as the trial the search is: what is cold is dropped sooner
_KEPT_BACK: Final = 0.92  # share of the seconds planned for, so that the end is met
_ROUTINGS: Final = 12  # times one routing of all wires: what sizing, holes and baseline take
_LATE: Final = 1.15  # share of the seconds after which the search is stopped, come what may


@dataclass(frozen=True, slots=True, kw_only=True)
class Budget:
    """How long to search: a number of moves, or seconds turned into moves at the start."""

    moves: int | None = None
    seconds: float | None = None
    polish: bool = False  # go on from the layout that is there
    explain: bool = False  # say what is proven of the plate


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """A plan beside the baseline, and how it came about."""

    panel: Panel
    baseline: Panel
    baseline_missing: float  # mm the baseline lacks to fit; 0 when it could be built
    rows: int
    seed: int
    moves: int  # the budget: the same number gives the same plate again
    tried: int  # moves tried in all
    cut_lengths_unsought: int  # different cut lengths with every rail as long as its room
    stopped: bool  # stopped before the budget was used
    explained: Explained | None = None
    for_heat: tuple[str, ...] = ()  # what was done so that less of the heat FAILs, in words


class NoPlate(CannotPlan):
    """The search found no legal plate: the best arrangement it found, not explained further."""

    def __init__(self, arrangement: Arrangement, *, stopped: bool = False) -> None:
        self.arrangement = arrangement
        self.stopped = stopped
        told = problem_of(arrangement)
        super().__init__(f"stopped: {told}" if stopped else told, ())


class _Watch:
    """Turns the search's own reports into one progress line, and remembers a stop."""

    def __init__(self, progress: Progress, deadline: float | None, seen: Seen | None) -> None:
        self.progress = progress
        self.show = seen
        self.deadline = deadline  # by the machine's clock; a busy machine ends the search early
        self.start, self.share = 0.0, 0.0
        self.span = (0.0, 1.0)  # what the phases entered from now on are of the whole
        self.phase = ""
        self.stopped = False
        self.asked = False  # stopped since the user asked, not by the clock

    def enter(self, phase: str, start: float, share: float) -> None:
        self.phase, self.start, self.share = phase, start, share

    @property
    def seen(self) -> Callable[[Arrangement], None] | None:
        return None if self.show is None else self._seen

    def _seen(self, found: Arrangement) -> None:
        if self.show is not None and found.is_legal:
            self.show(found.layout, found.found.cost)

    def report(self, done: float, wire: float) -> bool:
        if done >= 0.0 and not self.stopped:
            told = f"{self.phase}: wire {wire / 1000.0:.1f} m" if wire < math.inf else self.phase
            late = self.deadline is not None and time.perf_counter() > self.deadline
            first, part = self.span
            self.asked = not self.progress(first + part * (self.start + self.share * done), told)
            self.stopped = late or self.asked
        return not self.stopped


def _moves_for(budget: Budget, trial: Callable[[int], Arrangement], watch: _Watch) -> int:
    """Return the budget in moves; seconds are turned into moves by a short measured trial.

    ``trial`` returns an arrangement to measure on, searched for so many moves.
    """
    if budget.seconds is None:
        return budget.moves if budget.moves is not None else DEFAULT_MOVES
    entered = time.perf_counter()
    measured = trial(_FEW)
    few = is_plain()
    if not few:
        measured = trial(_SOME)
    moves = _FEW if few else _TRIAL
    speed = 0.0
    for _ in range(1 if few else 2):  # the second, longer trial goes on from a fair plate
        begin = time.perf_counter()
        measured = improve(measured, moves=moves, hot=HOT, seed=1, report=watch.report)
        ended = time.perf_counter()
        speed = max(1, measured.found.moves) / max(1e-6, ended - begin)
        moves = max(moves, int(speed * budget.seconds * _LONG))
    wired(measured)
    beside = _ROUTINGS * (time.perf_counter() - ended)
    left = budget.seconds - (ended - entered) - beside
    if measured.frame.w_cool > 0.0:
        left /= _WITH_COOLER
    left *= 1.0 - share_of(measured.task.job)
    return max(_FEW if few else _TRIAL, int(speed * _FASTER * left * _KEPT_BACK))


def _first(task: Task, *, moves: int, seed: int, watch: _Watch) -> Arrangement:
    """Return the most promising plate over row counts."""
    return _firsts(task, moves=moves, seed=seed, watch=watch)[0]


def _firsts(
    task: Task, *, moves: int, seed: int, watch: _Watch, keep: int = 1
) -> list[Arrangement]:
    """Return the most promising plates over row counts, with the narrowest ducts to begin with."""
    narrow = next(iter(of_one_height(task.job.settings.stock).values()))[0]
    return probes(task, narrow, moves=moves, seed=seed, report=watch.report, either=True, keep=keep)


def plan(
    job: Job, layout: Layout, *, seed: int, budget: Budget, progress: Progress,
    seen: Seen | None = None,
) -> Planned:  # fmt: skip
    """Plan the plate of a job; what stands (locked, drilled) stays.

    ``seen`` hears of better and better plates on the way: not yet wired, sized or drilled.

    Once holes are drilled, all that stands is left standing if the rest then fits and asks for no
    hole that moving could save; only else may undrilled devices move. Raises ``NoPlate`` where
    nothing fits, and ``CannotPlan`` where what stands forbids a plate.
    """
    late = None if budget.seconds is None else time.perf_counter() + _LATE * budget.seconds
    watch = _Watch(progress, late, seen)
    warmth = warmth_of(job) if job.settings.aims.cool > 0 else None
    room = share_of(job)
    main = (1.0 - room) / (1.0 if warmth is None else _WITH_COOLER)
    watch.span = (0.0, main)
    final, moves, tried = _best_option(job, layout, warmth, seed=seed, budget=budget, watch=watch)
    if not final.is_legal:
        raise NoPlate(final, stopped=watch.asked)
    if warmth is not None:
        watch.span = (main, 1.0 - room - main)
        final, spent = _coolest(final, moves=moves, seed=seed, watch=watch)
        tried += spent
    task, explained = final.task, None
    watch.span = (1.0 - room, room)
    roomier = with_room_for_heat(
        final, layout, built=lambda a: _built(job, layout, a), moves=moves, seed=seed, watch=watch
    )
    final, panel = roomier.arrangement, roomier.panel
    if budget.explain:
        watch.span = (0.0, 1.0)
        watch.enter("proving windows", 1.0, 0.0)
        better, proven = with_best_windows(final)
        other = _built(job, layout, better)
        if not is_overfull(better) and roomier.is_kept_by(other):
            final, panel, explained = better, other, proven  # else a duct is too full or too warm
    baseline = in_list_order(task, final.sizes)
    refuse_new_clashes(panel, layout)
    return Planned(
        panel=panel,
        baseline=_built(job, layout, baseline),
        baseline_missing=baseline.found.violation,
        rows=final.sizes.rows,
        seed=seed,
        moves=moves,
        tried=tried + roomier.tried,
        cut_lengths_unsought=cut_lengths(final.cut_at(0.0)),
        stopped=watch.stopped,
        explained=explained,
        for_heat=roomier.told,
    )


def _best_option(
    job: Job, layout: Layout, warmth: Warmth | None, *, seed: int, budget: Budget, watch: _Watch
) -> tuple[Arrangement, int, int]:
    """Return the plate with the fewest new holes, and of those what moves least; moves as usual.

    Not legal where nothing fits, whatever moves.
    """
    choices = tuple(options(job, layout))
    best: Arrangement | None = None
    fewest = math.inf
    moves = tried = 0
    for number, standing in enumerate(choices, start=1):
        task = task_for(
            job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=standing,
            warmth=warmth,
        )  # fmt: skip
        if number < len(choices) and proofs_of(task):
            continue  # what stands leaves no room: let more of it move
        if best is None:
            _refuse_early(task, seed=seed, watch=watch)
        start = started(task, layout) if budget.polish else None
        found, moves, spent = _searched(task, start, seed=seed, budget=budget, watch=watch)
        tried += spent
        fresh, savable = _new_holes(job, layout, found) if found.is_legal else (math.inf, math.inf)
        if best is None or not best.is_legal or fresh < fewest:
            best, fewest = found, fresh
        if savable == 0 or watch.stopped:
            break
    if best is None:  # the last option is always tried
        raise AssertionError
    if not best.is_legal and not budget.polish and not watch.asked:
        # a plate that stands is not lost because the search found none afresh
        start = started(best.task, layout)
        if start is not None:
            found, _, spent = _polished(best.task, start, seed=seed, budget=budget, watch=watch)
            tried += spent
            best = found if found.is_legal else best
    return best, moves, tried


def _new_holes(job: Job, before: Layout, arrangement: Arrangement) -> tuple[float, float]:
    """Return how many new holes a drilled plate gets, and how many of them for rails and ducts.

    Those of devices themselves are not savable: wherever one stands, it asks for them, but on holes
    that lie idle. A bare plate has none to save.
    """
    if not is_drilled(before):
        return 0, 0
    if not all_carried(job, arrangement.layout):
        return math.inf, math.inf  # a device lies across the end of a rail that stays
    stand = shortened(job, before, arrangement.layout)
    after = place_holes(job, replace(stand, holes=before.holes))
    fresh = [hole for tag, hole in after.holes.items() if tag not in before.holes]
    return len(fresh), sum(hole.holds not in job.devices for hole in fresh)


def _searched(
    task: Task, start: Arrangement | None, *, seed: int, budget: Budget, watch: _Watch
) -> tuple[Arrangement, int, int]:
    """Search; once more with the seconds that are left when the compiled search came late.

    A machine that has not compiled the search yet answers by its plain form in the time asked
    for; only where that finds no legal plate, the compiled one is waited for.
    """
    search = _arranged if start is None else _polished
    was_plain = is_plain()
    found = search(task, start, seed=seed, budget=budget, watch=watch)
    seconds = budget.seconds
    if seconds is None or not was_plain or watch.asked or watch.deadline is None:
        return found
    if not found[0].is_legal:
        watch.enter("compiling the search, once for this machine", 0.0, 0.0)
        watch.deadline, watch.stopped = None, False
        while is_plain() and watch.report(0.0, found[0].found.wire):
            time.sleep(_PATIENCE)
            improve(found[0], moves=1, hot=HOT, seed=1, report=watch.report)
        watch.deadline = time.perf_counter() + _LATE * seconds
    left = watch.deadline - time.perf_counter() - (_LATE - 1.0) * seconds
    if is_plain() or watch.stopped or left < _AGAIN_FROM * seconds:
        return found
    again = search(task, start, seed=seed, budget=replace(budget, seconds=left), watch=watch)
    return min((again, found), key=lambda f: (f[0].found.violation, f[0].found.cost))


def _coolest(
    final: Arrangement, *, moves: int, seed: int, watch: _Watch
) -> tuple[Arrangement, int]:
    """Search on from a plate, and anew in its rows, and judge by the heat model.

    The search itself knows that only roughly. A kelvin costs what the aims say; a few moves for
    each way.
    """
    best, least, spent = final, _cost_by_model(final), 0
    for way in range(_COOLER):
        if watch.stopped:
            break
        watch.enter("looking for cooler plates", way / _COOLER, 0.5 / _COOLER)
        share, number = int(moves * _COOLER_SHARE), seed + 401 + 2 * way
        # a search from the plate itself would come back with it, unless the estimate too is less
        begin, hot = (begun_anew(final, way), HOT) if way > 0 else (final, WARM)
        other = improve(begin, moves=share, hot=hot, seed=number, report=watch.report,
                        seen=watch.seen)  # fmt: skip
        spent += other.found.moves
        watch.enter("looking for cooler plates", (way + 0.5) / _COOLER, 0.5 / _COOLER)
        other, more = settle(
            other, moves=share, seed=number + 1, report=watch.report, seen=watch.seen
        )
        spent += more
        other = shrunk(without_empty_rows(other))
        if not other.is_legal or is_overfull(other):
            continue
        cost = _cost_by_model(other)
        if cost < least:
            best, least = other, cost
    return best, spent


def _cost_by_model(arrangement: Arrangement) -> float:
    """Return the cost of an arrangement, its warmest housing told by the heat model."""
    panel = panel_of(arrangement.task.job, arrangement.layout)
    hottest = max((d.surface.value for d in heat_of(panel).devices.values()), default=0.0)
    return arrangement.without_warmth + float(arrangement.frame.w_cool) * hottest


def _refuse_early(task: Task, *, seed: int, watch: _Watch) -> None:
    """Raise ``CannotPlan`` at once where arithmetic shows that nothing can fit."""
    job, plate = task.job, task.job.settings.plate.box
    for tag, at in task.standing.devices.items():
        box = body_box(job.part_of(tag), at)
        if not (
            plate.contains(Point(box.left, box.bottom))
            and plate.contains(Point(box.right, box.top))
        ):
            raise CannotPlan(
                f"{tag} stands off the plate in layout.toml ({at.x:g}, {at.y:g}) and must stay there",
                [f"correct its place, or take locked = true away from {tag}"],
            )
    if proofs_of(task):
        raise NoPlate(_first(task, moves=400, seed=seed, watch=watch))


def _polished(
    _task: Task, start: Arrangement | None, *, seed: int, budget: Budget, watch: _Watch
) -> tuple[Arrangement, int, int]:
    """Search on from an arrangement; the same three results as ``_arranged``."""
    if start is None:
        raise AssertionError
    moves = _moves_for(budget, lambda _moves: start, watch)
    watch.enter("polishing", 0.0, 0.8)
    hot = WARM if start.is_legal else HOT
    main = improve(
        start, moves=int(moves * 0.8), hot=hot, seed=seed, report=watch.report, seen=watch.seen
    )
    watch.enter("sizing ducts", 0.8, 0.2)
    final, spent = settle(
        main, moves=int(moves * 0.2), seed=seed + 211, report=watch.report, seen=watch.seen
    )
    return shrunk(final), moves, main.found.moves + spent


def _hot_share(task: Task) -> float:
    """Return the share of the main search before ducts get their sizes."""
    return math.log(HOT / _SIZING) / math.log(HOT / coldest(task.arrays))


def _beginnings(task: Task, moves: int) -> int:
    """Return how many beginnings so many hot moves are best spent on: the more, the more moves."""
    return min(_MOST, max(_FEWEST, moves // (_EACH * max(1, task.arrays.free))))


def _cooled(
    firsts: list[Arrangement], *, beginnings: int, moves: int, seed: int, watch: _Watch
) -> tuple[Arrangement, int]:
    """Search on from several plates down to the best of one; (that, the moves tried).

    Ducts get their sizes on the way: late enough that their wires lie about as they will, and
    early enough that the rows make room for a wider one.
    """
    hot_share = _hot_share(firsts[0].task)
    watch.enter("shortening wires", _PROBE, _MAIN * hot_share)
    alike = sized_alike(firsts)
    main = improve(
        *(alike[k % len(alike)] for k in range(beginnings)), moves=int(moves * hot_share),
        hot=HOT, cold=_SIZING, seed=seed, report=watch.report, seen=watch.seen,
    )  # fmt: skip
    tried = main.found.moves
    main = sized(main)
    watch.enter("shortening wires", _PROBE + _MAIN * hot_share, _MAIN * (1.0 - hot_share))
    main = improve(
        main, moves=moves - int(moves * hot_share), hot=hot_for(main, _SIZING), seed=seed + 1,
        report=watch.report, seen=watch.seen,
    )  # fmt: skip
    return main, tried + main.found.moves


def _arranged(
    task: Task, _start: Arrangement | None, *, seed: int, budget: Budget, watch: _Watch
) -> tuple[Arrangement, int, int]:
    """Return the best arrangement found, the budget in moves, and the moves tried."""
    watch.enter("trying row counts and a middle duct", 0.0, 0.0)
    moves = _moves_for(budget, lambda n: _first(task, moves=n, seed=seed, watch=watch), watch)
    watch.enter("trying row counts and a middle duct", 0.0, _PROBE)
    beginnings = _beginnings(task, int(moves * _MAIN * _hot_share(task)))
    keep = min(beginnings, _KEPT)
    firsts = _firsts(task, moves=int(moves * _PROBE), seed=seed, watch=watch, keep=keep)
    tried = firsts[0].found.moves
    for again in range(1, _AGAIN + 1):
        if any(first.is_legal for first in firsts) or watch.stopped:
            break
        watch.enter("making it fit", 0.0, _PROBE)
        firsts = _firsts(task, moves=moves, seed=seed + again, watch=watch, keep=keep)
        tried += firsts[0].found.moves
    main, spent = _cooled(
        firsts, beginnings=beginnings, moves=int(moves * _MAIN), seed=seed + 101, watch=watch
    )
    tried += spent
    main = without_empty_rows(main)
    watch.enter("sizing ducts", _PROBE + _MAIN, _SIZES)
    final, spent = settle(
        main, moves=int(moves * _SIZES), seed=seed + 211, report=watch.report, seen=watch.seen
    )
    tried += spent
    for again in range(1, _AGAIN + 1):  # sized ducts may have pushed out what fitted before
        if final.is_legal or watch.stopped:
            break
        watch.enter("making it fit", _PROBE + _MAIN, _SIZES)
        final = improve(
            final, moves=moves, hot=HOT, seed=seed + 307 * again, report=watch.report,
            seen=watch.seen,
        )  # fmt: skip
        tried += final.found.moves
        final, spent = settle(
            final, moves=moves, seed=seed + 307 * again + 1, report=watch.report, seen=watch.seen
        )
        tried += spent
    return shrunk(without_empty_rows(final)), moves, tried


def _built(job: Job, before: Layout, arrangement: Arrangement) -> Panel:
    """Return the panel of an arrangement with its holes placed; drilled holes stay."""
    stand = arrangement.layout
    if is_drilled(before):
        stand = shortened(job, before, stand)
    devices = {tag: replace(at, part=job.devices[tag].part) for tag, at in stand.devices.items()}
    stand = with_former_names(before, stand)
    layout = replace(stand, devices=devices, holes=before.holes)
    layout = on_near_holes(job, place_holes(job, layout), before.holes)
    return panel_of(job, off_old_holes(job, layout, before.holes))
