"""A fixing beside the slots of its piece. Rail: pitch 25, slots of 15, M5: 5.25 off the middle."""

import pytest

from platewright.model.job import DuctStock
from platewright.model.layout import Run

from ..builders import duct, hole, panel, rail, settings, told, verdict

RULE = "fabrication.fixing-slot"
SLOTTED = DuctStock(
    name="40x60", width=40.0, height=60.0, slot_pitch=50.0, slot_length=9.0, first_slot=20.0
)


@pytest.mark.parametrize(
    ("off", "wanted"),
    [(0.0, "PASS"), (5.25, "PASS"), (5.3, "CAUTION"), (-5.25, "PASS"), (-5.3, "CAUTION")],
)
def test_rail(off, wanted):
    here = panel(
        layout={
            "rails": {"R1": rail(100, 300, 200)},
            "holes": {"H1": hole(112.5, 300, "R1"), "H2": hole(287.5 + off, 300, "R1")},
        }
    )
    assert verdict(RULE, here) == wanted


@pytest.mark.parametrize(("off", "wanted"), [(2.25, "PASS"), (2.3, "CAUTION")])
def test_upright_duct_with_slots(off, wanted):
    """(9 - 5) / 2 and a quarter; slots at 20, 70, 120 from the lower end at 50."""
    here = panel(
        job=settings(stock={"ducts": (SLOTTED,)}),
        layout={
            "ducts": {"D1": duct(100, 50, 200, Run.UPRIGHT)},
            "holes": {"H1": hole(120, 70, "D1"), "H2": hole(120, 170 + off, "D1")},
        },
    )
    assert verdict(RULE, here) == wanted


@pytest.mark.parametrize(
    ("screw", "wanted"), [("M5", "PASS"), ("M6", "PASS"), ("1/4-20", "CAUTION"), ("M8", "CAUTION")]
)
def test_a_rail_s_screw_passes_a_slot_of_usual_width(screw, wanted):
    """6.2 mm (shop practice); 1/4 in is 6.35 mm (ASME B1.1)."""
    here = panel(
        job=settings(stock={"rail_screw": screw}),
        layout={
            "rails": {"R1": rail(100, 300, 200)},
            "holes": {"H1": hole(112.5, 300, "R1"), "H2": hole(287.5, 300, "R1")},
        },
    )
    (reading,) = (one for one in told(RULE, here) if one.subject == "TH35-7.5")
    assert reading.verdict.value == wanted
    assert reading.limit == pytest.approx(6.2)


@pytest.mark.parametrize(("off", "wanted"), [(0.0, "PASS"), (0.85, "PASS"), (0.9, "CAUTION")])
def test_a_hole_beside_the_line_of_slots(off, wanted):
    """A slot of 6.2 mm leaves an M5 screw 0.6 mm to each side, and a quarter for marking."""
    here = panel(
        layout={
            "rails": {"R1": rail(100, 300, 200)},
            "holes": {"H1": hole(112.5, 300, "R1"), "H2": hole(287.5, 300 + off, "R1")},
        }
    )
    (reading,) = (one for one in told(RULE, here) if "beside the line" in one.message)
    assert (reading.verdict.value, reading.measured) == (wanted, pytest.approx(off))


def test_it_says_which_way_and_how_many():
    here = panel(
        layout={
            "rails": {"R1": rail(100, 300, 200)},
            "holes": {"H1": hole(120, 300, "R1"), "H2": hole(277, 300, "R1")},
        }
    )
    (reading,) = (one for one in told(RULE, here) if "middle of a slot" in one.message)
    assert "(2 of 2 lie beside), fixing at 277.0 mm" in reading.message
    assert reading.cure == "Move it 10.5 mm right, or drill R1 there"
    assert reading.measured == pytest.approx(10.5)


def test_ducts_without_slots_and_pieces_without_fixings_are_not_looked_at():
    here = panel(
        layout={
            "ducts": {"D1": duct(0, 50, 200)},
            "rails": {"R1": rail(100, 300, 200)},
            "holes": {"H1": hole(33, 70, "D1")},
        }
    )
    assert verdict(RULE, here) == "NOT_APPLICABLE"
