"""Compile the kernel of the drill tours once, so that the first sheets come at once."""

from __future__ import annotations

import numpy as np

from platewright.fabricate.solvers.drill_tour import closed_tour, lengths_of


def compile_kernels() -> None:
    """Go round ten places; the compiled kernel is kept on disk."""
    closed_tour(lengths_of(np.array([(float(k * k), float(k)) for k in range(10)])))


if __name__ == "__main__":
    compile_kernels()
