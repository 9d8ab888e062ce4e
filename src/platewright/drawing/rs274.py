"""Drill programs in the language of RS-274/NGC: every hole a full line, nothing left modal.

Knows nothing of plates. Sideways moves happen at the safe height only (``G98``: back to it after
each hole). A dry run turns no spindle and stays above the work. Comments are plain ASCII.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from platewright.drawing.numbers import fixed
from platewright.foundation.units import Mm, Rpm
from platewright.model.geometry import Point

HEAD: Final = "G21 G90 G17 G94 G54 G80 G40 G49"  # mm, absolute, XY, feed a minute, no offsets left
PLAIN: Final = {"⌀": "D", "×": "x", "°": " deg", "–": "-", "−": "-", "·": "."}
DECIMALS: Final = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One tool and the holes it makes, in order. ``pitch``: of a tap; ``None``: a drill."""

    title: str
    spindle: Rpm
    feed: Mm  # way down in one turn
    depth: Mm
    holes: tuple[tuple[str, Point], ...]
    pitch: Mm | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Heights:
    """Heights above the face of the plate, which is Z 0."""

    safe: Mm  # sideways moves
    retract: Mm  # where a cycle begins to feed
    dry: Mm  # lowest a dry run goes


def write_program(
    runs: Sequence[Run], *, title: str, heights: Heights, notes: Sequence[str] = (), dry: bool
) -> bytes:
    """Return a program; with ``dry`` one that visits every hole and cuts nothing."""
    lines = [f"({plain(title)})", *(f"({plain(note)})" for note in notes)]
    if dry:
        lines.append("(DRY RUN: SPINDLE OFF, STAYS ABOVE THE WORK)")
    lines += [HEAD, f"G0 Z{fixed(heights.safe, DECIMALS)}"]
    for number, run in enumerate(runs, start=1):
        lines += _run(run, number, heights, dry=dry)
    lines += ["G80", f"G0 Z{fixed(heights.safe, DECIMALS)}", "M5", "M30"]
    return ("%\n" + "\n".join(lines) + "\n%\n").encode("ascii")


def _run(run: Run, number: int, heights: Heights, *, dry: bool) -> Iterator[str]:
    safe = fixed(heights.safe, DECIMALS)
    count = f"{len(run.holes)} HOLE{'' if len(run.holes) == 1 else 'S'}"
    yield f"(TOOL {number}: {plain(run.title)}, {count})"
    yield "M5"
    yield f"T{number} M6"
    yield "M0 (SET Z0 ON THE FACE OF THE PLATE WITH THIS TOOL, THEN GO ON)"
    yield f"G0 Z{safe}"
    if dry:
        for tag, at in run.holes:
            yield f"G0 X{fixed(at.x, DECIMALS)} Y{fixed(at.y, DECIMALS)} ({plain(tag)})"
            yield f"G0 Z{fixed(heights.dry, DECIMALS)}"
            yield f"G0 Z{safe}"
        return
    yield f"M3 S{fixed(run.spindle, 0)}"
    yield "G4 P2"
    cycle = "G81" if run.pitch is None else "G84"
    feed = fixed(run.spindle * (run.feed if run.pitch is None else run.pitch), 1)
    for tag, at in run.holes:
        yield (
            f"G98 {cycle} X{fixed(at.x, DECIMALS)} Y{fixed(at.y, DECIMALS)} "
            f"Z{fixed(-run.depth, DECIMALS)} R{fixed(heights.retract, DECIMALS)} F{feed} "
            f"({plain(tag)})"
        )
    yield "G80"
    yield f"G0 Z{safe}"


def plain(words: str) -> str:
    """Return words as a comment may hold them: ASCII, no brackets that would end it."""
    for sign, letters in PLAIN.items():
        words = words.replace(sign, letters)
    kept = words.encode("ascii", "replace").decode()
    return "".join(c if c.isprintable() and c not in "()%;" else " " for c in kept)
