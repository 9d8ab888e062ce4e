"""Bases of ducts whose slots are not stated."""

from platewright.model.job import DuctStock

from ..builders import duct, panel, settings, told, verdict

RULE = "data.duct-slots"
SLOTTED = DuctStock(name="60x60", width=60.0, height=60.0, slot_pitch=25.0)
PLAIN = DuctStock(name="40x60", width=40.0, height=60.0)


def here(*stocks: str):
    ducts = {f"D{n}": duct(0, 80 * n, 100, stock=name) for n, name in enumerate(stocks, start=1)}
    return panel(job=settings(stock={"ducts": (SLOTTED, PLAIN)}), layout={"ducts": ducts})


def test_one_reading_a_size():
    (reading,) = told(RULE, here("40x60", "60x60", "40x60"))
    assert reading.verdict == "CAUTION"
    assert "duct 40x60" in reading.message
    assert "D1, D3 are drilled through" in reading.message
    assert "slot_pitch_mm" in reading.cure


def test_stated():
    assert verdict(RULE, here("60x60", "60x60")) == "PASS"


def test_no_duct_is_nothing_to_look_at():
    assert verdict(RULE, here()) == "NOT_APPLICABLE"
