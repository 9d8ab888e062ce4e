"""Fit the constants of the fast model to the fitting layouts, and print them.

Only layouts marked as fitting are looked at, unless ``--held`` asks for the verdict on the rest.
``python bench/fit_fast_heat.py`` prints rows for ``fast_heat_model.csv``.
"""

from __future__ import annotations

import sys
from dataclasses import replace

import numpy as np
from scipy.optimize import least_squares

from fast_heat import Case, agreement, cases, errors_of
from platewright.heat.local_air import Constants, Floats

BOUNDS = {  # what is fitted, and between what; the other constants stay as they are
    "core_share": (0.7, 1.3),
    "core_lean": (-0.5, 1.5),
    "core_sag": (0.0, 0.6),
    "plume_flow": (0.001, 0.05),
    "plume_start": (0.02, 1.0),
    "source_drop": (0.0, 0.4),
    "wake_strength": (5.0, 200.0),
    "wake_spread": (0.05, 1.2),
    "wake_origin_least": (0.01, 0.8),
    "wake_drag": (0.0, 1.0),
}
UNSAFE_WEIGHT = 2.1  # an error to the cool side counts so much more: as much as keeps the bias on
# the fitting layouts under 1.5 K
STARTS = 1


def fit(chosen: list[Case], first: Constants, *, unsafe: float, starts: int = STARTS) -> Constants:
    """Return the constants that fit some layouts best, the best of a few starts."""
    names = list(BOUNDS)
    low, high = (np.array([BOUNDS[name][k] for name in names]) for k in (0, 1))
    chance = np.random.default_rng(1)
    begin = np.array([getattr(first, name) for name in names])

    def constants(values: Floats) -> Constants:
        return replace(first, **dict(zip(names, values.tolist(), strict=True)))

    def off(values: Floats) -> Floats:
        made = constants(values)
        parts = []
        for case in chosen:
            error = case.fast(made) - case.deep
            parts.append(np.where(error < 0, unsafe * error, error) / np.sqrt(error.size) ** 0.5)
        return np.concatenate(parts)

    best = None
    for start in range(starts):
        spread = 1.0 if start == 0 else np.exp(chance.normal(0, 0.3, begin.size))
        at = np.clip(begin * spread, low + 1e-6, high - 1e-6)
        found = least_squares(
            off,
            at,
            bounds=(low, high),
            x_scale=(high - low),
            loss="soft_l1",
            f_scale=1.0,
            max_nfev=60,
        )
        if best is None or found.cost < best.cost:
            best = found
    assert best is not None
    return constants(best.x)


def main() -> None:
    """Print the fit, and how it does on each layout left out in turn."""
    unsafe = float(sys.argv[2]) if len(sys.argv) > 2 else UNSAFE_WEIGHT
    every = cases()
    fitting = [case for case in every if case.is_fitting]
    made = fit(fitting, Constants.from_table(), unsafe=unsafe)
    for name in BOUNDS:
        print(f"{name.replace('_', ' ')},{getattr(made, name):.4g}")
    for case in fitting:
        print(case.name, agreement(errors_of([case], made)))
    print("all fitting", agreement(errors_of(fitting, made)))
    if "--cross" in sys.argv:
        out = [
            errors_of(
                [one], fit([c for c in fitting if c is not one], made, unsafe=unsafe, starts=1)
            )
            for one in fitting
        ]
        print("each left out in turn", agreement(np.concatenate(out)))
    if "--held" in sys.argv:
        held = [case for case in every if not case.is_fitting]
        for case in held:
            print(case.name, agreement(errors_of([case], made)))
        print("held out", agreement(errors_of(held, made)))


if __name__ == "__main__":
    main()
