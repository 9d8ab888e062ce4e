"""What ``plan`` says of its wire beside that of the plain plate."""

import pytest

from platewright.cli.plan import _compare
from platewright.cli.words import summed


@pytest.mark.parametrize(
    ("wire", "said"),
    [(90.0, "100.0 m, 10 % less."), (102.0, "100.0 m, 2 % more."), (100.1, "100.0 m.")],
)
def test_more_wire_is_called_more(capsys, wire, said):
    told = {
        "baseline_wire_m": 100.0, "baseline_fails": 0, "rows": 3, "stopped": False, "tried": 1,
        "iterations": 1, "seed": 1,
    }  # fmt: skip
    _compare(told, wire)
    first = capsys.readouterr().out.splitlines()[0]
    assert first.endswith(said)
    assert "-" not in first


@pytest.mark.parametrize(
    ("new", "old", "said"),
    [
        (8, 1, "8 bars and 1 off-cut"),
        (1, 2, "1 bar and 2 off-cuts"),
        (0, 1, "0 bars and 1 off-cut"),
        (9, 0, "9 bars"),
    ],
)
def test_off_cuts_from_the_store_are_not_counted_as_bars(new, old, said):
    told = {
        "placed": 1, "devices": 1, "wire_m": 1.0, "plate_used": 0.5, "duct_m": 1.0, "rail_m": 1.0,
        "holes": 4, "highest_fill": 0.3, "bars": new, "offcuts": old, "bars_proven": True,
    }  # fmt: skip
    assert summed(told).endswith(f" · {said}")
    assert summed(told | {"bars_proven": False}).endswith(f"{said} (may not be the fewest)")
