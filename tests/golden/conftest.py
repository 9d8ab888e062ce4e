"""``--golden-update`` writes the expected drawings anew; a person looks at each change."""

import importlib.util
from pathlib import Path

import pytest


def pytest_addoption(parser):
    parser.addoption("--golden-update", action="store_true", help="write the expected files")


@pytest.fixture(scope="session")
def is_update(request):
    return request.config.getoption("--golden-update", default=False)


@pytest.fixture(scope="session")
def hand_made():
    """The panel and findings that the tests of the sheets use."""
    path = Path(__file__).parent.parent / "sheets" / "conftest.py"
    spec = importlib.util.spec_from_file_location("hand_made_panel", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module.make_panel(), module.FINDINGS
