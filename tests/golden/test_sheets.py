"""Drawings compared with those a person has looked at.

To accept a change: ``python3 run.py golden``, then look at each picture that differs.
"""

import io
from pathlib import Path

import ezdxf
import pytest

from platewright.sheets.documents import documents

EXPECTED = Path(__file__).parent / "expected"


@pytest.fixture(scope="module")
def files(hand_made):
    return documents(*hand_made)


def listed(data):
    """Return a DXF as sorted lines: type, layer and what places it."""
    lines = []
    for entity in ezdxf.read(io.StringIO(data.decode())).modelspace():
        kind, layer = entity.dxftype(), entity.dxf.layer
        if kind == "LWPOLYLINE":
            what = " ".join(f"{x:.3f},{y:.3f}" for x, y in entity.get_points("xy"))
        elif kind == "CIRCLE":
            c = entity.dxf.center
            what = f"{c.x:.3f},{c.y:.3f} r {entity.dxf.radius:.3f}"
        elif kind == "LINE":
            a, b = entity.dxf.start, entity.dxf.end
            what = f"{a.x:.3f},{a.y:.3f} {b.x:.3f},{b.y:.3f}"
        elif kind == "TEXT":
            at = entity.get_placement()[1]
            what = f"{at.x:.3f},{at.y:.3f} {entity.dxf.height:.3f} {entity.dxf.text}"
        else:
            at, end = entity.dxf.defpoint2, entity.dxf.defpoint3
            what = f"{at.x:.3f},{at.y:.3f} {end.x:.3f},{end.y:.3f} {entity.dxf.text}"
        lines.append(f"{kind} {layer} {what}")
    return "\n".join(sorted(lines)) + "\n"


def compare(name, text, *, is_update):
    path = EXPECTED / name
    if is_update:
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    assert text == path.read_text(encoding="utf-8")


@pytest.mark.parametrize("name", ["layout-1.svg", "holes-1.svg", "elevation-1.svg", "cuts-1.svg"])
def test_svg_is_as_looked_at(files, name, is_update):
    compare(name, files[name].decode(), is_update=is_update)


def test_dxf_is_as_looked_at(files, is_update):
    text = listed(files["layout.dxf"]).replace("-0.000", "0.000")
    compare("layout.dxf.txt", text, is_update=is_update)
