"""One, two, three fixings."""

import pytest

from ..builders import duct, hole, panel, rail, told, verdict

RULE = "fabrication.fixing-count"


@pytest.mark.parametrize(("count", "wanted"), [(1, "FAIL"), (2, "PASS"), (3, "PASS")])
@pytest.mark.parametrize("kind", ["rails", "ducts"])
def test_count(kind, count, wanted):
    piece = {"rails": rail(0, 100, 300), "ducts": duct(0, 80, 300)}[kind]
    holes = {f"H{n}": hole(20 + 100 * n, 100, "P1") for n in range(count)}
    assert verdict(RULE, panel(layout={kind: {"P1": piece}, "holes": holes})) == wanted


def test_two_holes_in_one_place_hold_once():
    holes = {"H1": hole(50, 100, "R1"), "H2": hole(50, 100, "R1")}
    assert (
        verdict(RULE, panel(layout={"rails": {"R1": rail(0, 100, 300)}, "holes": holes})) == "FAIL"
    )


def test_a_layout_without_any_hole_is_undecided():
    (found,) = told(RULE, panel(layout={"rails": {"R1": rail(0, 100, 300)}}))
    assert found.verdict == "UNDECIDED"
