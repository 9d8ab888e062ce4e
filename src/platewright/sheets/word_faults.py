"""Words on words, words on bodies, leaders through words: what a plate drawing may not show."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from platewright.drawing.clip import clipped, is_crossed
from platewright.drawing.extent import extent, text_box
from platewright.drawing.flatten import flat_ordinate
from platewright.drawing.picture import Axis, Line, Ordinate, Polyline, Primitive, Rect, Text
from platewright.foundation.units import Mm
from platewright.model.geometry import Box
from platewright.model.panel import Panel, body_box
from platewright.sheets.lettering_rules import SAME


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """Boxes of words and straight pieces of leaders."""

    words: tuple[Box, ...] = ()
    leaders: tuple[Line, ...] = ()

    def with_more(self, parts: Iterable[Primitive]) -> Drawn:
        """Return this and what further primitives draw."""
        more = drawn(parts)
        return Drawn(words=self.words + more.words, leaders=self.leaders + more.leaders)

    def boxes(self) -> Iterator[Box]:
        """Yield a box round everything."""
        yield from self.words
        yield from (extent((piece,)) for piece in self.leaders)


def drawn(parts: Iterable[Primitive]) -> Drawn:
    """Return the words of primitives and the pieces of their leaders."""
    flat = [
        piece
        for part in parts
        for piece in (flat_ordinate(part) if isinstance(part, Ordinate) else (part,))
    ]
    return Drawn(
        words=tuple(text_box(piece) for piece in flat if isinstance(piece, Text)),
        leaders=tuple(
            Line(layer=piece.layer, start=start, end=end)
            for piece in flat
            if isinstance(piece, Polyline) and not piece.closed
            for start, end in pairwise(piece.points)
        ),
    )


def bodies(panel: Panel) -> tuple[Box, ...]:
    """Return the outlines of all devices."""
    job = panel.job
    return tuple(body_box(job.part_of(tag), at) for tag, at in panel.layout.devices.items())


def word_faults(new: Drawn, before: Drawn, outlines: Sequence[Box]) -> int:
    """Return how often new words on leaders lie on words, bodies or leaders, or leaders on them."""
    if not new.words:
        return 0
    around = extent_of(new)
    old = Drawn(
        words=tuple(box for box in before.words if _meets(box, around)),
        leaders=tuple(piece for piece in before.leaders if _meets(extent((piece,)), around)),
    )
    on_words = sum(_lie_over(one, other) for one, other in combinations(new.words, 2))
    on_words += sum(_lie_over(one, other) for one in new.words for other in old.words)
    on_bodies = sum(
        _lie_over(one, body) for body in outlines if _meets(body, around) for one in new.words
    )
    through = sum(
        _runs_through(piece, box) for piece in new.leaders for box in (*new.words, *old.words)
    )
    through += sum(_runs_through(piece, box) for piece in old.leaders for box in new.words)
    crossed = sum(is_crossed(one, other) for one, other in combinations(new.leaders, 2))
    crossed += sum(is_crossed(one, other) for one in new.leaders for other in old.leaders)
    return on_words + on_bodies + through + crossed


def picture_faults(panel: Panel, parts: Iterable[Primitive]) -> int:
    """Return how often words of a whole plate drawing lie on words or outlines, or leaders on them.

    Leaders of the ordinates at the plate's edges are interrupted where they meet words.
    """
    parts = tuple(parts)
    led = [part for part in parts if not isinstance(part, Ordinate) or not is_at_edge(part)]
    lines, words = drawn(led).leaders, drawn(parts).words
    outlines = bodies(panel)
    on_words = sum(_lie_over(one, other) for one, other in combinations(words, 2))
    on_edges = sum(
        _lie_over(one, body) and not _is_within(one, body) for one in words for body in outlines
    )
    through = sum(_runs_through(piece, box) for piece in lines for box in words)
    return on_words + on_edges + through


def is_at_edge(ordinate: Ordinate) -> bool:
    """Tell whether an ordinate's number stands beside the plate."""
    end = ordinate.path[-1]
    return end.y < 0 if ordinate.axis is Axis.X else end.x < 0


def blanks(words: Iterable[Box], leaders: Sequence[Line], air: Mm) -> Iterator[Rect]:
    """Yield a blank under each of the words that a leader would run through (ISO 129-1)."""
    for box in words:
        if any(_runs_through(piece, box) for piece in leaders):
            yield Rect(layer="INTERRUPT", box=box.grown(air, air, air, air))


def _is_within(one: Box, body: Box) -> bool:
    return (
        one.left >= body.left
        and one.right <= body.right
        and one.bottom >= body.bottom
        and one.top <= body.top
    )


def extent_of(one: Drawn) -> Box:
    """Return the box round everything drawn."""
    found, *rest = one.boxes()
    for box in rest:
        found = found.union(box)
    return found


def _meets(box: Box, around: Box) -> bool:
    return (
        box.left <= around.right
        and box.right >= around.left
        and box.bottom <= around.top
        and box.top >= around.bottom
    )


def _lie_over(one: Box, other: Box) -> bool:
    across, up = one.overlap(other)
    return across > SAME and up > SAME


def _runs_through(piece: Line, words: Box) -> bool:
    within = words.grown(-SAME, -SAME, -SAME, -SAME)
    return clipped(piece.start, piece.end, within) is not None
