"""Values marked typical are shown as such."""

import pytest

from ..builders import boxes, panel, told, verdict

RULE = "data.typical"


@pytest.mark.parametrize(
    ("source", "wanted"),
    [("", "PASS"), ("data sheet", "PASS"), ("Typical of its width", "CAUTION")],
)
def test_source(source, wanted):
    here = panel(**boxes((1, 1), source=source))
    assert verdict(RULE, here) == wanted
    assert told(RULE, here)[0].source.document == "assumption"
