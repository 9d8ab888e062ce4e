"""A linear program in real and whole numbers, and what a solver proves of its optimum."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Final

import highspy
import numpy as np
from scipy.sparse import csc_array

_OPTIONS: Final = {
    "output_flag": False, "threads": 1, "random_seed": 1, "mip_rel_gap": 0.0,
}  # fmt: skip
# the best bound is proven when the solver is done, and when it stops at its limit of nodes
_PROVES: Final = (
    highspy.HighsModelStatus.kOptimal,
    highspy.HighsModelStatus.kSolutionLimit,
    highspy.HighsModelStatus.kIterationLimit,
)


class _Quiet(highspy.Highs):
    """A solver that prints nothing; the wrapper's callbacks would print a banner at once."""

    def __init__(self) -> None:
        super().__init__()  # type: ignore[no-untyped-call]
        for option, value in _OPTIONS.items():
            self.setOptionValue(option, value)

    def enableCallbacks(self) -> None:  # noqa: N802  (the wrapper's own name)
        """Start no callbacks."""


@dataclass(slots=True)
class Program:
    """A program being written: minimise price·x with rows of coefficients between limits."""

    price: list[float] = field(default_factory=list)
    least: list[float] = field(default_factory=list)
    most: list[float] = field(default_factory=list)
    whole: list[int] = field(default_factory=list)
    places: list[tuple[int, int]] = field(default_factory=list)
    values: list[float] = field(default_factory=list)
    limits: list[tuple[float, float]] = field(default_factory=list)

    def variable(
        self, *, price: float = 0.0, least: float = 0.0, most: float = np.inf, whole: bool = False
    ) -> int:
        """Add a variable; return its number."""
        self.price.append(price)
        self.least.append(least)
        self.most.append(most)
        self.whole.append(int(whole))
        return len(self.price) - 1

    def row(self, terms: Iterable[tuple[int, float]], least: float, most: float = np.inf) -> None:
        """Add: least <= sum of factor times variable <= most."""
        for variable, factor in terms:
            self.places.append((len(self.limits), variable))
            self.values.append(factor)
        self.limits.append((least, most))

    def lower_bound(self, nodes: int) -> float | None:
        """Return a proven lower bound of the optimum; inf: nothing obeys all rows; None: none."""
        solver = _Quiet()
        solver.setOptionValue("mip_max_nodes", nodes)
        solver.passModel(self._model())
        solver.run()
        status = solver.getModelStatus()
        if status == highspy.HighsModelStatus.kInfeasible:
            return np.inf
        bound = float(solver.getInfo().mip_dual_bound)
        if status not in _PROVES or not np.isfinite(bound):
            return None
        return bound

    def _model(self) -> highspy.HighsLp:
        """Return the program as the solver takes it."""
        rows, columns = zip(*self.places, strict=True)
        shape = (len(self.limits), len(self.price))
        matrix = csc_array((self.values, (rows, columns)), shape=shape)
        model = highspy.HighsLp()
        model.num_row_, model.num_col_ = shape
        model.col_cost_ = np.array(self.price)
        model.col_lower_, model.col_upper_ = np.array(self.least), np.array(self.most)
        low, high = zip(*self.limits, strict=True)
        model.row_lower_, model.row_upper_ = np.array(low), np.array(high)
        model.a_matrix_.format_ = highspy.MatrixFormat.kColwise
        model.a_matrix_.start_ = matrix.indptr
        model.a_matrix_.index_ = matrix.indices
        model.a_matrix_.value_ = matrix.data
        kinds = (highspy.HighsVarType.kContinuous, highspy.HighsVarType.kInteger)
        model.integrality_ = [kinds[w] for w in self.whole]
        return model
