"""Pieces as beams against examples with printed numbers, and against beam elements.

Printed:

- Strength of Materials, an open textbook of Engineering Mechanics OER, chapter 11, examples 11.8
  and 11.9 (github.com/EngineeringMechanicsOER/StrengthBook, Chapter 11.qmd).
- R. Chudley, R. Greeno: Building Construction Handbook, 8th edition, Timber Beam Design, joist and
  beam sizing (issuhub.com/view/index/3777?pageIndex=678).
- S. Timoshenko: Strength of Materials, Part I, 3rd edition, 1955, p. 98, problem 4 (numbers as
  repeated by a comparison of programs, wnwk.com/doc/3634548.html): overhangs.
- F. Beer, E. Johnston: Mechanics of Materials, sample problem 9.1: an overhang. [mem]

Worked out another way: beam elements with cubic shapes (the handbooks' stiffness matrix of a bar
in bending), which share no code with the formulas; they are held to the two printed overhangs
first.
"""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import pytest

from platewright.fabricate.beams import (
    Beam,
    duct_beam,
    end_sag,
    longest_end,
    longest_span,
    rail_beam,
    sag,
    sag_of_end,
    sag_of_push,
    sag_of_weight,
)
from platewright.fabricate.sections import Section
from platewright.foundation.sources import Source
from platewright.model.layout import Run


def section(second_moment: float) -> Section:
    return Section(area=1.0, second_moment=second_moment)


def test_central_and_even_load_together() -> None:
    """Open textbook, example 11.9: 5 kN/m and 100 kN on 10 m, E = 210 GPa.

    At most 40 mm asks for I = 325.5e6 mm⁴ (printed).
    """
    beam = Beam(
        section=section(325.5e6),
        modulus=210_000,
        lasting=210_000,
        push=100_000,
        weight=5.0,
        words="",
        source=Source("test"),
    )
    assert sag(beam, 10_000) == pytest.approx(40.0, rel=2e-4)
    assert longest_span(beam, 40.0) == pytest.approx(10_000, rel=1e-4)


def test_wooden_beam_by_its_deflection() -> None:
    """Open textbook, example 11.8: 1.5 kip/ft on 12 ft, E = 1700 ksi, height 1.5 b.

    At most L/240 asks for b = 7.028 in (printed).
    """
    b = 7.028
    found = sag_of_weight(
        1500 / 12, span=144, modulus=1_700_000, section=section(b * (1.5 * b) ** 3 / 12)
    )
    assert found == pytest.approx(144 / 240, rel=4 * 0.0005 / b)


def test_floor_joist() -> None:
    """Chudley and Greeno: 4500 N on 5000 mm, 50 x 225, E = 10 800 N/mm²: 14.27 mm (printed).

    Printed with I rounded to 4.75e7 mm⁴, and cut after two figures.
    """
    found = sag_of_weight(4500 / 5000, span=5000, modulus=10_800, section=section(4.75e7))
    assert found == pytest.approx(14.27, abs=0.01)


def elements(
    ends: Sequence[float],
    supports: Sequence[float],
    stiffness: float,
    *,
    even: Sequence[tuple[float, float, float]] = (),
    points: Sequence[tuple[float, float]] = (),
    parts: int = 24,
) -> tuple[np.ndarray, np.ndarray]:
    """Return nodes and their sag of a straight beam on supports; loads downwards.

    ``even``: from, to, load a length; ``points``: place, load.
    """
    marks = sorted(
        {*ends, *supports, *(p for p, _ in points), *(x for a, b, _ in even for x in (a, b))}
    )
    nodes = np.unique(np.concatenate([np.linspace(a, b, parts + 1) for a, b in pairwise(marks)]))
    nodes = nodes[np.concatenate([[True], np.diff(nodes) > 1e-9 * (nodes[-1] - nodes[0])])]
    size = 2 * len(nodes)
    whole, load = np.zeros((size, size)), np.zeros(size)
    for n, (a, b) in enumerate(pairwise(nodes)):
        h, at = b - a, slice(2 * n, 2 * n + 4)
        whole[at, at] += (
            stiffness
            / h**3
            * np.array(
                [
                    [12, 6 * h, -12, 6 * h],
                    [6 * h, 4 * h * h, -6 * h, 2 * h * h],
                    [-12, -6 * h, 12, -6 * h],
                    [6 * h, 2 * h * h, -6 * h, 4 * h * h],
                ]
            )
        )
        q = sum(load for start, end, load in even if start <= (a + b) / 2 <= end)
        load[at] += q * np.array([h / 2, h * h / 12, h / 2, -h * h / 12])
    for place, force in points:
        load[2 * int(np.abs(nodes - place).argmin())] += force
    held = [2 * int(np.abs(nodes - place).argmin()) for place in supports]
    free = np.setdiff1d(np.arange(size), held)
    moved = np.zeros(size)
    moved[free] = np.linalg.solve(whole[np.ix_(free, free)], load[free])
    return nodes, moved[::2]


def test_the_elements_against_overhangs_in_print() -> None:
    """Timoshenko: 10 kip/ft on overhangs of 10 ft, 20 ft between: the middle rises 0.182 in.

    Beer and Johnston [mem]: 50 kip on an overhang of 4 ft behind 15 ft, W14x68 (723 in⁴): the
    span rises 0.238 in at most.
    """
    nodes, sags = elements(
        (-120, 360), (0, 240), 30e6 * 7892, even=((-120, 0, 10_000 / 12), (240, 360, 10_000 / 12))
    )
    assert -sags[np.abs(nodes - 120).argmin()] == pytest.approx(0.182, abs=0.0006)
    _, sags = elements((0, 228), (0, 180), 29e6 * 723, points=((228, 50_000),))
    assert -sags.min() == pytest.approx(0.238, abs=0.0006)


@pytest.mark.parametrize(("over", "span"), [(50.0, 300.0), (20.0, 120.0), (100.0, 100.0)])
def test_free_end_against_elements(over: float, span: float) -> None:
    stiffness = 210_000 * 326.15
    _, sags = elements((0, span + over), (0, span), stiffness, points=((span + over, 20.0),))
    found = sag_of_end(20.0, over=over, span=span, modulus=210_000, section=section(326.15))
    assert found == pytest.approx(sags[-1], rel=1e-6)


@pytest.mark.parametrize("span", [150.0, 300.0])
def test_span_against_elements(span: float) -> None:
    stiffness = 3000.0 * 8000.0
    _, sags = elements(
        (0, span), (0, span), stiffness, even=((0, span, 0.03),), points=((span / 2, 30.0),)
    )
    found = sag_of_push(30.0, span=span, modulus=3000, section=section(8000.0)) + sag_of_weight(
        0.03, span=span, modulus=3000, section=section(8000.0)
    )
    assert found == pytest.approx(sags.max(), rel=1e-6)


PIECES = {
    "rail": rail_beam("TH35-7.5"),
    "duct": duct_beam(width=25, run=Run.ACROSS, inside=1200.0),
    "upright duct": duct_beam(width=40, run=Run.UPRIGHT, inside=1600.0),
}


@pytest.mark.parametrize("name", PIECES)
@pytest.mark.parametrize("spans", [2, 3, 5])
def test_a_piece_on_several_screws_bends_less_than_is_reckoned(name: str, spans: int) -> None:
    """The span is taken without its neighbours: true pieces run on, and stay below the limit.

    Every span in turn bears the push, all bear the weight; ends overhang as far as they may.
    """
    beam = PIECES[name]
    assert beam is not None
    limit = 1.0
    span = min(300.0, longest_span(beam, limit))
    over = min(50.0, longest_end(beam, span, limit))
    screws = [span * n for n in range(spans + 1)]
    ends = (-over, screws[-1] + over)
    short, lasting = (e * beam.section.second_moment for e in (beam.modulus, beam.lasting))
    _, weight = elements(ends, screws, lasting, even=((*ends, beam.weight),))
    for left in screws[:-1]:
        _, push = elements(ends, screws, short, points=((left + span / 2, beam.push),))
        assert push.max() + weight.max() <= sag(beam, span) * (1 + 1e-9) <= limit * (1 + 1e-6)
    _, push = elements(ends, screws, short, points=((ends[1], beam.push),))
    assert push.max() <= end_sag(beam, over, span) * (1 + 1e-9) <= limit * (1 + 1e-6)
