"""What ``plan`` says of its wire beside that of the plain plate."""

import pytest

from platewright.cli.plan import _compare


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
