"""Wishes that contradict each other are told whatever stands on the plate."""

from platewright.model.device import Device

from ..builders import panel, part, told, verdict, with_job

RULE = "space.wish-conflict"


def _panel(*devices: Device):
    return panel(parts=[part("box")], devices=[(d, (k * 50.0, 0.0)) for k, d in enumerate(devices)])


def _device(tag: str, **wishes: str) -> Device:
    return Device(tag=tag, part="box", **wishes)  # type: ignore[arg-type]


def test_a_contradiction_is_a_caution_with_the_wishes_named():
    here = _panel(_device("-A", before="-B"), _device("-B", before="-A"), _device("-C"))
    (found,) = told(RULE, here)
    assert found.verdict == "CAUTION"
    assert "-A before -B; -B before -A" in found.message
    assert "Take one of them out" in found.cure
    assert (found.place.left, found.place.right) == (0.0, 90.0)


def test_one_wish_against_a_fact():
    here = _panel(
        _device("-A"),
        _device("-B", plugs_into="-A"),
        _device("-C", plugs_into="-B", not_beside="-B"),
    )
    (found,) = told(RULE, here)
    assert "given that -C plugs into -B" in found.message


def test_agreeing_wishes_pass_and_none_are_not_looked_at():
    assert verdict(RULE, _panel(_device("-A", beside="-B"), _device("-B"))) == "PASS"
    assert verdict(RULE, _panel(_device("-A"))) == "NOT_APPLICABLE"


def test_where_the_plate_itself_is_too_narrow_no_wish_is_blamed():
    """Two devices of 40 mm, one plugged into the other, on a plate of 60 mm."""
    here = _panel(_device("-A"), _device("-B", plugs_into="-A"), _device("-C", beside="-A"))
    narrow = with_job(here, plate={"width": 60.0})
    (found,) = told(RULE, narrow)
    assert found.verdict == "CAUTION"
    assert "no wish can be obeyed" in found.message
    assert "they take 80 mm" in found.message
