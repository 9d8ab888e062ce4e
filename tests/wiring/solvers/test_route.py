"""Routes against a general graph library, by hand, and by law."""

from __future__ import annotations

from itertools import pairwise

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generated_jobs import generated_job
from platewright.app.gather import clear_spaces, outer_diameters, wiring_spaces
from platewright.app.plans.plan import Budget, plan
from platewright.arrange.arranger import probe
from platewright.arrange.task import Standing, task_for
from platewright.model.geometry import Point, path_length
from platewright.model.job import Job
from platewright.model.layout import Duct, Layout, Run
from platewright.wiring.duct_fill import outer_area
from platewright.wiring.duct_load import fullest
from platewright.wiring.network import entries, manhattan, network_of, point_on
from platewright.wiring.solvers.route import route_wires


def _arranged(seed: int) -> tuple[Job, Layout, float]:
    job = generated_job(16, seed=seed)
    task = task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing())
    found = probe(
        task, job.settings.stock.ducts[1], moves=300, seed=seed, report=lambda _d, _w: True
    )
    return job, found.layout, found.found.wire


@pytest.mark.parametrize("seed", range(6))
def test_routes_are_shortest_by_a_graph_library(seed: int) -> None:
    """networkx.dijkstra over ducts cut at every joint and every entry."""
    job, layout, _ = _arranged(seed)
    network = network_of(layout)
    ends = entries(job, layout)
    graph = nx.Graph()
    for tag, duct in layout.ducts.items():
        places = {n.at for n in network.nodes if n.duct == tag}
        places |= {e.node.at for e in ends.values() if e is not None and e.node.duct == tag}
        for a, b in pairwise(sorted(places)):
            gap = manhattan(point_on(duct, a), point_on(duct, b))
            graph.add_edge((tag, a), (tag, b), weight=gap)
        for place in places:
            graph.add_node((tag, place))
    nodes = network.nodes
    for i, j, length in network.ties:
        a, b = (nodes[i].duct, nodes[i].at), (nodes[j].duct, nodes[j].at)
        if a != b:
            graph.add_edge(a, b, weight=length)
    routes = route_wires(job, layout, outer_diameters(job))
    for wire in job.wires:
        a = ends[wire.start.device, wire.start.terminal]
        b = ends[wire.end.device, wire.end.terminal]
        assert a is not None
        assert b is not None
        stubs = sum(manhattan(p, q) for e in (a, b) for p, q in pairwise(e.path))
        known = nx.dijkstra_path_length(graph, (a.node.duct, a.node.at), (b.node.duct, b.node.at))
        assert routes.wires[wire.number].run == pytest.approx(known + stubs, abs=1e-4)


@pytest.mark.parametrize("seed", range(6))
def test_the_search_and_the_router_agree_on_the_length(seed: int) -> None:
    """The search's closed form is exact where every wire takes its shortest way."""
    job, layout, estimate = _arranged(seed)
    routes = route_wires(job, layout, outer_diameters(job))
    assert all(route.is_routed for route in routes.wires.values())
    total = sum(route.run for route in routes.wires.values())
    assert total == pytest.approx(estimate, abs=0.5 * len(job.wires))  # places told to 0.01 mm


@pytest.mark.parametrize("seed", range(3))
def test_no_route_is_shorter_than_the_straight_way(seed: int) -> None:
    job, layout, _ = _arranged(seed)
    for route in route_wires(job, layout, outer_diameters(job)).wires.values():
        assert route.run >= manhattan(route.path[0], route.path[-1]) - 1e-6
        assert path_length(route.path) == pytest.approx(route.run, abs=1e-3)
        assert route.cut >= route.run


def _duct(x: float, y: float, length: float, run: Run) -> Duct:
    return Duct(x=x, y=y, length=length, width=40.0, height=60.0, run=run)


def test_two_ducts_that_nothing_joins_are_told() -> None:
    job, layout, _ = _arranged(1)
    across = {t: d for t, d in layout.ducts.items() if d.run is Run.ACROSS}
    apart = Layout(devices=layout.devices, ducts=across)
    routes = route_wires(job, apart, outer_diameters(job))
    problems = [r.problem for r in routes.wires.values() if not r.is_routed]
    assert problems
    assert all("no way from duct" in problem for problem in problems)


def test_ducts_join_where_they_touch_and_not_side_by_side() -> None:
    ducts = {
        "D1": _duct(40.0, 0.0, 400.0, Run.ACROSS),
        "D2": _duct(0.0, 0.0, 300.0, Run.UPRIGHT),
        "D3": _duct(40.0, 41.0, 400.0, Run.ACROSS),  # lies along D1, wall to wall
        "D4": _duct(441.0, 0.0, 200.0, Run.ACROSS),  # goes on from D1
    }
    network = network_of(Layout(ducts=ducts))
    joined = {
        frozenset((network.nodes[i].duct, network.nodes[j].duct))
        for i, j, _ in network.ties
        if network.nodes[i].duct != network.nodes[j].duct
    }
    assert joined == {frozenset(("D1", "D2")), frozenset(("D2", "D3")), frozenset(("D1", "D4"))}
    corner = next(t for t in network.ties if {network.nodes[k].duct for k in t[:2]} == {"D1", "D2"})
    assert corner[2] == 20.0  # by hand: from D1's end to D2's axis


def test_fullest_place_by_hand() -> None:
    at, wires, area = fullest([(0.0, 100.0, 2.0), (50.0, 150.0, 4.0), (100.0, 200.0, 2.0)])
    # by hand: at 50 the first two pass; at 100 the first has ended when the third begins
    assert (at, wires) == (50.0, 2)
    assert area == pytest.approx(outer_area(2.0) + outer_area(4.0))


@settings(max_examples=50, deadline=None)
@given(
    st.lists(
        st.tuples(st.floats(0, 500), st.floats(0, 500), st.floats(1, 10)), min_size=1, max_size=12
    )
)
def test_one_more_wire_never_empties_a_duct(wires: list[tuple[float, float, float]]) -> None:
    passing = [(min(a, b), max(a, b), d) for a, b, d in wires]
    assert fullest(passing)[2] >= fullest(passing[:-1])[2] - 1e-9


def test_a_door_wire_goes_by_the_hinge() -> None:
    from dataclasses import replace

    from platewright.model.device import Device, Place
    from platewright.model.wire import End

    job = generated_job(12, seed=2)
    door = Device(tag="-P1", part="relay-22", place=Place.DOOR, door_x=200.0, door_y=300.0)
    wire = replace(job.wires[0], number="door", end=End("-P1", "11"))
    job = replace(job, devices={**job.devices, "-P1": door}, wires=(*job.wires[1:], wire))
    planned = plan(job, Layout(), seed=1, budget=Budget(moves=2000), progress=lambda _s, _t: True)
    route = planned.panel.routes.wires["door"]
    assert route.is_routed
    assert any(p.x == job.settings.hinge_line for p in route.path)
    assert route.path[0] == Point(200.0 + 22.5 / 2, 350.0) or route.path[-1] == Point(
        200.0 + 22.5 / 2, 350.0
    )


def test_a_wire_between_two_door_devices_stays_on_the_door() -> None:
    from dataclasses import replace

    from platewright.model.device import Device, Place
    from platewright.model.wire import End
    from platewright.wiring.wire_length import cut_length

    job = generated_job(12, seed=2)
    doors = {
        tag: Device(tag=tag, part="relay-22", place=Place.DOOR, door_x=x, door_y=y)
        for tag, x, y in (("-S1", 200.0, 300.0), ("-S2", 250.0, 320.0))
    }
    jumper = replace(job.wires[0], number="door", start=End("-S1", "11"), end=End("-S2", "11"))
    job = replace(job, devices={**job.devices, **doors}, wires=(jumper,))
    route = route_wires(job, Layout(), outer_diameters(job)).wires["door"]  # no duct at all
    assert route.is_routed
    assert route.run == 50.0 + 20.0
    assert route.stretches == ()
    assert route.cut == cut_length(70.0)  # no loop over the hinge
    assert all(p.x < job.settings.hinge_line or job.settings.hinge_line <= 0 for p in route.path)


def test_a_wire_to_a_door_device_whose_place_is_open_has_no_length() -> None:
    from dataclasses import replace

    from platewright.model.device import Device, Place
    from platewright.model.wire import End

    job = generated_job(12, seed=2)
    door = Device(tag="-P1", part="relay-22", place=Place.DOOR)
    wire = replace(job.wires[0], number="door", end=End("-P1", "11"))
    job = replace(job, devices={**job.devices, "-P1": door}, wires=(*job.wires[1:], wire))
    planned = plan(job, Layout(), seed=1, budget=Budget(moves=2000), progress=lambda _s, _t: True)
    route = planned.panel.routes.wires["door"]
    assert route.problem == "the place of -P1 in the door is not stated"
    assert route.cut == 0.0
    assert all(
        other.is_routed for number, other in planned.panel.routes.wires.items() if number != "door"
    )
