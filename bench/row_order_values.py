"""Single-row layout problems with known values: analytic ones, and names of published files.

The published files are not kept here: most of their carriers have no licence that lets them be. A
folder of them is read where a benchmark is given one (``bench arrange --data FOLDER``): one file a
problem, called as in ``PROVEN`` and ``PUBLISHED`` below, without ending, no folders within. In a file
stand the number of devices, their widths, then the whole matrix of wires, row by row; numbers apart
by blanks, commas or line ends. What is missing is named when the benchmark runs.

The public repository ``vcoppe/csrflp-dd`` has most of them in this form under ``data/srflp``, some
of them as N25-1 … AKV80_1 here. The others, S8 to S11, S8H, S9H, Cl12 to Cl20, P15 to P18 and H20
(printed in D. M. Simmons 1969; S. S. Heragu and A. Kusiak 1991; A. R. S. Amaral 2006 and 2008), stand
in ``xgillard/ddo`` under ``resources/srflp``; that project's own reader widens the devices of the Cl
files, so its values for them are others.
"""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

import numpy as np


class Known(NamedTuple):
    """A problem with its least length, and where that is known from."""

    name: str
    widths: np.ndarray
    wires: np.ndarray
    value: float


def _unit(name: str, wires: np.ndarray, value: float) -> Known:
    return Known(name, np.ones(len(wires)), wires, value)


def complete(n: int) -> Known:
    """Return every pair joined once: any order costs (n³-n)/6 (sum of all distances)."""
    return _unit(f"complete {n}", np.ones((n, n)) - np.eye(n), (n**3 - n) / 6)


def path(n: int) -> Known:
    """Return a path: laid out straight, each of its n-1 wires has length 1."""
    wires = np.eye(n, k=1) + np.eye(n, k=-1)
    return _unit(f"path {n}", wires, n - 1)


def cycle(n: int) -> Known:
    """Return a ring: every line between two places is crossed at least twice, so 2(n-1)."""
    wires = np.eye(n, k=1) + np.eye(n, k=-1)
    wires[0, -1] = wires[-1, 0] = 1
    return _unit(f"cycle {n}", wires, 2 * (n - 1))


def star(n: int) -> Known:
    """Return one device joined to all others: best in the middle, floor(n²/4)."""
    wires = np.zeros((n, n))
    wires[0, 1:] = wires[1:, 0] = 1
    return _unit(f"star {n}", wires, n * n // 4)


def hypercube(d: int) -> Known:
    """Return a d-dimensional cube: 2^(d-1)(2^d-1) (L. H. Harper, 1964)."""
    n = 1 << d
    wires = np.zeros((n, n))
    for i in range(n):
        for bit in range(d):
            wires[i, i ^ (1 << bit)] = 1
    return _unit(f"hypercube {d}", wires, 2 ** (d - 1) * (2**d - 1))


ANALYTIC = (
    complete(10), complete(20), path(20), cycle(20), star(20), hypercube(3), hypercube(4),
    hypercube(5),
)  # fmt: skip

# optimum of each published file: proven by a table over all sets, or as published
PROVEN = {
    "S8": 801.0, "S8H": 2324.5, "S9": 2469.5, "S9H": 4695.5, "S10": 2781.5, "S11": 6933.5,
    "Cl12": 17945.0, "Cl15": 33220.0, "P15": 6305.0, "P17": 9254.0, "P18": 10650.5,
    "Cl20": 88570.0, "H20": 15549.0, "N25-1": 4618.0, "N25-2": 37116.5, "N25-3": 24301.0,
    "N25-4": 48291.5, "N25-5": 15623.0,
}  # fmt: skip
PUBLISHED = {
    "H30": 44965.0, "N30-1": 8247.0, "N30-2": 21582.5, "N30-3": 45449.0, "N30-4": 56873.5,
    "N30-5": 115268.0, "Am33_1": 60704.5, "Am33_2": 67684.0, "Am33_3": 69942.5,
    "ste36_1": 10287.0, "sko42_1": 25525.0, "sko56_1": 64024.0, "AKV60_1": 1477834.0,
    "AKV70_1": 1528537.0, "AKV80_1": 2069097.5,
}  # fmt: skip


def read_known(file: Path, value: float) -> Known:
    """Read one published file."""
    numbers = [float(v) for v in file.read_text(encoding="utf-8").replace(",", " ").split()]
    n = int(numbers[0])
    wires = np.array(numbers[n + 1 : n + 1 + n * n]).reshape(n, n)
    if not np.array_equal(wires, wires.T):
        raise ValueError(f"{file}: the matrix of wires is not the same both ways")
    return Known(file.name, np.array(numbers[1 : n + 1]), wires, value)


def known_in(folder: Path, values: dict[str, float]) -> list[Known]:
    """Read those of the published files that are in a folder."""
    return [read_known(folder / name, v) for name, v in values.items() if (folder / name).exists()]
