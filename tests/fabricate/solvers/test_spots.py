"""The choice of fixing spots against every choice there is."""

from collections.abc import Sequence
from itertools import combinations, pairwise

from hypothesis import given
from hypothesis import strategies as st

from platewright.fabricate.solvers.spots import Span, Spot, Sunk, choose_spots, excess

spot_lists = st.lists(
    st.builds(
        Spot,
        at=st.integers(1, 99),
        line=st.sampled_from([None, 0, 1]),
        sunk=st.sampled_from([Sunk.NOTHING, Sunk.NOTHING, Sunk.OWN, Sunk.LEFT_OVER]),
    ),
    max_size=9,
)
spans = st.builds(
    Span,
    length=st.just(100),
    end=st.integers(5, 60),
    span=st.integers(10, 80),
    least=st.integers(0, 12),
)


def cost(chosen: Sequence[Spot], span: Span) -> tuple[int, int, int, int] | None:
    """Return beyond the limits, new holes, screws, unevenness; None: not allowed."""
    for left, right in pairwise(chosen):
        if left.line is not None and left.line == right.line:
            return None
        new = left.sunk is Sunk.NOTHING or right.sunk is Sunk.NOTHING
        if new and (right.at - left.at < span.least or right.at == left.at):
            return None
    gaps = [b - a for a, b in pairwise([0, *(s.at for s in chosen), span.length])]
    over = max(0, gaps[0] - span.end) + max(0, gaps[-1] - span.end)
    over += sum(max(0, gap - span.span) for gap in gaps[1:-1])
    return (
        over,
        sum(s.sunk is Sunk.NOTHING for s in chosen),
        sum(s.sunk is not Sunk.OWN for s in chosen),
        sum(gap * gap for gap in gaps),
    )


def every_choice(spots: list[Spot], span: Span, least: int) -> list[tuple[int, int, int, int]]:
    ordered = sorted(spots, key=lambda s: (s.at, -1 if s.line is None else s.line, s.hole))
    return [
        priced
        for many in range(least, len(spots) + 1)
        for chosen in combinations(ordered, many)
        if (priced := cost(chosen, span)) is not None
    ]


@given(spot_lists, spans)
def test_no_choice_is_cheaper(spots: list[Spot], span: Span) -> None:
    chosen = choose_spots(spots, span)
    choices = every_choice(spots, span, 2) or every_choice(spots, span, 1)
    if not spots:
        assert chosen == ()
        return
    assert cost(chosen, span) == min(choices)
    assert len(chosen) >= 2 or not every_choice(spots, span, 2)


def plain(*places: int) -> list[Spot]:
    return [Spot(at=at) for at in places]


def test_fewest_within_the_limits_then_most_even() -> None:
    span = Span(length=1000, end=50, span=300)
    raster = plain(*range(10, 1000, 10))
    assert [s.at for s in choose_spots(raster, span)] == [50, 350, 650, 950]


def test_at_the_limit_just_inside_just_outside() -> None:
    ends = plain(50, 350, 650)
    for span, over in ((301, 0), (300, 0), (299, 2)):
        limits = Span(length=700, end=50, span=span)
        assert excess(choose_spots(ends, limits), limits) == over


def test_short_piece_still_has_two() -> None:
    assert len(choose_spots(plain(10, 20, 30), Span(length=40, end=50, span=300))) == 2


def test_one_spot_is_better_than_none() -> None:
    assert choose_spots(plain(12), Span(length=30, end=50, span=300)) == tuple(plain(12))
    assert choose_spots([], Span(length=30, end=50, span=300)) == ()


def test_own_holes_always_serve() -> None:
    own = Spot(at=333, sunk=Sunk.OWN, hole="H7")
    chosen = choose_spots([*plain(*range(10, 1000, 10)), own], Span(length=1000, end=50, span=300))
    assert own in chosen


def test_left_over_hole_serves_only_where_it_saves_one() -> None:
    useful = Spot(at=300, sunk=Sunk.LEFT_OVER)
    useless = Spot(at=60, sunk=Sunk.LEFT_OVER)
    span = Span(length=600, end=50, span=300)
    chosen = choose_spots([*plain(50, 290, 310, 550), useful, useless], span)
    assert useful in chosen
    assert useless not in chosen


def test_lines_take_turns() -> None:
    both = [Spot(at=at, line=line) for at in range(10, 1000, 10) for line in (0, 1)]
    lines = [spot.line for spot in choose_spots(both, Span(length=1000, end=50, span=300))]
    assert lines in ([0, 1, 0, 1], [1, 0, 1, 0])


def test_nowhere_free_in_the_middle_gives_the_best_possible() -> None:
    span = Span(length=1000, end=50, span=300)
    chosen = choose_spots(plain(*range(10, 300, 10), *range(700, 1000, 10)), span)
    assert excess(chosen, span) == 700 - 290 - 300
