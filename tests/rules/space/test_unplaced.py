"""The device list against the layout."""

import dataclasses

from platewright.model.device import Place

from ..builders import device, panel, part, told, verdict

RULE = "space.unplaced"


def listed(*devices):
    return panel(parts=[part()], devices=devices)


def test_all_placed():
    assert verdict(RULE, listed((device("-A1"), (1, 1)), (device("-A2"), (99, 1)))) == "PASS"


def test_one_left_out():
    (found,) = told(RULE, listed((device("-A1"), (1, 1)), (device("-A2"), None)))
    assert (found.subject, found.verdict) == ("-A2", "FAIL")


def test_door_devices_need_no_place_and_may_have_none():
    door = device("-P1", place=Place.DOOR)
    assert verdict(RULE, listed((device("-A1"), (1, 1)), (door, None))) == "PASS"
    (found,) = told(RULE, listed((device("-A1"), (1, 1)), (door, (50, 50))))
    assert (found.subject, found.verdict) == ("-P1", "FAIL")
    assert "belongs in the door" in found.message


def test_a_layout_without_any_device_is_told_once():
    (found,) = told(RULE, listed((device("-A1"), None), (device("-A2"), None)))
    assert found.verdict == "FAIL"
    assert "none of the 2 devices" in found.message


def test_what_is_not_in_the_list_is_told():
    here = listed((device("-A1"), (1, 1)))
    layout = dataclasses.replace(
        here.layout, devices={**here.layout.devices, "-Z9": here.layout.devices["-A1"]}
    )
    (found,) = told(RULE, dataclasses.replace(here, layout=layout))
    assert (found.subject, found.verdict) == ("-Z9", "FAIL")
    assert "is not in the device list" in found.message
