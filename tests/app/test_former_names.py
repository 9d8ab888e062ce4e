"""Rails and ducts are called as before while they are the same pieces."""

from dataclasses import replace

from platewright.app.plans.former_names import with_former_names
from platewright.model.layout import Duct, Hole, HoleKind, HoleState, Layout, Rail, Run

RAILS = {
    "R1": Rail(x=60, y=700, length=400),
    "R2": Rail(x=60, y=500, length=300),
    "R3": Rail(x=60, y=300, length=300),
}
DUCT = Duct(x=40, y=60, length=700, width=40, height=60, run=Run.ACROSS, stock="40x60")
DRILLED = {
    "H1": Hole(x=1, y=1, kind=HoleKind.TAPPED, size="M5", drill=4.2, state=HoleState.DRILLED)
}
BEGUN = Layout(rails=RAILS, ducts={"D1": DUCT}, holes=DRILLED)


def test_a_row_put_in_between_renames_none() -> None:
    """The plan counts from the top down: what was R2 comes back as R3, and R3 as R4."""
    new = Rail(x=60, y=600, length=300)
    now = {"R1": RAILS["R1"], "R2": new, "R3": RAILS["R2"], "R4": RAILS["R3"]}
    for former in (BEGUN, replace(BEGUN, holes={})):
        assert with_former_names(former, replace(former, rails=now)).rails == RAILS | {"R4": new}


def test_a_piece_cut_longer_keeps_its_name_and_one_elsewhere_does_not() -> None:
    longer = replace(RAILS["R2"], length=340.0)
    now = {"R1": longer, "R2": Rail(x=380, y=700, length=80), "R3": replace(RAILS["R3"], y=310.0)}
    named = with_former_names(BEGUN, replace(BEGUN, rails=now)).rails
    assert named == {"R2": longer, "R4": now["R2"], "R5": now["R3"]}
    bare = replace(BEGUN, holes={})
    assert list(with_former_names(bare, replace(bare, rails=now)).rails) == ["R1", "R2", "R3"]


def test_a_duct_of_another_width_is_another_piece() -> None:
    wide = replace(DUCT, width=60.0, stock="60x60")
    assert with_former_names(BEGUN, replace(BEGUN, ducts={"D1": wide})).ducts == {"D2": wide}
    turned = Layout(ducts={"D2": DUCT, "D1": replace(DUCT, y=400.0)}, holes=DRILLED)
    assert with_former_names(BEGUN, turned).ducts == {"D1": DUCT, "D2": replace(DUCT, y=400.0)}
