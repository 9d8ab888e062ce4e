"""Devices 40 wide in one row, with the groups they belong to."""

import itertools
import random
from dataclasses import replace

import pytest

from platewright.model.job import Group
from platewright.rules.placed import placed_devices
from platewright.rules.rows import rows_of
from platewright.rules.space.voltage_zones import path_of, split_row

from ..builders import device, panel, part, settings, told, verdict

RULE = "space.voltage-zones"


def row(groups, gaps=None, covers=None, **fields):
    """Devices with the groups named by letters, e.g. ["M", "MC"], and the gaps between them."""
    gaps = gaps or [10.0] * (len(groups) - 1)
    xs = [10.0]
    for gap in gaps:
        xs.append(xs[-1] + 40.0 + gap)
    return panel(
        parts=[part(**(covers or {}))],
        devices=[
            (device(f"-A{n}", group=tuple(letters)), (x, 100))
            for n, (letters, x) in enumerate(zip(groups, xs, strict=True))
        ],
        job=settings(limits={"group_gap": 10.0}),
        **fields,
    )


@pytest.mark.parametrize(("gap", "wanted"), [(10.0, "PASS"), (10.01, "PASS"), (9.99, "FAIL")])
def test_gap_between_two_groups(gap, wanted):
    assert verdict(RULE, row(["M", "M", "C"], [0.0, gap])) == wanted


def test_no_gap_is_asked_within_a_group():
    assert verdict(RULE, row(["M", "M", "M"], [0.0, 0.0])) == "PASS"


def test_interleaved_groups_fail_and_name_the_one_that_came_back():
    found = told(RULE, row(["M", "C", "M"]))[0]
    assert (found.subject, found.verdict) == ("-A2", "FAIL")


def test_a_device_of_two_groups_stands_with_either():
    assert verdict(RULE, row(["M", "MC", "C"], [0.0, 10.0])) == "PASS"
    assert verdict(RULE, row(["M", "MC", "C"], [10.0, 0.0])) == "PASS"
    assert verdict(RULE, row(["M", "MC", "C"], [5.0, 5.0])) == "FAIL"
    assert verdict(RULE, row(["M", "C", "MC", "C"])) == "PASS"


def test_rows_are_judged_apart():
    here = panel(
        parts=[part()],
        devices=[
            (device("-A1", group=("M",)), (10, 100)),
            (device("-A2", group=("C",)), (50, 300)),
            (device("-A3", group=("M",)), (90, 100)),
        ],
    )
    assert {found.verdict for found in told(RULE, here)} == {"PASS"}


def brute_force(groups, gaps):
    """Try every choice: the widest narrowest gap, or None when every choice interleaves."""
    best = None
    for choice in itertools.product(*groups):
        blocks = [name for name, _ in itertools.groupby(choice)]
        if len(blocks) > len(set(blocks)):
            continue
        at = [gap for gap, (a, b) in zip(gaps, itertools.pairwise(choice), strict=True) if a != b]
        narrowest = min(at, default=float("inf"))
        best = narrowest if best is None else max(best, narrowest)
    return best


@pytest.mark.parametrize("seed", range(60))
def test_the_search_is_exact_against_trying_all(seed):
    dice = random.Random(seed)
    groups = ["".join(dice.sample("MCDS", dice.choice((1, 1, 2, 3)))) for _ in range(7)]
    gaps = [float(dice.randint(0, 15)) for _ in range(6)]
    split, _ = split_row(placed_devices(row(groups, gaps)))
    wanted = brute_force(groups, gaps)
    assert (split.gap if split else None) == (wanted if wanted is None else pytest.approx(wanted))


@pytest.mark.parametrize(("gap", "wanted"), [(16.0, "PASS"), (15.9, "FAIL")])
@pytest.mark.parametrize("covers", [{"cover_left": 6.0}, {"cover_right": 6.0}])
def test_the_gap_is_counted_between_covers(covers, gap, wanted):
    here = row(["M", "C"], [gap], covers=covers)
    assert verdict(RULE, here) == wanted


def test_groups_that_mix_name_what_stands_between():
    found = told(RULE, row(["M", "C", "M"]))[0]
    assert "-A1 (C) stands between -A2 (M) and the rest of its group" in found.message
    assert found.place.left == 110.0


def linked(link):
    """M, M, M in a row with a 24 V device joined to the middle one."""
    xs = {"-A1": (10, 100), "-A2": (60, 100), "-A3": (150, 100)}
    devices = [(device(tag, group=("M",)), place) for tag, place in xs.items()]
    joined = device("-B1", group=("D",), **link)
    return panel(parts=[part()], devices=[*devices, (joined, (100, 100))])


@pytest.mark.parametrize(
    ("link", "wanted"),
    [({"plugs_into": "-A2"}, "PASS"), ({"hangs_under": "-A2"}, "PASS"), ({}, "FAIL")],
)
def test_a_linked_device_goes_where_its_partner_goes(link, wanted):
    assert verdict(RULE, linked(link)) == wanted


def test_protective_earth_stands_with_any_group():
    here = panel(
        parts=[part()],
        devices=[
            (device(f"-A{n}", group=(letters,)), (10.0 + 40.0 * n, 100))
            for n, letters in enumerate(("M", "PE", "M"))
        ],
        job=replace(settings(), groups=(Group(name="M"), Group(name="PE", protective=True))),
    )
    assert {found.verdict for found in told(RULE, here)} == {"PASS"}


def over_rows(*rows):
    """Rows from the top down, groups named by letters; devices 40 wide, 10 apart."""
    placed = []
    for r, letters in enumerate(rows):
        for k, groups in enumerate(letters):
            tag = f"-A{r + 1}{k + 1}"
            place = (10.0 + 50.0 * k, 900.0 - 200.0 * r)
            placed.append((device(tag, group=tuple(groups)), place))
    return panel(parts=[part()], devices=placed, job=settings(limits={"group_gap": 10.0}))


def back_in(*rows):
    """Tags named as coming back in a later row; what mixes in one row is left out."""
    found = told(RULE, over_rows(*rows))
    return [f.subject for f in found if "comes back" in f.message]


@pytest.mark.parametrize(
    ("rows", "wanted"),
    [
        ((["M", "M"], ["M", "C"], ["C"]), []),
        ((["M", "C"], ["C", "D"]), []),  # read to the right
        ((["M", "C"], ["D", "C"]), []),  # read to the left: C stands below C
        ((["C", "M"], ["D", "C"]), []),  # read from the right
        ((["M"], ["C"], ["M"]), ["-A31"]),  # a row of others between
        ((["M"], ["C"], ["MC"]), []),  # stands for C there
        ((["M", "C", "D"], ["C"]), ["-A21"]),  # shut in between two others above
        ((["M", "C"], ["M", "C"]), ["-A21"]),
        ((["M"], ["C"], ["M"], ["C"]), ["-A31", "-A41"]),
    ],
)
def test_a_group_that_comes_back_in_a_later_row_is_told(rows, wanted):
    assert len(back_in(*rows)) == len(wanted)
    if len(wanted) != 1 or rows != (["M", "C"], ["M", "C"]):  # there, either may be told
        assert back_in(*rows) == wanted


def test_coming_back_is_practice_and_never_fails():
    found = [f for f in told(RULE, over_rows(["M"], ["C"], ["M", "M"])) if f.verdict != "PASS"]
    assert [(f.subject, f.verdict) for f in found] == [("-A31", "CAUTION")]
    assert "group M stands in row -A11 and comes back in row -A31 … -A32" in found[0].message
    assert "-A31 and 1 beside it" in found[0].cure
    assert (found[0].place.left, found[0].place.right) == (10.0, 100.0)


def test_what_mixes_in_one_row_is_not_told_again_over_the_rows():
    found = told(RULE, over_rows(["M", "C", "M"], ["C"]))
    assert [f.verdict for f in found].count("FAIL") == 1
    assert len(back_in(["M", "C", "M"], ["M"])) == 0


def fewest_back(rows):
    """Try every direction of every row and every group a device may stand for."""
    best = 99
    for turned in itertools.product((1, -1), repeat=len(rows)):
        path = [groups for row, way in zip(rows, turned, strict=True) for groups in row[::way]]
        for choice in itertools.product(*path):
            blocks = [name for name, _ in itertools.groupby(choice)]
            best = min(best, len(blocks) - len(set(blocks)))
    return best


@pytest.mark.parametrize("seed", range(80))
def test_the_way_through_the_rows_is_exact_against_trying_all(seed):
    dice = random.Random(seed)
    rows = [
        ["".join(dice.sample("MCDS", dice.choice((1, 1, 1, 2)))) for _ in range(dice.randint(1, 3))]
        for _ in range(dice.randint(2, 4))
    ]
    way = path_of(rows_of(placed_devices(over_rows(*rows))))
    names = [name for name, _ in itertools.groupby(zone.group for zone in way)]
    assert len(names) - len(set(names)) == fewest_back(rows)
