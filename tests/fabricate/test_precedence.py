"""Orders against a graph library; circles are true circles."""

import random

import networkx as nx
import pytest

from platewright.fabricate.precedence import Before, Task, in_order


def random_tasks(seed, *, loops):
    chance = random.Random(seed)
    names = [f"t{n}" for n in range(chance.randint(2, 30))]
    tasks = {name: Task(group=chance.choice("abc"), rank=(chance.randint(0, 5),)) for name in names}
    befores = []
    for _ in range(chance.randint(1, 60)):
        a, b = sorted(chance.sample(range(len(names)), 2))
        if loops and chance.random() < 0.1:
            a, b = b, a
        befores.append(Before(first=names[a], then=names[b], why=f"{a} before {b}"))
    return tasks, befores


@pytest.mark.parametrize("seed", range(40))
def test_every_before_is_kept_or_a_circle_is_shown(seed):
    tasks, befores = random_tasks(seed, loops=seed % 2 == 1)
    graph = nx.DiGraph()
    graph.add_nodes_from(tasks)
    graph.add_edges_from((before.first, before.then) for before in befores)
    found = in_order(tasks, befores)
    assert bool(found.cycle) == (not nx.is_directed_acyclic_graph(graph))
    flat = [name for group in found.groups for name in group]
    place = {name: at for at, name in enumerate(flat)}
    if found.cycle:
        for before, after in zip(found.cycle, found.cycle[1:], strict=False):
            assert before.then == after.first
        assert found.cycle[-1].then == found.cycle[0].first
        assert set(found.cycle) <= set(befores)
    else:
        assert sorted(flat) == sorted(tasks)
        assert all(place[before.first] < place[before.then] for before in befores)


def test_the_order_of_the_lists_changes_nothing():
    tasks, befores = random_tasks(4, loops=False)
    again = in_order(dict(reversed(tasks.items())), list(reversed(befores)))
    assert again.groups == in_order(tasks, befores).groups


def test_rank_decides_among_ready_tasks_and_groups_stay_together():
    tasks = {
        "c": Task(group="late", rank=(9,)),
        "a1": Task(group="a", rank=(1,)),
        "b": Task(group="b", rank=(2,)),
        "a2": Task(group="a", rank=(3,)),
    }
    assert in_order(tasks, ()).groups == (("a1", "a2"), ("b",), ("c",))


def test_what_waits_inside_its_group_still_stands_by_rank():
    """A module that plugs into its head follows it, though others were ready before it."""
    tasks = {name: Task(group="rail", rank=(at,)) for at, name in enumerate("ambx")}
    befores = [Before(first="a", then="m", why="m plugs into a")]
    assert in_order(tasks, befores).groups == (("a", "m", "b", "x"),)


def test_a_task_nobody_knows_is_a_mistake():
    with pytest.raises(ValueError, match="no task"):
        in_order({"a": Task(group="a", rank=())}, [Before(first="a", then="b", why="")])
