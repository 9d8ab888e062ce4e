"""How far screws are turned: a usual torque gives way to what the plate's thread bears.

Limits from the worked table of the trade values (mild steel 216 N/mm², K 0.2, 0.6 of what strips):
M6 in 2 mm 3.8 N·m, M5 in 2 mm 2.6 N·m; aluminium shears at half of that.
"""

from dataclasses import replace

import pytest

from platewright.fabricate.torques import plate_bears, tightening
from platewright.model.layout import Hole, HoleKind, Layout, Placement, Rail

RAIL = Layout(rails={"R1": Rail(x=100, y=100, length=300)})


def hole(size, *, holds="R1", kind=HoleKind.TAPPED):
    return Hole(x=150, y=100, kind=kind, size=size, drill=4.2, holds=holds)


@pytest.mark.parametrize(
    ("size", "material", "thickness", "torque", "is_capped"),
    [
        ("M6", "steel", 2.0, 3.8, True),  # usual 4.0
        ("M6", "steel", 3.0, 4.0, False),
        ("M5", "steel", 2.0, 2.5, False),  # bears 2.6
        ("M5", "aluminium", 2.0, 1.25, True),  # half of 2.6, to the dial
        ("M5", "wood", 2.0, 2.5, False),  # strength not known: as usual
    ],
)
def test_usual_torque_is_capped_by_the_plate(
    make_job, size, material, thickness, torque, is_capped
):
    job = make_job(material=material, thickness=thickness)
    found = tightening(job, RAIL, hole(size))
    assert found.torque == pytest.approx(torque)
    assert bool(found.reason) == is_capped
    if is_capped:
        assert f"{thickness:.2f} mm {material} bears" in found.reason
        assert found.torque <= plate_bears(job, hole(size))


def test_a_nut_behind_the_plate_bears_the_usual_torque(make_job):
    job = make_job(material="aluminium", thickness=2.0)
    found = tightening(job, RAIL, hole("M5", kind=HoleKind.CLEARANCE))
    assert (found.torque, found.reason) == (2.5, "")


def test_what_the_device_states_is_not_changed_but_warned_of(make_job):
    job = make_job({"-T1": "drive"}, material="steel", thickness=2.0)
    parts = {**job.parts, "drive": replace(job.parts["drive"], screw="M6", mount_torque=5.0)}
    layout = Layout(devices={"-T1": Placement(x=100, y=100)})
    found = tightening(replace(job, parts=parts), layout, hole("M6", holds="-T1"))
    assert found.torque == 5.0
    assert found.reason == "plate bears 3.82 at most"
