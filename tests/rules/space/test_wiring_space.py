"""A device with its body from 100 to 180; 30 mm wanted to the wall of the duct."""

import pytest

from platewright.model.need import WiringSpace

from ..builders import boxes, device, duct, need, panel, part, told, verdict

RULE = "space.wiring-space"


def wired(*, stated=True, ducts=(), top=True, bottom=True, **fields):
    room = need(30, stated=stated)
    space = WiringSpace(top=room if top else None, bottom=room if bottom else None)
    return panel(
        **boxes((100, 100), **fields),
        wiring={"-A1": space},
        layout={"ducts": {f"U{n}": duct(0, y, 400) for n, y in enumerate(ducts)}},
    )


@pytest.mark.parametrize(("y", "wanted"), [(210, "PASS"), (210.1, "PASS"), (209.9, "FAIL")])
def test_duct_above(y, wanted):
    assert verdict(RULE, wired(ducts=(y,), bottom=False)) == wanted


@pytest.mark.parametrize(("y", "wanted"), [(30, "PASS"), (29.9, "PASS"), (30.1, "FAIL")])
def test_duct_below(y, wanted):
    assert verdict(RULE, wired(ducts=(y,), top=False)) == wanted


@pytest.mark.parametrize(("y", "wanted"), [(210, "PASS"), (209.9, "CAUTION")])
def test_room_from_practice_is_a_caution(y, wanted):
    assert verdict(RULE, wired(ducts=(y,), bottom=False, stated=False)) == wanted


def test_counted_from_the_body_not_from_the_cover():
    assert verdict(RULE, wired(ducts=(210,), bottom=False, cover_top=20.0)) == "PASS"


def test_a_side_without_wires_needs_no_room():
    assert verdict(RULE, wired(ducts=(181,), top=False)) == "PASS"


def test_a_device_in_the_way_counts_a_partner_does_not():
    space = {"-A1": WiringSpace(top=need(30), bottom=None)}
    above = panel(**boxes((100, 100), (100, 190)), wiring=space)
    (found,) = told(RULE, above)
    assert (found.verdict, found.measured) == ("FAIL", 10.0)
    linked = panel(
        parts=[part()],
        devices=[(device("-A1", hangs_under="-A2"), (100, 100)), (device("-A2"), (100, 180))],
        wiring=space,
    )
    assert verdict(RULE, linked) == "PASS"


def test_a_neighbours_cover_counts():
    space = {"-A1": WiringSpace(top=need(30), bottom=None)}
    above = panel(**boxes((100, 100), (100, 220), cover_bottom=12.0), wiring=space)
    (found,) = told(RULE, above)
    assert (found.verdict, found.measured) == ("FAIL", 28.0)
    assert (found.place.bottom, found.place.top) == (180.0, 210.0)
