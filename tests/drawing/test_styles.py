import pytest

from platewright.drawing.dxf import LINE_TYPES
from platewright.drawing.styles import STYLES, style_of

# ISO 128-2: pens grow by the root of two from 0.13 mm
PENS = {0.0, 0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0}


def test_pens_are_of_the_series():
    assert {style.pen for style in STYLES.values()} <= PENS


def test_every_dash_has_a_line_type_in_dxf():
    assert {style.dash for style in STYLES.values()} <= set(LINE_TYPES)


def test_a_layer_without_style_is_refused():
    with pytest.raises(KeyError):
        style_of("NO SUCH LAYER")
