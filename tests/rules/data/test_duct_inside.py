"""Inside areas worked out from usual walls."""

import pytest

from platewright.model.routes import DuctLoad, Routes

from ..builders import duct, panel, told, verdict

RULE = "data.duct-inside"


@pytest.mark.parametrize(("assumed", "wanted"), [(False, "PASS"), (True, "CAUTION")])
def test_assumed(assumed, wanted):
    load = DuctLoad(duct="U1", at=0.0, wires=1, area=9.0, inside=2053.5, assumed=assumed)
    here = panel(
        layout={"ducts": {"U1": duct(0, 0, 100)}}, routes=Routes(wires={}, loads={"U1": load})
    )
    assert verdict(RULE, here) == wanted
    assert assumed is ("2054 mm²" in told(RULE, here)[0].message)
