"""Plan a job by several weighings of its aims, and tell the plates against each other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

from platewright.app.check import read_folder
from platewright.app.plans.plan import Budget, Planned, Progress, plan
from platewright.app.plans.weighing import aims_by
from platewright.app.plans.worth import (
    MEASURES,
    Worth,
    known_measures,
    text_of,
    value_of,
    words_of,
    worth_of,
    worth_record,
)
from platewright.app.report import counts, fail_words, totals
from platewright.drawing.pdf import write_pdf
from platewright.drawing.svg import write_svg
from platewright.foundation.errors import CannotPlan, InputError, InputErrors, nearest
from platewright.jobfile.atomic import save
from platewright.jobfile.layout_file import write_layout
from platewright.model.finding import Verdict
from platewright.model.job import Aims, Job
from platewright.model.layout import Layout
from platewright.rules.registry import run_rules
from platewright.sheets.comparison import Shown, ShownLine, comparison_pages
from platewright.tables.presets import preset, presets

OWN: Final = "job"  # the weights that job.toml states
OWN_TITLE: Final = "the weights of job.toml"
COOLEST: Final = "coolest"  # this preset's plates and all others: the coolest by the heat model
COOLEST_TITLE: Final = "the coolest of {count} plates tried, by the heat model"
MORE_SEEDS: Final = 2  # plates tried by the preset of that name, a seed each
DEFAULT_MOVES: Final = 60_000  # for each plate


@dataclass(frozen=True, slots=True, kw_only=True)
class Alternative:
    """One plate of the comparison."""

    name: str
    title: str
    planned: Planned
    worth: Worth
    fails: int
    failing: tuple[str, ...] = ()  # the rules of those findings, each once
    no_better_than: str = ""  # another plate that is as good in every line, and better in one
    same_as: str = ""  # an earlier plate that came out the same


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """All plates that were found, and those weighings for which none was."""

    alternatives: tuple[Alternative, ...]
    failed: Mapping[str, str]  # name -> why
    stopped: bool
    files: tuple[Path, ...] = ()
    notes: tuple[str, ...] = ()
    taken: str = ""


def weighings(job: Job) -> Mapping[str, tuple[str, Aims]]:
    """Return the weighings to compare by name: the presets, and the job's own where it differs.

    What a wish and a whole voltage zone are worth stays as the job says.
    """
    aims = job.settings.aims
    found = {p.name: (p.title, aims_by(p, aims)) for p in presets() if p.name != COOLEST}
    if aims not in [one for _, one in found.values()]:
        found = {OWN: (OWN_TITLE, aims), **found}
    return found


def names_of(job: Job) -> tuple[str, ...]:
    """Return the names of the plates that are compared."""
    return (*weighings(job), COOLEST)


class _Run:
    """Plans plate after plate with one budget, and remembers what came of it."""

    def __init__(self, job: Job, layout: Layout, budget: Budget, progress: Progress) -> None:
        self.job, self.layout, self.progress = job, layout, progress
        self.count = len(weighings(job)) + MORE_SEEDS
        self.budget = budget
        if budget.seconds is not None:
            self.budget = Budget(seconds=budget.seconds / self.count)
        self.done = 0
        self.is_stopped = False

    def plate(self, name: str, aims: Aims, seed: int) -> Planned | str:
        """Return one plate, or why there is none."""
        if self.is_stopped:
            return "not tried: the search was stopped"
        weighed = replace(self.job, settings=replace(self.job.settings, aims=aims))

        def told(share: float, text: str) -> bool:
            goes_on = self.progress((self.done + share) / self.count, f"{name}: {text}")
            self.is_stopped = self.is_stopped or not goes_on
            return goes_on

        try:
            planned = plan(weighed, self.layout, seed=seed, budget=self.budget, progress=told)
        except CannotPlan as cannot:
            return "the search was stopped" if self.is_stopped else cannot.problem
        finally:
            self.done += 1
        self.is_stopped = self.is_stopped or planned.stopped
        self.budget = Budget(moves=planned.moves)
        return planned


def compare(
    job: Job, layout: Layout, *, seed: int, budget: Budget, progress: Progress
) -> Comparison:
    """Plan a job by every weighing, with the same seed and the same number of moves."""
    run = _Run(job, layout, budget, progress)
    found: list[Alternative] = []
    failed: dict[str, str] = {}
    for name, (title, aims) in weighings(job).items():
        planned = run.plate(name, aims, seed)
        if isinstance(planned, str):
            failed[name] = planned
        else:
            found.append(_alternative(name, title, planned))
    coolest = _coolest(run, found, seed)
    if coolest is not None:
        found.append(coolest)
    else:
        failed[COOLEST] = "no plate was found, or no device states its heat"
    return Comparison(alternatives=ranked(found), failed=failed, stopped=run.is_stopped)


def _coolest(run: _Run, found: Sequence[Alternative], seed: int) -> Alternative | None:
    """Return the coolest plate of those found and of some more that are planned to be cool."""
    pool = list(found)
    cool = preset(COOLEST)
    if cool is None:  # the table has it
        raise AssertionError
    aims = aims_by(cool, run.job.settings.aims)
    for more in range(MORE_SEEDS):
        planned = run.plate(COOLEST, aims, seed + more)
        if not isinstance(planned, str):
            pool.append(_alternative(COOLEST, "", planned))
    known = [one for one in pool if one.worth.hottest is not None]
    if not known:
        return None
    best = min(known, key=lambda one: (one.fails, *_warmth(one.worth)))
    return replace(best, name=COOLEST, title=COOLEST_TITLE.format(count=len(pool)))


def _warmth(worth: Worth) -> tuple[float, float]:
    """Return what is the cooler the lower: over a device's limit first, then the housings."""
    over = worth.over_limit if worth.over_limit is not None else 0.0
    return over, worth.hottest if worth.hottest is not None else 0.0


def _alternative(name: str, title: str, planned: Planned) -> Alternative:
    findings = run_rules(planned.panel)
    return Alternative(
        name=name,
        title=title,
        planned=planned,
        worth=worth_of(planned.panel),
        fails=counts(findings)[Verdict.FAIL],
        failing=tuple(dict.fromkeys(f.rule.id for f in findings if f.verdict is Verdict.FAIL)),
    )


def ranked(found: Sequence[Alternative]) -> tuple[Alternative, ...]:
    """Return the plates, each told the first that is no worse in every line and better in one."""
    told: list[Alternative] = []
    for one in found:
        same = next((o.name for o in told if _layout(o) == _layout(one)), "")
        better = next((o.name for o in found if _is_better(o, one)), "")
        told.append(replace(one, same_as=same, no_better_than=better))
    return tuple(told)


def _layout(one: Alternative) -> Layout:
    return one.planned.panel.layout


def figures(one: Alternative) -> tuple[float, ...]:
    """Return what is compared: as printed, so that what looks equal counts as equal."""
    known = [m for m in MEASURES if m.is_aim and value_of(one.worth, m) is not None]
    lines = [text_of(one.worth, m) for m in known]
    return (float(one.fails), *map(float, lines))


def _is_better(one: Alternative, other: Alternative) -> bool:
    a, b = figures(one), figures(other)
    return all(x <= y for x, y in zip(a, b, strict=True)) and a != b


def compare_folder(
    folder: Path, *, seed: int, budget: Budget, take: str, progress: Progress
) -> Comparison:
    """Compare plates of a job folder and draw them into ``out/compare.*``.

    ``layout.toml`` is written only for the weighing named by ``take``.
    """
    read = read_folder(folder)
    _known(take, names_of(read.job))
    found = compare(read.job, read.layout, seed=seed, budget=budget, progress=progress)
    if not found.alternatives:
        raise CannotPlan("no plate was found by any weighing: " + "; ".join(found.failed.values()),
            ["platewright plan, without --compare, tells what would cure it"],
        )  # fmt: skip
    chosen = next((one for one in found.alternatives if one.name == take), None)
    if take and chosen is None:
        raise CannotPlan(f"{take}: {found.failed[take]}", ["take another of the plates"])
    files = _drawn(read.job, found, folder / "out")
    if chosen is not None:
        write_layout(folder, _layout(chosen))
    return replace(found, files=files, notes=read.notes, taken=take)


def _known(take: str, names: Sequence[str]) -> None:
    if take and take not in names:
        fault = InputError(
            file="command line", field="--take", value=take,
            problem="is not one of the plates compared", cure=nearest(take, names),
        )  # fmt: skip
        raise InputErrors([fault])


def _drawn(job: Job, found: Comparison, out: Path) -> tuple[Path, ...]:
    pages = comparison_pages([_shown(one, found) for one in found.alternatives if not one.same_as])
    title = job.settings.job
    out.mkdir(parents=True, exist_ok=True)
    made = {"compare.pdf": write_pdf(pages, title=f"{title.title}: plates compared")}
    for number, page in enumerate(pages, start=1):
        made["compare.svg" if number == 1 else f"compare-{number}.svg"] = write_svg(page)
    for name, content in made.items():
        save(out / name, content)
    for old in out.glob("compare-[0-9]*.svg"):  # a page that an earlier comparison had
        if old.name not in made:
            old.unlink()
    return tuple(out / name for name in made)


def _shown(one: Alternative, found: Comparison) -> Shown:
    panel = one.planned.panel
    unit = panel.job.settings.units
    names = [one.name, *(o.name for o in found.alternatives if o.same_as == one.name)]
    titles = [o.title for o in found.alternatives if o.name in names]
    worths = [o.worth for o in found.alternatives]
    lines = []
    for measure in known_measures(worths):
        texts = [text_of(w, measure) for w in worths]
        least = min((float(t) for t in texts if t != "–"), default=0.0)
        mine = text_of(one.worth, measure)
        lines.append(
            ShownLine(
                words=words_of(measure, unit),
                value=text_of(one.worth, measure, unit),
                is_best=measure.is_aim
                and mine != "–"
                and float(mine) <= least
                and len(set(texts)) > 1,
            )
        )
    return Shown(
        panel=panel,
        name=" = ".join(names),
        title="; ".join(titles),
        lines=tuple(lines),
        remarks=tuple(remarks_of(one)),
        fails=one.fails,
    )


def remarks_of(one: Alternative) -> Iterator[str]:
    """Yield what is to be said of a plate beside its figures."""
    if one.fails:
        said = fail_words(one.fails)
        yield f"{said} ({', '.join(one.failing)}): not a plate to build"
    if one.same_as:
        yield f"the same plate as {one.same_as}"
    elif one.no_better_than:
        yield f"in no line better than {one.no_better_than}"


def comparison_record(found: Comparison) -> dict[str, Any]:
    """Return the comparison as plain values."""
    return {
        "alternatives": [
            {
                "name": one.name,
                "title": one.title,
                "worth": worth_record(one.worth),
                "fails": one.fails,
                "failing": list(one.failing),
                "no_better_than": one.no_better_than,
                "same_as": one.same_as,
                "totals": totals(one.planned.panel),
                "seed": one.planned.seed,
                "iterations": one.planned.moves,
            }
            for one in found.alternatives
        ],
        "failed": dict(found.failed),
        "stopped": found.stopped,
        "taken": found.taken,
        "files": [str(path) for path in found.files],
    }
