"""Put tasks in order by what must come before what; say what goes round in a circle.

Nothing here knows of plates. Which of several ready tasks comes first is told by its rank; ready
tasks of one group follow each other.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeAlias

Rank: TypeAlias = tuple[float | str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """Something to do: the group it is done with, and its rank among what could be done."""

    group: str
    rank: Rank


@dataclass(frozen=True, slots=True, kw_only=True)
class Before:
    """One task must be done before another, and why."""

    first: str
    then: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Ordered:
    """Groups of tasks in order. ``cycle``: a circle that keeps the rest from being done."""

    groups: tuple[tuple[str, ...], ...]
    cycle: tuple[Before, ...] = ()


def in_order(tasks: Mapping[str, Task], befores: Iterable[Before]) -> Ordered:
    """Return the tasks in an order that keeps every ``Before``, or the circle that forbids it.

    Kahn's method: take what waits for nothing, then what waits for nothing else any more.
    """
    waits: dict[str, set[str]] = {name: set() for name in tasks}
    follows: dict[str, set[str]] = {name: set() for name in tasks}
    reasons: dict[tuple[str, str], Before] = {}
    for before in befores:
        if before.first not in tasks or before.then not in tasks:
            raise ValueError(f"{before.first} or {before.then} is no task")
        waits[before.then].add(before.first)
        follows[before.first].add(before.then)
        reasons.setdefault((before.first, before.then), before)
    groups: list[list[str]] = []
    ready = {name for name, others in waits.items() if not others}
    done: set[str] = set()
    while ready:
        group = tasks[min(ready, key=lambda name: (tasks[name].rank, name))].group
        if not groups or tasks[groups[-1][0]].group != group:
            groups.append([])
        while here := [name for name in ready if tasks[name].group == group]:
            # one by one: what waited for it alone may rank before the rest of the group
            name = min(here, key=lambda name: (tasks[name].rank, name))
            groups[-1].append(name)
            done.add(name)
            ready.discard(name)
            for after in follows[name]:
                waits[after].discard(name)
                if not waits[after]:
                    ready.add(after)
    cycle = () if len(done) == len(tasks) else _circle(waits, reasons)
    return Ordered(groups=tuple(map(tuple, groups)), cycle=cycle)


def _circle(
    waits: Mapping[str, set[str]], reasons: Mapping[tuple[str, str], Before]
) -> tuple[Before, ...]:
    """Return one circle among the tasks that still wait: back from any, until one comes again."""
    here = min(name for name, others in waits.items() if others)
    trail: list[str] = []
    while here not in trail:
        trail.append(here)
        here = min(waits[here])
    circle = [*trail[trail.index(here) :], here]
    return tuple(reasons[first, then] for then, first in pairwise(circle))[::-1]
