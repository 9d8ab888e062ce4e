"""Give ducts the sizes that their wires ask for, and search on where that takes room away."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import Final

from platewright.app.gather import outer_diameters
from platewright.app.plans.duct_sizes import fitting_sizes, grown, of_one_height, overfull
from platewright.arrange.arranger import Arrangement, improve, resized
from platewright.arrange.solvers.search import Report
from platewright.arrange.task import DuctSizes
from platewright.model.layout import Layout
from platewright.model.routes import Routes
from platewright.wiring.solvers.route import route_wires

Seen = Callable[[Arrangement], None]  # hears of better and better plates

_LITTLE: Final = 50.0  # mm: a plate that lacks more needs more than a few moves to fit,
_HOTTER: Final = 345.0  # and begins at this temperature
_MILD: Final = 50.0  # where few moves begin: hotter, they would lose more than they win back
_ROUNDS: Final = 5  # rounds of re-sizing before it is called off


@lru_cache(maxsize=1)  # sizing asks again for what it has just asked; wires take their time
def wired(arrangement: Arrangement) -> tuple[Layout, Routes]:
    """Return the layout of an arrangement, and the ways of its wires."""
    job, layout = arrangement.task.job, arrangement.layout
    return layout, route_wires(job, layout, outer_diameters(job))


def _fitting(arrangement: Arrangement) -> tuple[DuctSizes, bool]:
    """Return the sizes of ducts that the wires ask for, and whether one is too full as it is."""
    settings = arrangement.task.job.settings
    fill = settings.limits.duct_fill_plan
    layout, routes = wired(arrangement)
    wanted = fitting_sizes(arrangement.sizes, layout, routes, settings.stock, fill)
    return wanted, bool(overfull(layout, routes, fill))


def is_overfull(arrangement: Arrangement) -> bool:
    """Tell whether a duct is fuller than a plan may leave it."""
    return _fitting(arrangement)[1]


def settle(
    arrangement: Arrangement, *, moves: int, seed: int, report: Report, seen: Seen | None = None
) -> tuple[Arrangement, int]:
    """Wire the plate, size its ducts, and search on while sizes grow; shrink where it is legal."""
    if arrangement.task.standing.has_rows:
        return arrangement, 0
    spent = 0
    for number in range(_ROUNDS):
        wanted, too_full = _fitting(arrangement)
        if not too_full and number > 0:
            break
        if number > 1:
            wanted = grown(arrangement.sizes, wanted)
        if wanted == arrangement.sizes:
            break
        arrangement = resized(arrangement, wanted)
        share = moves // _ROUNDS
        arrangement = improve(
            arrangement,
            moves=share,
            hot=hot_for(arrangement, _MILD),
            seed=seed + number,
            report=report,
            seen=seen,
        )
        spent += arrangement.found.moves
    return arrangement, spent


def shrunk(arrangement: Arrangement) -> Arrangement:
    """Return the arrangement with ducts no larger than its routes ask, where that stays legal."""
    if arrangement.task.standing.has_rows or not arrangement.is_legal:
        return arrangement
    for _ in range(_ROUNDS):
        wanted, _too_full = _fitting(arrangement)
        if wanted == arrangement.sizes:
            break
        smaller = resized(arrangement, wanted)
        pays = smaller.is_legal and smaller.found.cost < arrangement.found.cost
        if not pays or is_overfull(smaller):
            break
        arrangement = smaller
    return arrangement


def sized(arrangement: Arrangement) -> Arrangement:
    """Return the arrangement with ducts of the sizes that its wires ask for."""
    if arrangement.task.standing.has_rows:
        return arrangement
    return resized(arrangement, _fitting(arrangement)[0])


def sized_alike(arrangements: Sequence[Arrangement]) -> list[Arrangement]:
    """Return the arrangements with upright ducts of the sizes that the first one's wires ask for.

    Those across are the narrowest of that height in the others: they take from the height, the
    upright ones from the rows. To lay the wires of each would take longer than it is worth.
    """
    first = sized(arrangements[0])
    if first.task.standing.has_rows:
        return list(arrangements)
    sides = first.sizes
    narrow = of_one_height(first.task.job.settings.stock)[sides.across[0].height][0]

    def like_first(sizes: DuctSizes) -> DuctSizes:
        return DuctSizes(
            across=(narrow,) * (sizes.rows + 1),
            left=sides.left,
            middle=(sides.middle or narrow) if sizes.middle else None,
            right=sides.right,
        )

    return [first, *(resized(other, like_first(other.sizes)) for other in arrangements[1:])]


def hot_for(arrangement: Arrangement, usual: float) -> float:
    """Return where a search on from a plate begins: hotter, where much room is missing."""
    return usual if arrangement.found.violation <= _LITTLE else _HOTTER
