"""The flow solver of the deep check against published solutions and a measured cavity.

Baseline of each row: the error it may have. ``heat_validation.py`` runs the longer series and
writes docs/heat-validation.md.
"""

from __future__ import annotations

import csv
import sys
from dataclasses import dataclass
from pathlib import Path

from platewright.heat.solvers.cavity import (
    CavityResult,
    cube_cavity,
    extrapolated,
    square_cavity,
)
from platewright.heat.solvers.tall_cavity import HOT, TallCavityResult, tall_cavity

DATA = Path(__file__).parent / "data"
ALLOWED = {"1e3": 0.5, "1e4": 1.0, "1e5": 2.0, "1e6": 6.0}  # % of Nu on 64 by 64 cells
ALLOWED_EXTRAPOLATED = 0.5  # %
PAIRS = {"1e3": (32, 64), "1e4": (32, 64), "1e5": (64, 96), "1e6": (64, 96)}
REST = 0.02  # on more than 64² cells: moves Nu by 0.01 % against 0.001, and saves half the time
ALLOWED_CORE, ALLOWED_LAYERS, ALLOWED_LOCAL = 1.0, 1.2, 15.0  # K, K, %

Row = dict[str, str | float]


@dataclass(frozen=True, slots=True)
class TallRun:
    """Cells and times of a run of the tall cavity."""

    cells: tuple[int, int, int]
    depth: float  # m
    seconds: float
    averaged: float


SHORT_TALL = TallRun((24, 8, 109), 0.16, 60.0, 30.0)


def published(case: str, data: Path | None = None) -> dict[str, dict[str, str]]:
    """Return the published values of the square or the cube by Rayleigh number."""
    return {r["rayleigh"]: r for r in read("cavity_published.csv", data) if r["case"] == case}


def measured(data: Path | None = None) -> dict[tuple[float, float], float]:
    """Return measured temperatures of the tall cavity by (share of height, mm across)."""
    return {
        (float(r["height_share"]), float(r["across_mm"])): float(r["temperature_degc"])
        for r in read("tall_cavity_measured.csv", data)
    }


def read(name: str, data: Path | None) -> list[dict[str, str]]:
    """Return the rows of a table of published values."""
    with ((data or DATA) / name).open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def rows(data: Path | None = None) -> list[Row]:
    """Return the measured rows."""
    found: list[Row] = []
    for rayleigh, expected in published("square", _own(data)).items():
        found += square_rows(rayleigh, expected, PAIRS[rayleigh])
    found += cube_rows(published("cube", _own(data)))
    return found + tall_rows(run_tall(SHORT_TALL), measured(_own(data)))


def _own(data: Path | None) -> Path | None:
    """Return the folder given, if it holds the tables read here."""
    return data if data and (data / "cavity_published.csv").exists() else None


def square_rows(rayleigh: str, expected: dict[str, str], pair: tuple[int, int]) -> list[Row]:
    """Return the errors on 64 by 64 cells and extrapolated, %."""
    runs = {
        n: square_cavity(float(rayleigh), cells=n, rest=REST if n > 64 else 1e-3)[0]
        for n in sorted({64, *pair})
    }
    limit = _limit(runs[pair[0]], runs[pair[1]])
    nusselt, at = float(expected["nusselt"]), runs[64]
    return [
        row(f"cavity_nu_error_{rayleigh}", off(at.nusselt, nusselt), "%", ALLOWED[rayleigh]),
        row(
            f"cavity_nu_extrapolated_error_{rayleigh}",
            off(limit, nusselt),
            "%",
            ALLOWED_EXTRAPOLATED,
        ),
        row(
            f"cavity_across_error_{rayleigh}", off(at.across, float(expected["across_max"])), "%", 3
        ),
        row(
            f"cavity_upward_error_{rayleigh}", off(at.upward, float(expected["upward_max"])), "%", 3
        ),
    ]


def cube_rows(expected: dict[str, dict[str, str]]) -> list[Row]:
    """Return the errors in the cube at Ra 1e4 on 24³ cells and extrapolated from 16³, %."""
    nusselt = float(expected["1e4"]["nusselt"])
    coarse, fine = (cube_cavity(1e4, cells=n) for n in (16, 24))
    return [
        row("cube_nu_error_1e4", off(fine.nusselt, nusselt), "%", 4.0),
        row("cube_nu_extrapolated_error_1e4", off(_limit(coarse, fine), nusselt), "%", 1.5),
    ]


def run_tall(run: TallRun) -> TallCavityResult:
    """Return the tall cavity as so many cells give it."""
    return tall_cavity(run.cells, depth=run.depth, seconds=run.seconds, averaged=run.averaged)


def core_error(found: TallCavityResult, air: dict[tuple[float, float], float]) -> float:
    """Return the mean error over the core at half height, K: 33 to 43 mm across."""
    core = [(mm, t) for (height, mm), t in air.items() if height == 0.5 and 33 <= mm <= 44]
    return sum(found.at(mm / 1000, 0.5) - t for mm, t in core) / len(core)


def layers(found: TallCavityResult) -> float:
    """Return how much warmer the middle is at 0.9 than at 0.5 of the height, K."""
    return found.at(0.03817, 0.9) - found.at(0.03817, 0.5)


def measured_local_nusselt(air: dict[tuple[float, float], float]) -> float:
    """Return the slope of the two measurements nearest the cold side, over that of still air."""
    slope = (air[0.5, 0.84] - air[0.5, 0.33]) / (0.84 - 0.33)  # K/mm
    return slope * 76.0 / (HOT - 15.1)


def tall_rows(found: TallCavityResult, air: dict[tuple[float, float], float]) -> list[Row]:
    """Return the errors against the measured tall cavity."""
    layered = air[0.9, 38.17] - air[0.5, 38.17]
    return [
        row("tall_cavity_core_error", abs(core_error(found, air)), "K", ALLOWED_CORE),
        row("tall_cavity_layers_error", abs(layers(found) - layered), "K", ALLOWED_LAYERS),
        row(
            "tall_cavity_local_nu_error",
            off(found.local_nusselt, measured_local_nusselt(air)),
            "%",
            ALLOWED_LOCAL,
        ),
    ]


def off(found: float, expected: float) -> float:
    """Return the size of an error, %."""
    return abs(found / expected - 1.0) * 100.0


def _limit(coarse: CavityResult, fine: CavityResult) -> float:
    return extrapolated(coarse.nusselt, fine.nusselt, fine.cells / coarse.cells)


def row(name: str, value: float, unit: str, baseline: float) -> Row:
    """Return one row as the bench prints it."""
    return {
        "name": name,
        "value": value,
        "unit": unit,
        "baseline": baseline,
        "ratio": value / baseline,
    }


if __name__ == "__main__":
    for each in rows(Path(sys.argv[1]) if sys.argv[1:] else None):
        print(each)
