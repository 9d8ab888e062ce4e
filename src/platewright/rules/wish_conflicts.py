"""The smallest sets of wishes that contradict each other."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import comb
from typing import Final

from platewright.model.job import Job
from platewright.rules.wish_order import Asked, Ground, clash, facts_of, ground_of, wishes_of

MOST_TRIALS: Final = 4000  # sets of fewer wishes looked at one by one
MOST_CONFLICTS: Final = 20  # told of one job

Contradicts = Callable[[Sequence[Asked]], bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class Conflict:
    """Wishes that can't all be obeyed; leave out any one of them and the rest can."""

    wishes: tuple[Asked, ...]
    facts: tuple[Asked, ...]  # what else it takes: what plugs together, the plate's width
    why: str
    is_smallest: bool  # whether no set of fewer wishes contradicts itself (all were tried)


def conflicts_of(job: Job) -> tuple[Conflict, ...]:
    """Return conflicts that share no wish, the smallest found each time; empty: all agree.

    One without a wish is told alone: then the devices don't agree with the plate, whatever one
    wishes.
    """
    ground = ground_of(job)
    facts = facts_of(job, ground)
    left = list(wishes_of(job))
    found: list[Conflict] = []
    while len(found) < MOST_CONFLICTS and clash([*facts, *left], ground):
        one = _smallest(left, facts, ground)
        found.append(one)
        if not one.wishes:
            break
        left = [wish for wish in left if wish not in one.wishes]
    return tuple(found)


def _smallest(wishes: list[Asked], facts: tuple[Asked, ...], ground: Ground) -> Conflict:
    def contradicts(some: Sequence[Asked]) -> bool:
        return bool(clash([*facts, *some], ground))

    orders = (wishes, wishes[::-1], wishes[len(wishes) // 2 :] + wishes[: len(wishes) // 2])
    best = min((irreducible(order, contradicts) for order in orders), key=len)
    smaller, tried_all = _fewer(wishes, len(best), contradicts)
    best = smaller or best
    named = irreducible(facts, lambda some: bool(clash([*some, *best], ground)))
    return Conflict(
        wishes=tuple(sorted(best, key=wishes.index)),
        facts=tuple(named),
        why=clash([*named, *best], ground),
        is_smallest=tried_all,
    )


def _fewer(
    wishes: list[Asked], size: int, contradicts: Contradicts
) -> tuple[list[Asked] | None, bool]:
    """Return a contradicting set below a size, and whether all smaller ones were tried."""
    left = MOST_TRIALS
    for count in range(size):
        left -= comb(len(wishes), count)
        if left < 0:
            return None, False
        for some in combinations(wishes, count):
            if contradicts(some):
                return list(some), True
    return None, True


def irreducible(asked: Sequence[Asked], contradicts: Contradicts) -> list[Asked]:
    """Return a contradicting part of which nothing can be left out; blank where none is needed.

    Divide and conquer: whole halves that are not needed go at once.
    """
    if contradicts([]):
        return []
    return list(_needed([], list(asked), contradicts, is_new=False))


def _needed(
    kept: list[Asked], rest: list[Asked], contradicts: Contradicts, *, is_new: bool
) -> Iterator[Asked]:
    """Yield what of ``rest`` is needed beside ``kept`` to contradict."""
    if is_new and contradicts(kept):
        return
    if len(rest) <= 1:
        yield from rest
        return
    half = len(rest) // 2
    first, second = rest[:half], rest[half:]
    of_second = list(_needed(kept + first, second, contradicts, is_new=bool(first)))
    yield from _needed(kept + of_second, first, contradicts, is_new=bool(of_second))
    yield from of_second
