"""Fewer bars by choosing among whole bar contents (column generation).

A linear program chooses how often each content is cut; its prices tell which further content
would help (P. C. Gilmore, R. E. Gomory, Operations Research 9 (1961) 849-859). The bound comes
from the prices alone, rounded to whole numbers (A. A. Farley, Operations Research 38 (1990)
922-923), so it holds whatever the solver's own rounding did.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

import highspy
import numpy as np
import numpy.typing as npt

from platewright.fabricate.solvers.full_bars import finish
from platewright.fabricate.solvers.packing import (
    Counts,
    Packed,
    Packing,
    best_fit,
    bound_by_length,
    fullest_bar,
)

QUIET: Final = (
    ("output_flag", False),
    ("threads", 1),  # a second value in one process is refused; one is repeatable
    ("random_seed", 0),
    ("simplex_strategy", 4),  # primal: a new content leaves the last answer feasible
)
PRICE_GRAIN: Final = 1 << 30  # prices are counted in whole parts of this
WHOLE: Final = 1e-6  # a share nearer than this to a whole number is that number
WORTH_IT: Final = PRICE_GRAIN + (PRICE_GRAIN >> 20)  # a content worth more than a bar helps
CONTENTS_A_ROUND: Final = 12  # contents added at once, each of other pieces
ROUNDS: Final = 600  # contents asked for at most, for the bound
ROUNDS_IN_DIVE: Final = 12  # and at each step of a dive
DIVES: Final = 24
FEW_BARS: Final = 14  # with no more left than this, a dive is finished by looking at all contents
WORK: Final = 15_000_000  # for the bound, and again for the dives; some seconds at most
MOST_CONTENTS: Final = 300  # with more contents than this, no integer search over them
MOST_KINDS: Final = 100  # nor with more sizes
NODES: Final = 100  # of the last integer search over the contents found
ALL_CONTENTS: Final = 3000  # with no more contents than this, the search takes them all

Shares = npt.NDArray[np.float64]


class QuietSolver(highspy.Highs):
    """A linear solver that prints nothing and gives the same answer every time.

    Starting the wrapper's callbacks prints a banner before any option can forbid it; nothing
    here calls back, so they are not started.
    """

    def __init__(self) -> None:
        super().__init__()  # type: ignore[no-untyped-call]
        for option, value in QUIET:
            self.setOptionValue(option, value)

    def enableCallbacks(self) -> None:  # noqa: N802  (the wrapper's own name)
        """Start no callbacks."""


@dataclass(slots=True)
class Master:
    """The linear program over the contents found so far. Grows; lives inside one solve."""

    problem: Packing
    exact: Packing | None = None  # the finer problem, where sizes were rounded up
    contents: list[Counts] = field(default_factory=list)
    solver: QuietSolver = field(default_factory=QuietSolver)
    work: int = 0  # rows times columns of all programs solved: a budget, not a clock
    allowed: int = WORK
    asked: Counts = field(init=False)  # the demand of the last solve

    def __post_init__(self) -> None:
        self.asked = self.problem.demand.copy()
        none = np.array([], dtype=np.int32)
        for need in self.problem.demand.tolist():
            self.solver.addRow(float(need), highspy.kHighsInf, 0, none, np.array([], dtype=float))

    @property
    def is_spent(self) -> bool:
        """Whether the work allowed is done."""
        return self.work > self.allowed

    def add(self, content: Counts) -> None:
        """Add one content of a bar."""
        rows = np.flatnonzero(content).astype(np.int32)
        amounts = content[rows].astype(np.float64)
        self.solver.addCol(1.0, 0.0, highspy.kHighsInf, len(rows), rows, amounts)
        self.contents.append(content)

    def solve(self, demand: Counts) -> tuple[Shares, Shares] | None:
        """Return how often each content is cut, and the price of each size; None: it failed."""
        for row in np.flatnonzero(demand != self.asked).tolist():
            self.solver.changeRowBounds(row, float(demand[row]), highspy.kHighsInf)
        self.asked = demand.copy()
        self.work += len(demand) * len(self.contents)
        self.solver.run()
        if self.solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return None
        solution = self.solver.getSolution()
        # the solver may return a share a hair below nothing
        return np.maximum(solution.col_value, 0.0), np.array(solution.row_dual)


def relax(
    master: Master, demand: Counts, *, rounds: int, known: int = 0
) -> tuple[Shares | None, int]:
    """Return shares of contents that meet the demand, and a lower bound on bars for it.

    Stops where no further content can raise the bound past ``known``.
    """
    problem, bound, shares = master.problem, known, None
    for _ in range(rounds):
        solved = master.solve(demand)
        if solved is None:
            return None, bound
        shares, prices = solved
        whole = whole_prices(prices)
        left, found = demand.copy(), 0
        for turn in range(CONTENTS_A_ROUND):
            worth, content, is_most = fullest_bar(
                whole, sizes=problem.sizes, limits=left, capacity=problem.capacity, enough=WORTH_IT
            )
            if turn == 0 and is_most:
                if worth == 0:
                    return shares, bound
                # Python's whole numbers: the sum may pass 63 bits
                prices_of_all = zip(whole.tolist(), demand.tolist(), strict=True)
                total = sum(price * need for price, need in prices_of_all)
                bound = max(bound, -(-total // worth))
                if bound >= float(shares.sum()) - WHOLE:
                    return shares, bound
            if worth <= WORTH_IT:
                break
            master.add(content)
            found += 1
            left = left - content
        if found == 0 or master.is_spent:
            break
    return shares, bound


def dive(master: Master, chance: np.random.Generator | None, goal: int) -> list[Counts]:
    """Return bars by fixing contents step by step, with best fit for what is left at each step.

    Without ``chance`` the largest share is fixed; with it, a share drawn by its size.
    """
    problem, demand = master.problem, master.problem.demand.copy()
    fixed: list[Counts] = []
    best = best_fit(problem, demand)
    while demand.any() and len(best) > goal and not master.is_spent:
        shares, _ = relax(master, demand, rounds=ROUNDS_IN_DIVE)
        if shares is None:
            return best
        times = np.floor(shares + WHOLE).astype(np.int64)
        if not times.any():
            times[chosen(shares, chance)] = 1
        for kind in np.flatnonzero(times).tolist():
            for _ in range(int(times[kind])):
                cut = np.minimum(master.contents[kind], demand)
                if cut.any():
                    fixed.append(cut)
                    demand -= cut
        rest = best_fit(problem, demand)
        if len(fixed) + len(rest) > goal and goal - len(fixed) <= FEW_BARS:
            rest = _finished(master.exact or problem, demand, goal - len(fixed)) or rest
        if len(fixed) + len(rest) < len(best):
            best = [*fixed, *rest]
    return best


def _finished(problem: Packing, demand: Counts, bars: int) -> list[Counts] | None:
    """Return what is left cut from so few bars; ``None``: no way was found."""
    left = np.flatnonzero(demand)
    rest = Packing(sizes=problem.sizes[left], demand=demand[left], capacity=problem.capacity)
    if bars < bound_by_length(rest):
        return None
    found = finish(rest, bars)
    if found is None:
        return None
    wide = np.zeros((len(found), len(demand)), dtype=np.int64)
    wide[:, left] = found
    return list(wide)


def chosen(shares: Shares, chance: np.random.Generator | None) -> int:
    """Return the content to fix."""
    if chance is None:
        return int(np.argmax(shares))
    return int(chance.choice(len(shares), p=shares / shares.sum()))


def every_content(problem: Packing, most: int) -> list[Counts] | None:
    """Return every content of a bar to which no further piece can be added; None: too many."""
    sizes, found = problem.sizes.tolist(), []
    content = [0] * len(sizes)

    def fill(kind: int, room: int) -> None:
        if kind == len(sizes):
            spare = problem.demand - content
            if not any(room >= size and more for size, more in zip(sizes, spare, strict=True)):
                found.append(np.array(content, dtype=np.int64))
            return
        for count in range(min(int(problem.demand[kind]), room // sizes[kind]), -1, -1):
            if len(found) > most:
                return
            content[kind] = count
            fill(kind + 1, room - count * sizes[kind])
        content[kind] = 0

    fill(0, problem.capacity)
    return None if len(found) > most else found


@dataclass(frozen=True, slots=True)
class Search:
    """Bars found by the integer search; ``impossible``: proven that these contents can't do."""

    bars: list[Counts] | None
    impossible: bool = False


def whole_contents(problem: Packing, contents: list[Counts], goal: int) -> Search:
    """Return at most ``goal`` bars out of the given contents, if they are found."""
    solver = QuietSolver()
    solver.setOptionValue("mip_max_nodes", NODES)
    none, amounts = np.array([], dtype=np.int32), np.array([], dtype=float)
    for need in problem.demand.tolist():
        solver.addRow(float(need), highspy.kHighsInf, 0, none, amounts)
    solver.addRow(0.0, float(goal), 0, none, amounts)
    for at, content in enumerate(contents):
        rows = np.append(np.flatnonzero(content), len(content)).astype(np.int32)
        counts = np.append(content[content > 0], 1).astype(np.float64)
        solver.addCol(1.0, 0.0, highspy.kHighsInf, len(rows), rows, counts)
        solver.changeColIntegrality(at, highspy.HighsVarType.kInteger)
    solver.run()
    status = solver.getModelStatus()
    if status != highspy.HighsModelStatus.kOptimal:
        return Search(None, impossible=status == highspy.HighsModelStatus.kInfeasible)
    demand, bars = problem.demand.copy(), []
    for at, share in enumerate(solver.getSolution().col_value):
        for _ in range(round(share)):
            cut = np.minimum(contents[at], demand)
            demand -= cut
            if cut.any():
                bars.append(cut)
    return Search(None if demand.any() or len(bars) > goal else bars)


def raise_bound(master: Master, packed: Packed) -> int:
    """Return a lower bound on bars that is no lower than the one known."""
    _, bound = relax(master, master.problem.demand, rounds=ROUNDS, known=packed.bound)
    return max(packed.bound, bound)


def whole_prices(prices: Shares) -> Counts:
    """Return prices in whole parts, rounded down; a price below nothing is nothing."""
    whole: Counts = np.floor(np.maximum(prices, 0.0) * PRICE_GRAIN).astype(np.int64)
    return whole


def dives(master: Master, packed: Packed, *, seed: int) -> Packed:
    """Return fewer bars where dives find them."""
    chance = np.random.default_rng(seed)
    master.allowed = master.work + WORK
    for attempt in range(DIVES):
        if packed.is_proven or master.is_spent:
            break
        tried = dive(master, chance if attempt else None, packed.bound)
        if len(tried) < len(packed.bars):
            packed = Packed(bars=tuple(tried), bound=packed.bound)
    return packed


def search_contents(master: Master, packed: Packed) -> Packed:
    """Return fewer bars or a higher bound, by an integer search over contents.

    Over all of them where they are few: then what is not found is proven not to be.
    """
    bars, bound = list(packed.bars), packed.bound
    every = every_content(master.problem, ALL_CONTENTS)
    contents = every or master.contents
    is_small = len(contents) <= MOST_CONTENTS and len(master.problem.sizes) <= MOST_KINDS
    while len(bars) > bound and (every or is_small):
        search = whole_contents(master.problem, contents, len(bars) - 1)
        if search.bars is None:
            # only where no content is missing does "impossible" tell of the bars themselves
            bound = len(bars) if search.impossible and every is not None else bound
            break
        bars = search.bars
    return Packed(bars=tuple(bars), bound=bound)


def master_of(problem: Packing, bars: Sequence[Counts], exact: Packing | None = None) -> Master:
    """Return the linear program that knows the contents of these bars."""
    master = Master(problem, exact=exact)
    for content in np.unique(np.array(bars), axis=0)[::-1]:
        master.add(content)
    return master
