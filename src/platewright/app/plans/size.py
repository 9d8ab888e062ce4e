"""Choose the enclosure: plan a job in each of the shop's list, smallest first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from pathlib import Path
from typing import Any, Final

from platewright.app.check import read_folder
from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.app.plans.no_room import proofs_of
from platewright.app.plans.no_room import told as proofs_told
from platewright.app.plans.plan import Budget, Planned, Progress, plan
from platewright.app.plans.worth import Worth, worth_of
from platewright.arrange.task import Standing, task_for
from platewright.foundation.errors import CannotPlan, InputError, InputErrors
from platewright.foundation.units import DegC, Mm
from platewright.heat.conditions import conditions_of
from platewright.heat.level import level_of
from platewright.heat.losses import losses_of
from platewright.jobfile.enclosures import read_enclosures
from platewright.model.enclosure_stock import EnclosureStock
from platewright.model.finding import Verdict
from platewright.model.heat import Level
from platewright.model.job import FixingHole, Job, Plate
from platewright.model.layout import Layout
from platewright.model.panel import Panel
from platewright.model.routes import Routes
from platewright.rules.heat.inside_air import SOURCE as WANTED
from platewright.rules.judge import Limit, at_most_banded
from platewright.rules.registry import run_rules

DEFAULT_MOVES: Final = 20_000  # for each enclosure
_OF_THE_LISTS: Final = "data."  # checks of the lists alone: no other enclosure cures these


class Outcome(StrEnum):
    """What came of one enclosure."""

    FITS = "fits"
    PROVED = "can't fit"  # a proof: no search would find a plate
    DOOR = "door too small"  # for what hangs in it, as it hangs now: it may hang otherwise
    TOO_WARM = "too warm"
    MAYBE_WARM = "undecided, may be too warm"  # the estimate's band reaches over what is wanted
    NOT_FOUND = "not found"  # where the search ended; more moves may find one
    FAILS = "fails"  # planned, but checks other than of heat fail
    NOT_TRIED = "not tried"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizing:
    """One enclosure: what came of it and why."""

    enclosure: EnclosureStock
    outcome: Outcome
    why: str
    inside: DegC | None = None  # mean air inside; None: no device states its heat
    worth: Worth | None = None
    remarks: tuple[str, ...] = ()

    @property
    def fits(self) -> bool:
        """Whether a plate was found that keeps room, depth and heat."""
        return self.outcome is Outcome.FITS


@dataclass(frozen=True, slots=True, kw_only=True)
class Sized:
    """All enclosures, smallest first, and the two to choose between."""

    rows: tuple[Sizing, ...]
    smallest: EnclosureStock | None
    cheapest: EnclosureStock | None  # of those whose price is known
    stopped: bool
    notes: tuple[str, ...] = ()


def volume(one: EnclosureStock) -> float:
    """Return the outside volume, which is how enclosures are put in order."""
    return one.width * one.height * one.depth


def in_order(enclosures: Sequence[EnclosureStock]) -> list[EnclosureStock]:
    """Return the enclosures smallest first, then the cheapest."""
    return sorted(enclosures, key=lambda e: (volume(e), e.price is None, e.price or 0, e.name))


def job_in(job: Job, one: EnclosureStock) -> Job:
    """Return the job in another enclosure.

    Regions kept free on the old plate are left out; what hangs in the door keeps its place from
    the door's middle, moved as one where the door ends nearer.
    """
    settings = job.settings
    old = settings.plate
    plate = Plate(
        width=one.plate_width,
        height=one.plate_height,
        thickness=one.plate_thickness or old.thickness,
        material=one.plate_material or old.material,
        edge_margin=old.edge_margin,
        fixing_holes=_fixing_holes(one),
    )
    enclosure = replace(
        settings.enclosure,
        width=one.width, height=one.height, depth=one.depth, door_inside=one.door_inside,
        material=one.material or settings.enclosure.material, hinge_x=None,
    )  # fmt: skip
    moved = replace(job, settings=replace(settings, enclosure=enclosure, plate=plate))
    return _with_door_moved(moved, old)


def _fixing_holes(one: EnclosureStock) -> tuple[FixingHole, ...]:
    inset = one.fixing_inset
    if inset is None:
        return ()
    return tuple(
        FixingHole(x=x, y=y, keep_out=one.fixing_keep_out)
        for y in (inset, one.plate_height - inset)
        for x in (inset, one.plate_width - inset)
    )


def _with_door_moved(job: Job, old: Plate) -> Job:
    doors = job.placed_on_door
    if not doors:
        return job
    plate, (width, height) = job.settings.plate, door_span(job)
    box = job.settings.enclosure
    shift = []
    for low, span, before, now, outside in (
        (min(d.door_x or 0.0 for d in doors), width, old.width, plate.width, box.width),
        (min(d.door_y or 0.0 for d in doors), height, old.height, plate.height, box.height),
    ):
        wanted, overhang = low + (now - before) / 2, (outside - now) / 2
        nearest = max(-overhang, min(wanted, now + overhang - span))
        shift.append(nearest - low)
    devices = {
        d.tag: replace(d, door_x=(d.door_x or 0.0) + shift[0], door_y=(d.door_y or 0.0) + shift[1])
        for d in doors
    }
    return replace(job, devices={**job.devices, **devices})


def door_span(job: Job) -> tuple[Mm, Mm]:
    """Return width and height of the box round all that hangs in the door; 0 without any."""
    at = [(d.door_x or 0.0, d.door_y or 0.0, job.part_of(d.tag)) for d in job.placed_on_door]
    if not at:
        return 0.0, 0.0
    right, top = max(x + p.width for x, _, p in at), max(y + p.height for _, y, p in at)
    return right - min(x for x, _, _ in at), top - min(y for _, y, _ in at)


def size(
    job: Job,
    enclosures: Sequence[EnclosureStock],
    *,
    seed: int,
    moves: int,
    every: bool,
    progress: Progress,
) -> Sized:
    """Try the enclosures, smallest first.

    Once one fits, only cheaper ones are tried on, or all with ``every``.
    """
    rows: list[Sizing] = []
    stopped = False
    order = in_order(enclosures)
    for number, one in enumerate(order):

        def told(share: float, text: str, number: int = number, name: str = one.name) -> bool:
            return progress((number + share) / len(order), f"{name}: {text}")

        reason = "the search was stopped" if stopped else _needless(one, rows, every=every)
        if reason:
            rows.append(Sizing(enclosure=one, outcome=Outcome.NOT_TRIED, why=reason))
            continue
        rows.append(_sized(job_in(job, one), one, seed=seed, moves=moves, progress=told))
        stopped = not told(1.0, rows[-1].outcome)
    fitting = [row.enclosure for row in rows if row.fits]
    priced = [one for one in fitting if one.price is not None]
    return Sized(
        rows=tuple(rows),
        smallest=fitting[0] if fitting else None,
        cheapest=min(priced, key=lambda e: (e.price or 0, volume(e)), default=None),
        stopped=stopped,
    )


def _needless(one: EnclosureStock, rows: Sequence[Sizing], *, every: bool) -> str:
    """Return why an enclosure needs no trial; blank: it does."""
    fitting = [row.enclosure for row in rows if row.fits]
    if every or not fitting:
        return ""
    prices = [e.price for e in fitting if e.price is not None]
    if one.price is not None and (not prices or one.price < min(prices)):
        return ""
    return f"larger than {fitting[0].name}, which fits, and not cheaper (--all tries it)"


def _sized(job: Job, one: EnclosureStock, *, seed: int, moves: int, progress: Progress) -> Sizing:
    """Return what comes of one enclosure: proofs and heat first, for they are quick."""
    proofs, crowded = _proofs(job), _crowded_door(job, one)
    level = _level(job, Routes(wires={}, loads={}))
    inside = None if level is None else level.inside.value
    if proofs:
        return Sizing(enclosure=one, outcome=Outcome.PROVED, why=proofs, inside=inside)
    if crowded:
        return Sizing(enclosure=one, outcome=Outcome.DOOR, why=crowded, inside=inside)
    if _warmth(level) is Outcome.TOO_WARM and level is not None:
        why = _too_warm(level)
        return Sizing(enclosure=one, outcome=Outcome.TOO_WARM, why=why, inside=inside)
    try:
        planned = plan(job, Layout(), seed=seed, budget=Budget(moves=moves), progress=progress)
    except CannotPlan as cannot:
        return Sizing(enclosure=one, outcome=Outcome.NOT_FOUND, why=cannot.problem, inside=inside)
    return _judged(planned, one)


def _proofs(job: Job) -> str:
    """Return what proves that the job can't stand on a plate; blank: nothing does."""
    task = task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing())
    return proofs_told(proofs_of(task))


def _crowded_door(job: Job, one: EnclosureStock) -> str:
    """Return why what hangs in the door does not fit into it; blank: it does."""
    width, height = door_span(job)
    if width <= one.width and height <= one.height:
        return ""
    return (
        f"what hangs in the door spans {width:g} × {height:g} mm as it hangs now; the door is "
        f"{one.width:g} × {one.height:g} mm. Hang it otherwise in devices.csv"
    )


def _level(job: Job, routes: Routes) -> Level | None:
    """Return the mean air inside; ``None``: nothing states its heat."""
    losses = losses_of(job, routes)
    return level_of(conditions_of(job), losses.total) if losses.total > 0 else None


def _warmth(level: Level | None) -> Outcome:
    """Return what the mean air makes of an enclosure, by the rule that the checks go by.

    Too warm: the whole band lies over what the job wants; undecided: the band reaches over it.
    """
    if level is None or not level.wanted_is_stated:
        return Outcome.FITS
    judged = at_most_banded(
        "", what="", measured=level.inside, cure="",
        limit=Limit(value=level.wanted, source=WANTED, unit="°C"),
    )  # fmt: skip
    return {Verdict.PASS: Outcome.FITS, Verdict.UNDECIDED: Outcome.MAYBE_WARM}.get(
        judged.verdict, Outcome.TOO_WARM
    )


def _too_warm(level: Level) -> str:
    return f"{_warm(level)}; the job wants at most {level.wanted:g} °C (air.inside_degc)"


def _warm(level: Level) -> str:
    return f"about {level.inside.value:.1f} ± {level.inside.band:.1f} °C inside"


def _judged(planned: Planned, one: EnclosureStock) -> Sizing:
    """Judge a plan: its own checks of the space, and the heat with the wires' share."""
    panel = planned.panel
    failing = {f.rule.id: f for f in run_rules(panel) if f.verdict is Verdict.FAIL}
    in_data = sorted(name for name in failing if name.startswith(_OF_THE_LISTS))
    too_warm = sorted(name for name in failing if name.startswith("heat."))
    others = sorted(failing.keys() - {*in_data, *too_warm})
    level = _level(panel.job, panel.routes)
    outcome, why = Outcome.FITS, ""
    if others:
        outcome, why = Outcome.FAILS, f"planned, but {', '.join(others)} FAIL there"
    elif level is not None and _warmth(level) is Outcome.TOO_WARM:
        outcome, why = Outcome.TOO_WARM, _too_warm(level)
    elif too_warm:
        first = failing[too_warm[0]]
        outcome, why = (
            Outcome.TOO_WARM,
            f"{', '.join(too_warm)} FAIL there: {first.subject}: {first.message}",
        )
    elif level is not None and _warmth(level) is Outcome.MAYBE_WARM:
        outcome, why = Outcome.MAYBE_WARM, _too_warm(level)
    return Sizing(
        enclosure=one,
        outcome=outcome,
        why=why,
        inside=None if level is None else level.inside.value,
        worth=worth_of(panel),
        remarks=tuple(_remarks(panel, level, in_data)),
    )


def _remarks(panel: Panel, level: Level | None, failing: Sequence[str]) -> list[str]:
    said = []
    if level is not None and not level.wanted_is_stated and level.inside.value > level.wanted:
        said.append(
            f"warm: {_warm(level)}; {level.wanted:g} °C is assumed as wanted (air.inside_degc "
            "states it)"
        )
    if level is None and panel.job.on_plate:
        said.append("heat not looked at: no device states it")
    if failing:
        said.append(f"checks of the lists FAIL in any enclosure: {', '.join(failing)}")
    return said


def size_folder(
    folder: Path, *, enclosures: Path | None, seed: int, moves: int, every: bool, progress: Progress
) -> Sized:
    """Size a job folder by a list, or by the list that ``job.toml`` names.

    Raises ``InputErrors`` when the folder or the list can't be used. No file is changed.
    """
    read = read_folder(folder)
    path = enclosures or shop_list(folder, read.job)
    if path is None:
        fault = InputError(
            file="command line", field="--enclosures", problem="is missing",
            cure="Name the shop's list, or write shop_enclosures = \"…\" in job.toml",
        )  # fmt: skip
        raise InputErrors([fault])
    found = size(
        read.job, read_enclosures(path), seed=seed, moves=moves, every=every, progress=progress
    )
    notes = list(read.notes)
    if read.job.settings.plate.keep_outs:
        notes.append("regions kept free on the job's plate (keep_outs) are not looked at here")
    return replace(found, notes=tuple(notes))


def shop_list(folder: Path, job: Job) -> Path | None:
    """Return the path of the list of enclosures that ``job.toml`` names."""
    name = job.settings.shop_enclosures
    return folder / name if name else None


def sized_record(found: Sized) -> dict[str, Any]:
    """Return the outcome as plain values."""
    return {
        "enclosures": [
            {
                "name": row.enclosure.name,
                "outcome": row.outcome.value,
                "fits": row.fits,
                "is_proof": row.outcome is Outcome.PROVED,
                "why": row.why,
                "remarks": list(row.remarks),
                "inside_degc": None if row.inside is None else round(row.inside, 1),
                "price": row.enclosure.price,
                "wire_m": None if row.worth is None else round(row.worth.wire, 2),
                "plate_used": None if row.worth is None else round(row.worth.area, 4),
                "rows": None if row.worth is None else row.worth.rows,
            }
            for row in found.rows
        ],
        "smallest": found.smallest.name if found.smallest else None,
        "cheapest": found.cheapest.name if found.cheapest else None,
        "stopped": found.stopped,
    }
