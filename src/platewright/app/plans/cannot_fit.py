"""When no plate is found: whether that is a proof, and which changes would cure it, tried."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field, replace
from typing import Final

from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.app.plans.no_room import Proof, Reason, problem_of, proofs_of
from platewright.app.plans.plan import Budget, plan
from platewright.app.plans.too_large import for_single, in_larger, is_light
from platewright.arrange.arranger import Arrangement, probe
from platewright.arrange.task import task_for
from platewright.foundation.errors import CannotPlan
from platewright.foundation.units import Mm, Ratio
from platewright.model.device import Place
from platewright.model.job import DuctPattern, Job, Limits
from platewright.model.layout import Layout
from platewright.rules.wiring.duct_fill import FULLEST

_TRIES: Final = 12_000  # moves spent on one proposed change
_PLAN: Final = 8_000  # moves of the plan that confirms one
_STEPS: Final[tuple[Mm, ...]] = (25.0, 50.0, 100.0, 200.0, 400.0, 800.0)
_FINE: Final[Mm] = 10.0
_DOOR_TRIES: Final = 3  # devices tried in the door, one by one
_MUCH: Final[Mm] = 25.0  # room kept by assumption from which on it is named as a cause
_AWAY: Final[Mm] = -1e5  # where a device tried in the door hangs: clear of the plate


@dataclass(slots=True)
class _Tried:
    """Changes of a job tried by planning: what cured it, cheapest first, and what did not."""

    arrangement: Arrangement
    seed: int
    drilled: Layout | None = None  # the plate as it stands, where holes are drilled
    cures: list[str] = field(default_factory=list)
    in_vain: list[str] = field(default_factory=list)

    @property
    def job(self) -> Job:
        """The job as it is."""
        return self.arrangement.task.job

    def change(self, what: str, job: Job, cure: str) -> bool:
        """Try one change; note what came of it."""
        # a drilled plate is tried as it is: what of it stays depends on what fits
        is_likely = self.drilled is not None or _looks_fit(job, self.arrangement, self.seed)
        if is_likely and _plans(self, job):
            self.cures.append(cure)
            return True
        self.in_vain.append(what)
        return False

    def least(self, what: str, change: Callable[[Mm], Job], words: Callable[[Mm], str]) -> None:
        """Try a change of growing size; note the smallest found to do, to 10 mm."""
        size = _least(change, self.arrangement, self.seed)
        while size is not None and size <= _STEPS[-1]:
            if _plans(self, change(size)):
                self.cures.append(words(size))
                return
            size = max(size + _FINE, round(1.25 * size / _FINE) * _FINE)
        self.in_vain.append(f"{what} by up to {_STEPS[-1]:g} mm")


def explain(arrangement: Arrangement, *, seed: int, drilled: Layout | None = None) -> CannotPlan:
    """Return why the best arrangement found is not a plate one can build, with cures ranked.

    ``drilled``: the plate as it stands, where holes are drilled. Says whether nothing can fit (proved) or the search found nothing, and what was tried.
    """
    proofs = proofs_of(arrangement.task)
    problem = problem_of(arrangement)
    tried = _Tried(arrangement, seed, drilled)
    if any(proof.reason is not Reason.ROWS for proof in proofs):
        tried.cures += list(for_single(arrangement.task, proofs, is_drilled=drilled is not None))
    else:
        _try_settings(tried)
        if drilled is None:  # a larger plate would be drilled anew, from the start
            _try_plate(tried)
        _try_door(tried)
    wide = _wide_by_assumption(arrangement.task.job, _only(proofs))
    problem += "".join(f". {line}" for line in wide)
    if tried.in_vain:
        problem += f". Tried in vain: {'; '.join(tried.in_vain)}"
    return CannotPlan(problem, tried.cures)


def _only(proofs: Sequence[Proof]) -> AbstractSet[str] | None:
    """Return the devices whose clear space can matter: those too tall with it; ``None``: all."""
    if any(proof.reason is not Reason.ROWS for proof in proofs):
        return {proof.tag for proof in proofs if proof.reason is Reason.HEIGHT}
    return None


def _wide_by_assumption(job: Job, only: AbstractSet[str] | None) -> Iterator[str]:
    """Yield the devices that keep much room only because their data sheet states none."""
    for tag, clear in sorted(clear_spaces(job).items()):
        if only is not None and tag not in only:
            continue
        around = {
            "left": clear.left,
            "right": clear.right,
            "top": clear.top,
            "bottom": clear.bottom,
        }
        sides = {side: n for side, n in around.items() if not n.stated and n.room >= _MUCH}
        if sides:
            room = ", ".join(f"{side} {need.room:.0f} mm" for side, need in sides.items())
            columns = ", ".join(f"clear_{side}_mm" for side in sides)
            yield (
                f"{tag} keeps {room} that its data do not state, reckoned from its heat: state "
                f"{columns} of part {job.devices[tag].part} if its data sheet asks for less"
            )


def _try_settings(tried: _Tried) -> None:
    """Try what costs nothing: spare room, fuller ducts, one upright duct less."""
    settings = tried.job.settings
    limits = settings.limits
    if settings.row_spare > 0:
        groups = tuple(replace(group, spare=0.0) for group in settings.groups)
        bare = replace(settings, limits=replace(limits, spare=0.0), groups=groups)
        tried.change(
            "spare room given up",
            replace(tried.job, settings=bare),
            "give up the spare room: set limits.spare_share (and that of the groups) to 0 in job.toml",
        )
    fullest = FULLEST if limits.duct_fill is None else limits.duct_fill
    narrowest = min(stock.width for stock in settings.stock.ducts)
    has_wide = any(stock.width > narrowest for stock in tried.arrangement.sizes.across)
    if has_wide and limits.duct_fill_plan < fullest:
        tried.change(
            "narrower ducts, fuller",
            _with_limits(tried.job, duct_fill_plan=fullest),
            f"narrower ducts, filled to {fullest:.0%}: set limits.duct_fill_plan_share = {fullest:g} in "
            "job.toml (the fill rule's own limit: nothing is left for later wires)",
        )
    for pattern in (DuctPattern.LEFT, DuctPattern.RIGHT):
        if settings.pattern is DuctPattern.BOTH_SIDES and not tried.arrangement.task.standing.ducts:
            fewer = replace(tried.job, settings=replace(settings, pattern=pattern))
            if tried.change(
                f"upright duct on the {pattern} only",
                fewer,
                f'one upright duct less: set pattern = "{pattern}" in job.toml',
            ):
                break


def _with_limits(job: Job, *, duct_fill_plan: Ratio) -> Job:
    limits: Limits = replace(job.settings.limits, duct_fill_plan=duct_fill_plan)
    return replace(job, settings=replace(job.settings, limits=limits))


def _try_plate(tried: _Tried) -> None:
    plate, box = tried.job.settings.plate, tried.job.settings.enclosure
    if not tried.arrangement.task.standing.has_rows:
        tried.least(
            "a higher plate",
            lambda mm: _with_plate(tried.job, higher=mm),
            lambda mm: (
                f"a plate {mm:g} mm higher ({plate.height + mm:g} mm)"
                + in_larger(plate.height + mm, box.height, plate.height)
            ),
        )
    tried.least(
        "a wider plate",
        lambda mm: _with_plate(tried.job, wider=mm),
        lambda mm: (
            f"a plate {mm:g} mm wider ({plate.width + mm:g} mm)"
            + in_larger(plate.width + mm, box.width, plate.width)
        ),
    )


def _try_door(tried: _Tried) -> None:
    """Try the largest devices that a door may bear in it, one by one."""
    task = tried.arrangement.task
    alone = [
        b.head
        for b in task.blocks[: task.arrays.free]
        if len(b.members) == 1 and is_light(tried.job, b.head)
    ]
    by_room = sorted(alone, key=lambda tag: (-_room_of(tried.job, tag), tag))
    for tag in by_room[: _DOOR_TRIES if tried.drilled is None else 1]:
        if tried.change(
            f"{tag} in the door",
            _in_door(tried.job, tag),
            f"{tag} ({tried.job.devices[tag].part}) in the door, if it may hang there: "
            "place = door in devices.csv",
        ):
            return


def _room_of(job: Job, tag: str) -> float:
    part = job.part_of(tag)
    return part.width * part.height


def _in_door(job: Job, tag: str) -> Job:
    device = replace(job.devices[tag], place=Place.DOOR, door_x=_AWAY, door_y=0.0)
    return replace(job, devices={**job.devices, tag: device})


def _quiet(_done: float, _told: object) -> bool:
    return True


def _looks_fit(job: Job, like: Arrangement, seed: int) -> bool:
    """Tell whether a changed job is soon found to fit, its ducts as wide as those found."""
    task = task_for(
        job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=like.task.standing
    )
    if proofs_of(task):
        return False
    narrow = min(job.settings.stock.ducts, key=lambda s: (s.width, s.name))
    return probe(task, narrow, moves=_TRIES, seed=seed, report=_quiet).is_legal


def _plans(tried: _Tried, job: Job) -> bool:
    """Tell whether a changed job can be planned: wired, its ducts sized, nothing missing."""
    standing = tried.arrangement.task.standing
    layout = tried.drilled or Layout(
        devices={tag: replace(at, locked=True) for tag, at in standing.devices.items()},
        ducts={tag: replace(duct, locked=True) for tag, duct in standing.ducts.items()},
        rails={tag: replace(rail, locked=True) for tag, rail in standing.rails.items()},
    )
    try:
        plan(job, layout, seed=tried.seed, budget=Budget(moves=_PLAN), progress=_quiet)
    except CannotPlan:
        return False
    return True


def _least(change: Callable[[Mm], Job], arrangement: Arrangement, seed: int) -> Mm | None:
    """Return the smallest step of a change that looks as if it made the plate fit, to 10 mm."""
    low = 0.0
    for step in _STEPS:
        if _looks_fit(change(step), arrangement, seed):
            high = step
            while high - low > _FINE:
                middle = round((low + high) / 2 / _FINE) * _FINE
                if middle in (low, high):
                    break
                if _looks_fit(change(middle), arrangement, seed):
                    high = middle
                else:
                    low = middle
            return high
        low = step
    return None


def _with_plate(job: Job, *, wider: Mm = 0.0, higher: Mm = 0.0) -> Job:
    """Return the job with a larger plate; fixing holes keep their distance from the edges."""
    plate = job.settings.plate
    holes = tuple(
        replace(
            h,
            x=h.x + (wider if h.x > plate.width / 2 else 0.0),
            y=h.y + (higher if h.y > plate.height / 2 else 0.0),
        )
        for h in plate.fixing_holes
    )
    changed = replace(
        plate, width=plate.width + wider, height=plate.height + higher, fixing_holes=holes
    )
    return replace(job, settings=replace(job.settings, plate=changed))
