import importlib
import os
import pkgutil
import subprocess
import sys
from pathlib import Path

import pytest

import platewright.sheets
from platewright.sheets.registry import listing, listings, sheet, sheets


def test_sheets_come_in_the_order_of_the_bench():
    assert list(sheets()) == [
        "layout", "elevation", "purchase", "traveler", "cuts", "off-cuts", "holes", "fixings",
        "template", "door", "fasteners", "torques", "wires", "wire-labels", "terminals", "heat", "findings",
    ]  # fmt: skip


def test_every_list_is_found():
    assert list(listings()) == [
        "cuts", "devices", "door", "fasteners", "findings", "fixings", "heat", "holes", "offcuts", "purchase",
        "terminals", "torques", "wire-labels", "wire-totals", "wires",
    ]  # fmt: skip


def test_two_of_one_name_are_refused():
    with pytest.raises(ValueError, match="two sheets"):
        sheet(id="layout", title="again", place=1)(lambda *_: ())
    with pytest.raises(ValueError, match="two lists"):
        listing(id="holes", title="again")(lambda *_: None)


def test_importing_sheets_loads_no_writer():
    names = [
        f"platewright.sheets.{m.name}" for m in pkgutil.iter_modules(platewright.sheets.__path__)
    ]
    assert all(importlib.import_module(name) for name in names)
    words = (
        f"import sys; [__import__(n) for n in {names!r}]; "
        "sys.exit(bool({'reportlab', 'ezdxf', 'xlsxwriter', 'uharfbuzz'} & set(sys.modules)))"
    )
    source = Path(platewright.sheets.__file__).parents[2]
    run = subprocess.run(
        [sys.executable, "-c", words], check=False, env=os.environ | {"PYTHONPATH": str(source)}
    )
    assert run.returncode == 0
